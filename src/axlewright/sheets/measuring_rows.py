"""Boxes of the measuring sheet: a row for each station and each flange, empty or with what was read."""

from __future__ import annotations

import math
from dataclasses import dataclass

from axlewright import units
from axlewright.job.schema import Job
from axlewright.sheets import wording
from axlewright.sheets.plain_text import breakable
from axlewright.straightness.readings.reading import (
    Angle,
    Dot,
    FourPoint,
    Gap,
    Height,
    Reading,
    ReadingSet,
    Runout,
    Side,
    ToeTape,
)
from axlewright.straightness.readings.stations import Station, open_sides, stations

Cell = dict[str, object]
_NEAR = 0.001
"""How far a reading may stand from a station and still be written into its box [m]."""
_SENSES = ("camber", "toe", "caster", "level", "level on side")
FLANGE_ROWS: tuple[tuple[str, str, str], ...] = (
    ("camber, left", "plus: top outward", "angle camber left"),
    ("camber, right", "plus: top outward", "angle camber right"),
    ("toe, left", "plus: front edge inward", "angle toe left"),
    ("toe, right", "plus: front edge inward", "angle toe right"),
    ("caster, left", "plus: top rearward", "angle caster left"),
    ("caster, right", "plus: top rearward", "angle caster right"),
    ("level, bar from flange to flange", "plus: left end higher", "angle level across"),
    ("level, housing on its side", "plus: left end farther forward", "angle level on side across"),
    ("toe tape in front of the axle", "", "tape front"),
    ("toe tape behind the axle", "", "tape rear"),
    ("toe tape, diameter of the discs", "", "tape diameter"),
)
"""What is read at the flanges, what its sign means, and the box it goes into."""


@dataclass(frozen=True)
class Place:
    """A station with the sides its gaps are read on.

    Args:
        number: from the left.
        station: where.
        below: bottom, or top where something stands on the bottom.
        ahead: front, or rear.
    """

    number: int
    station: Station
    below: Side
    ahead: Side


def places(job: Job) -> tuple[Place, ...]:
    """The stations of a job with the sides that stay bare."""
    found = []
    for number, station in enumerate(stations(job), start=1):
        open_here = open_sides(job, station.at)
        below: Side = "top" if "bottom" not in open_here and "top" in open_here else "bottom"
        ahead: Side = "rear" if "front" not in open_here and "rear" in open_here else "front"
        found.append(Place(number, station, below, ahead))
    return tuple(found)


def station_rows(job: Job, filled: dict[str, list[Cell]]) -> list[dict[str, object]]:
    """A row for each station: number, distance, tube, the boxes, and a side other than usual to read the gap on."""
    return [
        {
            "number": str(place.number),
            "at": wording.length(place.station.at, job.inch),
            "tube": place.station.tube.removesuffix(" tube"),
            "below": "" if place.below == "bottom" else place.below,
            "ahead": "" if place.ahead == "front" else place.ahead,
            "boxes": [
                filled.get(f"{kind} {place.number}", []) for kind in ("below", "ahead", "total", "clock")
            ],
        }
        for place in places(job)
    ]


def flange_rows(filled: dict[str, list[Cell]]) -> list[dict[str, object]]:
    """A row for each reading at the flanges."""
    return [{"what": what, "sign": sign, "box": filled.get(box, [])} for what, sign, box in FLANGE_ROWS]


def fill(
    job: Job, readings: ReadingSet | None, odd: frozenset[int]
) -> tuple[dict[str, list[Cell]], list[dict[str, object]]]:
    """What was read, by the box it goes into, and rows for readings that have no box.

    Args:
        job: the job.
        readings: what was read, or None for a blank sheet.
        odd: lines of the file that do not go with the rest.
    """
    boxes: dict[str, list[Cell]] = {}
    others: list[dict[str, object]] = []
    known = places(job)
    for reading in readings.readings if readings else ():
        line = reading.origin.line
        found = _boxes(reading, known, job.inch)
        for box, text in found:
            boxes.setdefault(box, []).append({"text": text, "odd": line in odd, "line": str(line)})
        if not found:
            what, where, value = _in_words(reading, job.inch)
            setup = breakable(reading.origin.setup, 20)
            row = {"line": str(line), "what": what, "where": where, "setup": setup, "value": value}
            others.append({**row, "odd": line in odd})
    return boxes, others


def _boxes(reading: Reading, known: tuple[Place, ...], inch: bool) -> list[tuple[str, str]]:
    """Boxes of the sheet a reading goes into, with its text; none where it has no box."""
    if isinstance(reading, Angle):
        return [(f"angle {reading.sense} {reading.end}", wording.angle(math.degrees(reading.angle)))]
    if isinstance(reading, ToeTape):
        lengths = {"front": reading.front, "rear": reading.rear, "diameter": reading.diameter}
        return [(f"tape {name}", small(value, inch)) for name, value in lengths.items()]
    if not isinstance(reading, Gap | Runout):
        return []
    place = next((p for p in known if abs(p.station.at - reading.at) <= _NEAR), None)
    if place is None or (isinstance(reading, Runout) and reading.blocks is not None):
        return []
    if isinstance(reading, Runout):
        clock = units.format_clock(reading.clock)
        return [(f"total {place.number}", small(reading.total, inch)), (f"clock {place.number}", clock)]
    for box, side in (("below", place.below), ("ahead", place.ahead)):
        if side == reading.side:
            return [(f"{box} {place.number}", small(reading.gap, inch))]
    return []


def _in_words(reading: Reading, inch: bool) -> tuple[str, str, str]:
    """What, where and how much, for a reading that has no box."""
    if isinstance(reading, Dot):
        place = f"laser on {reading.end} flange, target at {wording.length(reading.distance, inch)}"
        up, forward = (wording.deflection(value, inch) for value in (reading.up, reading.forward))
        return "laser dot", place, f"up {up}, forward {forward}"
    assert isinstance(reading, Gap | Height | Runout | FourPoint)
    place = wording.length(reading.at, inch)
    if isinstance(reading, Gap):
        return "gap", f"{place}, {reading.side}", small(reading.gap, inch)
    if isinstance(reading, Height):
        return "height", f"{place}, {reading.side}", small(reading.height, inch)
    if reading.blocks is not None:
        left, right = (wording.length(block, inch) for block in reading.blocks)
        place += f", V-blocks at {left} and {right}"
    if isinstance(reading, Runout):
        high = units.format_clock(reading.clock)
        return "dial, whole turn", place, f"{small(reading.total, inch)}, high at {high}"
    marks = zip((12, 3, 6, 9), reading.readings, strict=True)
    spelled = [f"{hour}: {wording.deflection(value, inch)}" for hour, value in marks]
    return "dial at four marks", place, "; ".join(spelled)


def small(metres: float, inch: bool) -> str:
    """A reading of length as its gauge shows it, without a plus."""
    return wording.deflection(metres, inch).removeprefix("+")
