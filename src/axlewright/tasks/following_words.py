"""Beads to come and thermometer readings as the bench reads them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from axlewright.plan.bead_words import clock_position, runs_along_axle
from axlewright.plan.pieces import PlannedBead
from axlewright.plan.replan.intent import Intent
from axlewright.plan.replan.outcome import NamedBead, ReplanReport, Way
from axlewright.plan.replan.standing import Standing
from axlewright.sheets.wording import turned
from axlewright.tasks.following_asked import Following
from axlewright.tasks.following_clock import BenchClock
from axlewright.units import format_clock, format_length, format_temperature

LONGER = 5.0
"""A wait that differs by less is the same: it is told in steps of five seconds [s]."""

WITHIN = 2.0
"""A reading this many standard deviations from what was expected still fits, nineteen times of twenty [1]."""

_SAME = ("from", "to", "direction", "turn_deg")
"""What of a bead to come is otherwise when it has changed, besides its wait."""


@dataclass(frozen=True)
class Ahead:
    """On which scale a way on is told.

    Args:
        now: the present [s].
        later: what comes before its first bead besides [s].
        turn: how the housing lies [deg].
    """

    now: float
    later: float
    turn: float


def beads_told(intent: Intent, way: Way, clock: BenchClock, ahead: Ahead) -> list[Following]:
    """The beads to come, in order.

    Args:
        intent: what was planned.
        way: the way on.
        clock: by which moments are told.
        ahead: on which scale the way is.
    """
    turn, told = ahead.turn, []
    for named in way.beads:
        told.append(_bead_told(intent, named, turn, way.limit_c))
        told[-1]["start_at"] = clock.at(max(named.bead.start_s, ahead.now), ahead.now, ahead.later)
        turn = named.bead.turn_deg
    return told


def _bead_told(intent: Intent, named: NamedBead, turn: float, limit_c: float) -> Following:
    bead, inch = named.bead, intent.bench.job.inch
    return {
        "tag": bead.tag,
        "number": bead.number,
        "attachment": bead.attachment,
        "seam": bead.seam,
        **_marks(intent, bead, inch),
        "direction": bead.direction,
        "turn_deg": bead.turn_deg,
        "turn": turned(bead.turn_deg),
        "turns": bead.turn_deg != turn,
        "position": _position(intent, bead),
        "part": named.part,
        "wait_s": round(bead.wait_s, 1),
        "arc_s": round(bead.arc_s, 1),
        "spot_c": round(bead.spot_c, 1),
        "spot": format_temperature(bead.spot_c, inch),
        "limit_c": round(limit_c, 1),
        "limit": format_temperature(limit_c, inch),
    }


def stop_mark(intent: Intent, bead: int, s: float) -> str:
    """The mark at an arc length on a bead's seam [m], as the shop reads it."""
    names, inch = intent.names, intent.bench.job.inch
    number = names.assembly.beads[bead].seam
    clock = clock_position(names.assembly.seams[number], s)
    return _mark(intent, number, clock, names.distance_of(number, s), s, inch)


def _marks(intent: Intent, bead: PlannedBead, inch: bool) -> Following:
    """From where to where, by the tape, the clock face or along the seam; and what that counts from."""
    seam = _seam(intent, bead)
    datum = "along the seam from its start"
    if bead.from_clock is not None:
        datum = "on the clock face"
    elif runs_along_axle(intent.names.lines[seam]):
        datum = "from the left flange"
    return {
        "from": _mark(intent, seam, bead.from_clock, bead.from_x, bead.from_s, inch),
        "to": _mark(intent, seam, bead.to_clock, bead.to_x, bead.to_s, inch),
        "datum": datum,
    }


def _mark(intent: Intent, seam: int, clock: float | None, x: float, s: float, inch: bool) -> str:
    """A mark as it may also be typed into a bead log."""
    if clock is not None:
        return format_clock(clock)
    return format_length(x if runs_along_axle(intent.names.lines[seam]) else s, inch)


def _seam(intent: Intent, bead: PlannedBead) -> int:
    return intent.names.assembly.beads[_number(intent, bead)].seam


def _number(intent: Intent, bead: PlannedBead) -> int:
    return intent.names.tags.index(bead.tag)


def _position(intent: Intent, bead: PlannedBead) -> str:
    """Welding position of a bead as the housing lies for it; "" where it was not worked out."""
    lies = intent.view.positions
    if bead.turn_deg not in lies.turns:
        return ""
    return str(lies.names[_number(intent, bead), lies.turns.index(bead.turn_deg)])


def changed(before: Sequence[Following], now: Sequence[Following]) -> list[str]:
    """Which of the beads to come are otherwise than the answer before had them.

    That beads were laid and the others moved up is no change; one that comes at another place among those left, from
    or to another mark, with another turn or wait is.
    """
    if not before:
        return []
    known, left = {bead["tag"]: bead for bead in before}, [bead["tag"] for bead in now]
    # What stood before the first that is still to come was laid meanwhile; what is missing behind it, too.
    expected = [bead["tag"] for bead in before if bead["tag"] in left]
    found = []
    for place, bead in enumerate(now):
        moved = expected[place] != bead["tag"] if place < len(expected) else bead["tag"] in known
        if moved or (bead["tag"] in known and _otherwise(known[bead["tag"]], bead, first=place == 0)):
            found.append(bead["tag"])
    return found


def _otherwise(before: Following, now: Following, first: bool) -> bool:
    """Whether a bead is told otherwise; the wait of the first grows by itself while nobody welds."""
    waits = 0.0 if first else abs(before["wait_s"] - now["wait_s"])
    return waits > LONGER or any(before[key] != now[key] for key in _SAME)


def drift(report: ReplanReport, standing: Standing, clock: BenchClock, inch: bool) -> list[Following]:
    """Thermometer readings so far, each beside what was expected of it."""
    return [
        {
            "at": clock.at(reading.time_s),
            "place": reading.place,
            "expected_c": round(reading.expected_c, 1),
            "measured_c": round(reading.read_c, 1),
            "expected": format_temperature(reading.expected_c, inch),
            "measured": format_temperature(reading.read_c, inch),
            "within": abs(reading.read_c - reading.expected_c) <= WITHIN * checked.spread,
            "used": reading.used,
            "doubt": reading.doubt,
        }
        for reading, checked in zip(report.readings, standing.readings, strict=True)
    ]
