"""All that the plan page shows, from the event's plan.json and the job file it stands on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from axlewright.errors import Fault, RecordError
from axlewright.tasks import wording
from axlewright.tasks.whence.answer import in_short
from axlewright.tasks.whence.facts import Facts
from axlewright.web.plan_sheet.beads import TackRow, TurnGroup, positions_met, tack_rows, turn_groups
from axlewright.web.plan_sheet.figures import Group, compared
from axlewright.web.plan_sheet.fixture import FixtureView, fixture_view
from axlewright.web.plan_sheet.matters import Matter, ShopView, matters, shop_view
from axlewright.web.plan_sheet.verdict import Verdict, verdict

FOLLOWS = ("heat-input", "fillet-leg", "fillet-throat", "cooling-time", "tack-strength", "tendon-force")
"""What follows from the welder's settings, by what explains it."""
_MAIN = ("bench-time", "hottest-spot", "distortion", "tack-load")


@dataclass(frozen=True)
class Glance:
    """One of the four counts, large: its name, ours, its band, common practice's, and what explains it."""

    figure: str
    label: str
    ours: str
    band: str
    common: str


@dataclass(frozen=True)
class PlanView:
    """A plan as its page shows it.

    Args:
        inch: whether it is written in inches and degF.
        verdict: is it a good plan.
        glances: the four counts.
        groups: all figures beside common practice.
        trade: the trade-off as plan.json has it, or None.
        turns: its beads in order, parted where the housing is turned.
        positions: welding positions that occur, in words.
        tacks: its tacks in order.
        longer: how many of them are longer than the job file's.
        fixture: shims and clamps, or None.
        follows: what follows from the welder's settings: figure, title and value.
        matters: what the figures depend on most.
        shop: the shop's own results used.
        samples: how many cases were drawn; 0 where none were.
        cautions: what to mind.
        left_out: what the prediction does not know.
    """

    inch: bool
    verdict: Verdict
    glances: tuple[Glance, ...]
    groups: tuple[Group, ...]
    trade: Any
    turns: tuple[TurnGroup, ...]
    positions: str
    tacks: tuple[TackRow, ...]
    longer: int
    fixture: FixtureView | None
    follows: tuple[tuple[str, str, str], ...]
    matters: tuple[Matter, ...]
    shop: ShopView | None
    samples: int
    cautions: tuple[str, ...]
    left_out: tuple[str, ...]


def plan_view(facts: Facts) -> PlanView:
    """The page's content for the plan among the facts.

    Raises:
        RecordError: plan.json is not as this version writes it.
    """
    try:
        return _view(facts)
    except (LookupError, TypeError) as error:
        allowed = "is not as this version of axlewright writes it"
        raise RecordError(Fault("plan.json", "", allowed, "Plan again.")) from error


def _view(facts: Facts) -> PlanView:
    plan, inch = facts.result("plan"), facts.job.inch
    groups = compared(plan, _limits(facts), inch)
    tacks = tack_rows(plan, inch)
    sure = plan["how_sure"]
    return PlanView(
        inch,
        verdict(plan, inch),
        _glances(groups),
        groups,
        plan["trade_off"],
        turn_groups(plan, inch),
        positions_met(plan),
        tacks,
        sum(tack.enlarged for tack in tacks),
        fixture_view(plan["fixture"], inch),
        tuple((name, *in_short(name, facts)) for name in FOLLOWS),
        matters(sure),
        shop_view(sure),
        0 if sure is None else sure["samples"],
        tuple(wording.sentence(words) for words in plan["cautions"]),
        tuple(wording.sentence(words) for words in plan["left_out"]),
    )


def _limits(facts: Facts) -> dict[str, float]:
    """Limits of the job in the units of plan.json."""
    job = facts.job
    found = {
        "spot": job.limits.spot,
        "bearing_seat": job.limits.bearing_seat,
        "seal": job.limits.seal,
        "tack": 1.0,
        "camber": job.straightness.camber,
        "toe": job.straightness.toe,
        "bow": None if job.straightness.bow is None else 1e3 * job.straightness.bow,
    }
    return {name: limit for name, limit in found.items() if limit is not None}


def _glances(groups: tuple[Group, ...]) -> tuple[Glance, ...]:
    rows = {row.plan.figure: row for group in groups for row in group.rows}
    labels = {"distortion": "distortion", "tack-load": "heaviest loaded tack", "hottest-spot": "hottest spot"}
    return tuple(
        Glance(
            name,
            labels.get(name, rows[name].plan.label),
            rows[name].ours.text,
            rows[name].ours.band,
            rows[name].common.text,
        )
        for name in _MAIN
        if name in rows
    )
