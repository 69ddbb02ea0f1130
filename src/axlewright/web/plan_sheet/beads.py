"""The beads and tacks of a plan as the bench needs them: marks on the tape, hand of travel, waits, turns."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import Any

from axlewright.tasks import wording

_ARROWS = {
    "to the left": "←",
    "to the right": "→",
    "forward": "↑",
    "rearward": "↓",
    "up": "↑",
    "down": "↓",
    "clockwise": "↻",
    "anticlockwise": "↺",
}
_LEAST_SLOPE = 0.5
"""A tape on the flange tells both ends of a bead apart where it reads at least half of what the seam does."""


@dataclass(frozen=True)
class BeadRow:
    """A bead in the list.

    Args:
        number: place in the order.
        tag: its name.
        attachment: what is welded on.
        seam: which of its seams.
        marks: from where to where, as "12 3/4 to 14 3/4 in".
        along: both marks along the seam from its start, where a tape on the flange does not tell; else "".
        direction: hand of travel in words.
        arrow: the same as a sign.
        wait: planned cool-down before it, or "".
        turn: how the housing is turned before it, or "" where it stays.
        position: of ISO 6947, or "".
        spot: spot temperature expected there.
        heat: heat that enters the steel.
        why: why it is next.
    """

    number: int
    tag: str
    attachment: str
    seam: str
    marks: str
    along: str
    direction: str
    arrow: str
    wait: str
    turn: str
    position: str
    spot: str
    heat: str
    why: str


@dataclass(frozen=True)
class TurnGroup:
    """Beads welded one after another as the housing lies."""

    lies: str
    turned: bool
    rows: tuple[BeadRow, ...]

    @property
    def numbers(self) -> str:
        """Which beads, in words."""
        first, last = self.rows[0].number, self.rows[-1].number
        return f"bead {first}" if first == last else f"beads {first} to {last}"


@dataclass(frozen=True)
class TackRow:
    """A tack in the list."""

    number: int
    tag: str
    attachment: str
    seam: str
    at: str
    along: str
    length: str
    enlarged: bool
    wait: str


def turn_groups(entry: Any, inch: bool) -> tuple[TurnGroup, ...]:
    """Beads of a plan in order, parted where the housing is turned.

    Args:
        entry: a plan of plan.json.
        inch: whether marks are in inches.
    """
    across, lay, found = _across(entry), 0.0, []
    for degrees, beads in groupby(entry["beads"], key=lambda bead: bead["turn_deg"]):
        turned = degrees != lay
        lay = degrees
        lies = wording.turned(degrees)
        rows = tuple(
            _bead(bead, lies if turned and k == 0 else "", _seam(bead) in across, inch)
            for k, bead in enumerate(beads)
        )
        found.append(TurnGroup(lies, turned, rows))
    return tuple(found)


def tack_rows(entry: Any, inch: bool) -> tuple[TackRow, ...]:
    """Tacks of a plan in order."""
    across = _across(entry)
    return tuple(_tack(tack, _seam(tack) in across, inch) for tack in entry["tacks"])


def positions_met(entry: Any) -> str:
    """What the welding positions that occur are called."""
    return wording.positions(bead["position"] for bead in entry["beads"])


def _bead(bead: Any, turn: str, across: bool, inch: bool) -> BeadRow:
    marks, along = _marks(bead, across, inch)
    return BeadRow(
        bead["number"],
        bead["tag"],
        bead["attachment"],
        bead["seam"],
        marks,
        along,
        bead["direction"],
        _ARROWS.get(bead["direction"], ""),
        wording.wait(bead["wait_s"]),
        turn,
        bead["position"],
        wording.temperature(bead["spot_c"], inch),
        f"{bead['heat_kj']:.1f} kJ",
        wording.sentence(bead["why"]),
    )


def _marks(bead: Any, across: bool, inch: bool) -> tuple[str, str]:
    """Where a bead starts and stops on the tape or the clock, and along its seam where the tape does not tell."""
    if bead["from_clock"] is not None and bead["to_clock"] is not None:
        return wording.band(wording.clock(bead["from_clock"]), wording.clock(bead["to_clock"])), ""
    start, end = (wording.length(1e-3 * bead[f"{side}_mm"], inch) for side in ("from", "to"))
    if not across:
        return wording.band(start, end), ""
    low, high = (wording.length(1e-3 * bead[f"{side}_s_mm"], inch) for side in ("from", "to"))
    there = start if start == end else wording.band(start, end)
    return there, f"seam {wording.band(low, high)}"


def _seam(piece: Any) -> tuple[str, str]:
    return piece["attachment"], piece["seam"]


def _across(entry: Any) -> set[tuple[str, str]]:
    """Seams on which a tape on the flange does not tell some bead's ends apart: marks count along them too."""
    return {
        _seam(bead)
        for bead in entry["beads"]
        if bead["from_clock"] is None
        and abs(bead["to_mm"] - bead["from_mm"]) < _LEAST_SLOPE * abs(bead["to_s_mm"] - bead["from_s_mm"])
    }


def _tack(tack: Any, across: bool, inch: bool) -> TackRow:
    along = ""
    if tack["clock"] is not None:
        at = wording.clock(tack["clock"])
    else:
        at = wording.length(1e-3 * tack["at_mm"], inch)
        along = f"seam {wording.length(1e-3 * tack['at_s_mm'], inch)}" if across else ""
    return TackRow(
        tack["number"],
        tack["tag"],
        tack["attachment"],
        tack["seam"],
        at,
        along,
        wording.length(1e-3 * tack["length_mm"], inch),
        tack["enlarged"],
        wording.wait(tack["wait_s"]),
    )
