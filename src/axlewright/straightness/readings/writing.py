"""Writing readings back as CSV, in the job's own unit."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Mapping

from axlewright.job.schema import Job
from axlewright.straightness.readings.reading import (
    Angle,
    Dot,
    FourPoint,
    Gap,
    Height,
    Reading,
    ReadingSet,
    Runout,
    ToeTape,
)
from axlewright.straightness.readings.repeats import place_of
from axlewright.straightness.readings.table import COLUMNS
from axlewright.straightness.readings.usual import usual_errors
from axlewright.units import ANGLE, LENGTH, from_si

_LARGEST_FEELER_GAP = 0.025
"""A larger gap is read under a string [m]."""


def write_csv(readings: ReadingSet, job: Job) -> str:
    """Text of a CSV file that reads back as the same set, apart from line numbers and faults.

    Bare numbers are in the job's unit; errors are written out, so that they stay when the usual ones change.
    """
    seen: set[tuple[object, ...]] = set()
    rows = []
    for reading in readings.readings:
        place = place_of(reading)
        rows.append(_row(reading, job) | ({"note": "repeat"} if place in seen else {}))
        seen.add(place)
    columns = [name for name in COLUMNS if any(name in row for row in rows)] or ["kind"]
    text = io.StringIO()
    text.write(f"# name: {readings.name}\n")
    writer = csv.DictWriter(text, columns, lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue()


def _row(reading: Reading, job: Job) -> dict[str, str]:
    """Cells of a reading."""
    words, lengths, others = _cells(reading)
    setup = {"setup": reading.origin.setup}
    return words | setup | {name: length_cell(value, job) for name, value in lengths.items()} | others


def _cells(reading: Reading) -> tuple[dict[str, str], dict[str, float], dict[str, str]]:
    """Cells that are words, lengths [m], and what is neither."""
    error = reading.origin.error
    match reading:
        case Gap():
            words = {"kind": _gap_kind(reading), "side": reading.side}
            return words, {"at": reading.at, "gap": reading.gap, "error": error}, {}
        case Height():
            words = {"kind": "height", "side": reading.side}
            return words, {"at": reading.at, "height": reading.height, "error": error}, {}
        case Runout():
            lengths = {"at": reading.at, "total": reading.total, "error": error, **_blocks(reading.blocks)}
            clock = {"clock": number(reading.clock), "clock_error": _minutes(reading.clock_error)}
            return {"kind": "runout"}, lengths, clock
        case FourPoint():
            marks = zip(("at_12", "at_3", "at_6", "at_9"), reading.readings, strict=True)
            lengths = {"at": reading.at, "error": error, **dict(marks), **_blocks(reading.blocks)}
            return {"kind": "four-point"}, lengths, {}
        case Angle():
            words = {"kind": "angle", "end": reading.end, "sense": reading.sense}
            return words, {}, {"angle": _degrees(reading.angle), "error": _degrees(error)}
        case ToeTape():
            tape = {"front": reading.front, "rear": reading.rear, "diameter": reading.diameter}
            return {"kind": "toe"}, tape | {"error": error}, {}
        case Dot():
            target = {"distance": reading.distance, "up": reading.up, "forward": reading.forward}
            return {"kind": "dot", "end": reading.end}, target | {"error": error}, {}


def _gap_kind(gap: Gap) -> str:
    usual = gap.origin.error == usual_errors()["string"].error
    return "string" if usual or gap.gap > _LARGEST_FEELER_GAP else "gap"


def _blocks(blocks: tuple[float, float] | None) -> Mapping[str, float]:
    return {} if blocks is None else {"block_left": blocks[0], "block_right": blocks[1]}


def length_cell(metres: float, job: Job) -> str:
    """A length as a bare number in the job's unit."""
    return number(from_si(metres, LENGTH, job.inch))


def number(value: float) -> str:
    """A number without needless decimals."""
    return repr(float(value)).removesuffix(".0")


def _degrees(radians: float) -> str:
    """The shortest number of degrees that reads back as the same angle."""
    degrees = math.degrees(radians)
    shorter = (round(degrees, digits) for digits in range(ANGLE.digits + 1))
    return number(next((short for short in shorter if math.radians(short) == radians), degrees))


def _minutes(hours: float) -> str:
    """The shortest number of minutes that reads back as the same time on the clock face."""
    shorter = (round(60.0 * hours, digits) for digits in range(9))
    back = (short for short in shorter if round(round(60.0 * short, 6) / 3600.0, 9) == hours)
    return number(next(back, 60.0 * hours))
