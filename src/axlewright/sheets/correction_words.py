"""What to do about a crooked housing, in the words of drawings and sheets."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from axlewright import units
from axlewright.sheets import straightness_words as words
from axlewright.sheets import wording
from axlewright.straightness.correct.report import (
    CorrectionReport,
    LinesPlan,
    Outcome,
    PlannedLine,
    PressSet,
)
from axlewright.straightness.report import LimitCheck

_DECISIONS = {
    "leave it": "LEAVE IT",
    "correct": "CORRECT",
    "send out": "SEND OUT",
    "measure first": "MEASURE FIRST",
}
STOP = "STOP. Let it cool. Measure. Plan again."


def decision(report: CorrectionReport) -> str:
    """The decision in capitals, with the way that is recommended."""
    said = _DECISIONS[report.decision]
    if report.decision != "correct":
        return said
    if report.recommended is None:
        return f"{said}: no way found yet"
    return f"{said}: {report.recommended}{_how_many(report)}"


def _how_many(report: CorrectionReport) -> str:
    """How much work the recommended way is."""
    if report.recommended == "press":
        sets = [one for one in report.press.sets if not one.refused] if report.press else []
        return f", {_counted(len(sets), 'set')}" if sets else ""
    plan = next((plan for plan in report.lines if plan.way == report.recommended), None)
    return f", {_counted(len(plan.lines), 'line')}" if plan and plan.lines else ""


def _counted(number: int, what: str) -> str:
    return f"{number} {what}" + ("" if number == 1 else "s")


def plans_in_order(report: CorrectionReport) -> tuple[LinesPlan, ...]:
    """Plans of lines, the recommended one first."""
    return tuple(sorted(report.lines, key=lambda plan: plan.way != report.recommended))


def way_title(way: str, recommended: str | None) -> str:
    """Heading of a way."""
    return way.capitalize() + (", recommended" if way == recommended else "")


def stages(plan: LinesPlan) -> tuple[tuple[PlannedLine, ...], tuple[PlannedLine, ...]]:
    """Lines done before measuring, and the rest."""
    first = tuple(line for line in plan.lines if line.stage == 1)
    return first, tuple(line for line in plan.lines if line.stage != 1)


def turns_before(lines: Sequence[PlannedLine]) -> tuple[str, ...]:
    """How the housing is turned to lie before each line, or "" where it stays; the first one is always said."""
    lies = [None, *(line.turn for line in lines)]
    return tuple(
        wording.turned(now) if now is not None and now != before else "" for before, now in pairwise(lies)
    )


def clock(position: float) -> str:
    """Clock position on the tube: "5:30"."""
    return units.format_clock(position)


def torch(seconds: float) -> str:
    """How long the torch burns, to the second."""
    return f"{seconds:.0f} s"


def spent(plan: LinesPlan) -> str:
    """How many lines and how long, and how likely all limits are kept."""
    time = wording.typeset(units.format_duration(plan.bench_time))
    looked = f" chosen from {plan.candidates} places" if plan.candidates else ""
    return (
        f"{_counted(len(plan.lines), 'line')}{looked}, {time} at the bench from the first arc to the last. "
        f"All limits are kept in about {100.0 * plan.inside:.0f} of 100 cases."
    )


def outcome_rows(outcomes: Sequence[Outcome], inch: bool) -> list[list[str]]:
    """Name, what it may be, now, half with its band, done with its band."""
    return [
        [
            outcome.name,
            words.allowed(outcome.wanted, outcome.limit, outcome.unit, inch),
            words.value(outcome.now, outcome.unit, inch),
            words.value(outcome.half, outcome.unit, inch),
            words.band(outcome.half, outcome.unit, inch),
            words.value(outcome.done, outcome.unit, inch),
            words.band(outcome.done, outcome.unit, inch),
        ]
        for outcome in outcomes
    ]


def press_facts(one: PressSet, inch: bool) -> list[list[str]]:
    """What a push is reckoned with, name and value."""
    low, middle, high = (_plain(push, inch) for push in one.push)
    loads = [units.format_force(load, inch) for load in one.load]
    facts = [
        ["wanted set under the ram", _plain(one.wanted, inch)],
        ["wanted set as a kink", wording.typeset(units.format_angle(one.angle))],
        ["first push", _plain(one.first_push, inch)],
        ["push that leaves the set, most likely", middle],
        ["softest to strongest steel", wording.band(low, high)],
        ["load at that push", f"{loads[1]} ({wording.band(loads[0], loads[2])})"],
        ["of which springs back", _plain(one.spring_back, inch)],
        ["wall begins to dent at", units.format_force(one.dent_load, inch)],
        ["saddle along the tube", wording.length(one.saddle, inch)],
    ]
    strain, weld = one.worst_weld
    return facts + ([["most strained old weld", f"{100.0 * strain:.2f} % at the {weld}"]] if weld else [])


def press_limit(one: PressSet, inch: bool) -> str:
    """When to stop pushing, as one sentence."""
    wanted, farthest = _plain(one.wanted, inch), _plain(one.push[2], inch)
    return (
        f"Push, release, measure, and push a little farther only while the set is short of {wanted}. Never push "
        f"beyond {farthest}, and never load beyond {units.format_force(one.dent_load, inch)}."
    )


def press_where(one: PressSet, inch: bool) -> str:
    """Supports and ram in one sentence."""
    left, right = (wording.length(at, inch) for at in sorted(one.supports))
    return (
        f"{one.tube.capitalize()} tube: supports at {left} and {right}, ram at {wording.length(one.push_at, inch)} "
        f"on the {one.side} ({clock(one.clock)})."
    )


def press_refused(one: PressSet, inch: bool) -> str:
    """Where not to press, as one order."""
    place = f"{one.tube} tube at {wording.length(one.push_at, inch)}, {one.side} ({clock(one.clock)})"
    return f"DO NOT PRESS HERE: {place}"


def _plain(metres: float, inch: bool) -> str:
    """A small length without a plus."""
    return wording.deflection(metres, inch).removeprefix("+")


def as_outcomes(checks: Sequence[LimitCheck]) -> tuple[Outcome, ...]:
    """Limits as they stand now, where nothing is to be done about them."""
    return tuple(Outcome(c.name, c.unit, c.wanted, c.limit, c.figure, c.figure, c.figure) for c in checks)
