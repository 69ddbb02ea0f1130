"""What the weld page shows: beads and tacks in order, seams, cautions, and whether the arc may burn."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from axlewright.record.state import State
from axlewright.tasks import wording
from axlewright.web.plan_sheet.beads import BeadRow, TackRow, tack_rows, turn_groups
from axlewright.web.weld_sheet.strips import Strip, strips

READY = "ready for the arc"
"""The hold point that is signed before an arc burns."""

TO_HOLD = 3
"""So many tacks hold a part before it is tacked all round."""


@dataclass(frozen=True)
class Held:
    """Why no arc may burn yet.

    Args:
        says: in a few words.
        why: in a sentence.
        path: where it is put right, after /jobs/{job}.
        does: what is done there, as a button says it.
    """

    says: str
    why: str
    path: str
    does: str


@dataclass(frozen=True)
class WeldView:
    """What the page shows of a plan.

    Args:
        plan: number of the plan's event.
        inch: whether marks are in inches.
        datum: where marks count from.
        rows: the beads in order.
        strips: the seams.
        tacks: the tacks in order.
        cautions: what to mind.
        lengths: how long each bead is, in mm or inches as a tape shows them, by its name.
    """

    plan: int
    inch: bool
    datum: str
    rows: tuple[BeadRow, ...]
    strips: tuple[Strip, ...]
    tacks: tuple[TackRow, ...]
    cautions: tuple[str, ...]
    lengths: dict[str, str]

    @property
    def holding(self) -> tuple[TackRow, ...]:
        """The tacks that hold the parts."""
        return self.tacks[:TO_HOLD]

    @property
    def all_round(self) -> tuple[TackRow, ...]:
        """The tacks after them."""
        return self.tacks[TO_HOLD:]


def weld_view(plan: Any, number: int) -> WeldView:
    """What the page shows of a plan.

    Args:
        plan: content of plan.json.
        number: of its event.
    """
    inch = plan["job"]["units"] == "inch"
    rows = tuple(row for group in turn_groups(plan, inch) for row in group.rows)
    lengths = {
        bead["tag"]: wording.length(1e-3 * abs(bead["to_s_mm"] - bead["from_s_mm"]), inch)
        for bead in plan["beads"]
    }
    return WeldView(
        number,
        inch,
        plan["job"]["datum"],
        rows,
        strips(plan["beads"]),
        tack_rows(plan, inch),
        tuple(plan["cautions"]),
        lengths,
    )


def held(state: State) -> Held | None:
    """Why no arc may burn yet; None where the hold point before it is signed and nothing changed since."""
    stage = next(s for s in state.stages if s.hold_point is not None and s.hold_point.name == READY)
    path = f"stages/{stage.plan.name}#hold-point"
    if stage.signed is None:
        why = f'The hold point "{READY}" is signed at the housing before the first arc.'
        return Held("Not signed yet", why, path, "Look and sign")
    if stage.signed.changes:
        why = f'What "{READY}" covers was changed since it was signed. Look once more and sign it.'
        return Held("Changed since it was signed", why, path, "Look and sign again")
    if not stage.signed.complete:
        why = f'Not every line of "{READY}" was found so.'
        return Held("Not every line was found so", why, path, "Look at the rest and sign")
    return None


def laid(state: State) -> tuple[str, ...]:
    """Names of the beads whose arc was stopped by the log, once each, in the order of the log."""
    stops = (event.body["bead"] for event in state.of_kind("bench") if event.body["event"] == "stop")
    return tuple(dict.fromkeys(tag for tag in stops if tag))
