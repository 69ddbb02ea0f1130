"""The kinds of readings a file may hold, and how each is made of its cells."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import cast, get_args

from axlewright.errors import Fault, ReadingsError
from axlewright.straightness.readings.cells import Cells
from axlewright.straightness.readings.reading import (
    Angle,
    Dot,
    End,
    FourPoint,
    Gap,
    Height,
    Origin,
    Reading,
    Runout,
    Sense,
    Side,
    ToeTape,
)
from axlewright.straightness.readings.table import MEASURED
from axlewright.units import show

_SIDES = cast("tuple[Side, ...]", get_args(Side))
_SENSES = cast("tuple[Sense, ...]", get_args(Sense))

LARGEST_ANGLE = 5.0
"""Camber, toe and level beyond this are no housing's, more likely minutes of arc without their mark [deg]."""

_LARGEST_CASTER = 20.0
"""Flanges are built with caster, some with more than ten degrees [deg]."""

_LEAST_BETWEEN_BLOCKS = 0.1
"""Closer V-blocks leave the housing to tip, and tell nothing of the axis [m]."""

UNKNOWN_CLOCK = 3.464
"""Standard deviation of a clock position that is not known at all, 12 h / sqrt(12) [h]."""

_POSITIVE: dict[Sense, str] = {
    "camber": "top outward",
    "toe": "toe-in, front edge inward,",
    "caster": "top rearward",
    "level": "left end higher",
    "level on side": "left end farther forward",
}


@dataclass(frozen=True)
class ReadingKind:
    """A kind of reading.

    Args:
        make: its reading of the cells.
        measured: columns of what is measured.
    """

    make: Callable[[Cells], Reading]
    measured: tuple[str, ...]


def reading_of(kind: ReadingKind, cells: Cells) -> Reading:
    """The reading in one line.

    Raises:
        ReadingsError: the line cannot be used.
    """
    if re.fullmatch(r"[0-9]{1,3}", cells.row.get("note")) and not cells.row.decimal_comma:
        allowed = "a note is words; a bare number may be the rest of a decimal comma"
        remedy = "Write decimals with a point, or separate the cells by semicolons."
        raise ReadingsError(Fault("note", show(cells.row.get("note")), allowed, remedy))
    for column in MEASURED:
        if cells.row.get(column) and column not in kind.measured:
            allowed = f"a reading of kind {show(cells.row.get('kind'))} has no {column}"
            remedy = "Check the kind, and whether the cells are under their columns."
            raise ReadingsError(Fault(column, show(cells.row.get(column)), allowed, remedy))
    return kind.make(cells)


def _gap(cells: Cells) -> Reading:
    at, tube = cells.station()
    # A straightedge lies on one tube; the centre stands proud of both.
    return _gap_under(cells, "gap", f"straightedge on {tube}", 0.025, at)


def _string(cells: Cells) -> Reading:
    at, _ = cells.station()
    return _gap_under(cells, "string", "string", 0.4, at)


def _gap_under(cells: Cells, kind: str, usual_setup: str, most: float, at: float) -> Gap:
    side = cast("Side", cells.word("side", _SIDES))
    cells.refuse_perch(at, side)
    gap = cells.length("gap", 0.0, most)
    return Gap(_origin(cells, kind, usual_setup), at, side, gap)


def _height(cells: Cells) -> Reading:
    at, _ = cells.station()
    side = cast("Side", cells.word("side", ("top", "bottom")))
    cells.refuse_perch(at, side)
    height = cells.length("height", -0.5, 2.5)
    return Height(_origin(cells, "height", "flat surface"), at, "top" if side == "top" else "bottom", height)


def _runout(cells: Cells) -> Reading:
    at, blocks, setup = _turned(cells)
    total, origin = cells.length("total", 0.0, 0.05), _origin(cells, "runout", setup)
    if total <= 2.0 * origin.error and not cells.row.get("clock"):
        return Runout(origin, at, total, 12.0, UNKNOWN_CLOCK, blocks)
    return Runout(origin, at, total, cells.clock(), cells.clock_error(), blocks)


def _four_point(cells: Cells) -> Reading:
    at, blocks, setup = _turned(cells)
    top, front, bottom, rear = (cells.length(f"at_{hour}", -0.05, 0.05) for hour in (12, 3, 6, 9))
    return FourPoint(_origin(cells, "four-point", setup), at, (top, front, bottom, rear), blocks)


def _turned(cells: Cells) -> tuple[float, tuple[float, float] | None, str]:
    """Where a dial stands, where the V-blocks are, and the usual name of such a set-up."""
    at, _ = cells.station()
    cells.refuse_perch(at, None)
    if not (cells.row.get("block_left") or cells.row.get("block_right")):
        return at, None, "between centres"
    left, right = cells.station("block_left")[0], cells.station("block_right")[0]
    if right - left < _LEAST_BETWEEN_BLOCKS:
        shown = show(cells.row.get("block_right"))
        allowed = f"must be at least {cells.shop(_LEAST_BETWEEN_BLOCKS)} to the right of block_left"
        remedy = "Both count from the left flange; put the blocks near the ends."
        raise ReadingsError(Fault("block_right", shown, allowed, remedy))
    return at, (left, right), "V-blocks"


def _angle(cells: Cells) -> Reading:
    sense = cast("Sense", cells.word("sense", _SENSES))
    if sense.startswith("level") and not cells.row.get("end"):
        end: End = "across"
    else:
        ends = ("across",) if sense.startswith("level") else ("left", "right")
        end = cast("End", cells.word("end", ends))
    wanted = abs(getattr(cells.job.straightness, f"{sense}_wanted", 0.0))
    largest = _LARGEST_CASTER if sense == "caster" else LARGEST_ANGLE + wanted
    degrees = cells.degrees(-largest, largest, _POSITIVE[sense])
    lies = "on its side" if sense in ("toe", "level on side") else "as on the vehicle"
    return Angle(_origin(cells, "angle", lies), end, sense, math.radians(degrees))


def _toe(cells: Cells) -> Reading:
    front, rear = cells.length("front", 0.3, 4.0), cells.length("rear", 0.3, 4.0)
    diameter = cells.length("diameter", 0.1, 1.6)
    most = 2.0 * diameter * math.sin(math.radians(LARGEST_ANGLE))
    if abs(front - rear) > most:
        allowed = f"differs from front by {cells.shop(abs(front - rear))}, at this diameter more than any toe"
        remedy = "Read the tape again in front and behind, and check the diameter."
        raise ReadingsError(Fault("rear", show(cells.row.get("rear")), allowed, remedy))
    return ToeTape(_origin(cells, "toe", "toe tape"), front, rear, diameter)


def _dot(cells: Cells) -> Reading:
    end = "left" if cells.word("end", ("left", "right")) == "left" else "right"
    distance = cells.length("distance", 0.3, 30.0)
    most = round(distance * math.tan(math.radians(LARGEST_ANGLE)), 9)
    up, forward = (cells.length(column, -most, most) for column in ("up", "forward"))
    origin = Origin(cells.row.line, cells.setup(f"laser on {end} flange"), _dot_error(cells, distance))
    return Dot(origin, "left" if end == "left" else "right", distance, up, forward)


def _dot_error(cells: Cells, distance: float) -> float:
    """What a dot may be off, told as a length or as an angle of the beam [m]."""
    if not cells.row.get("error"):
        return cells.errors.dot(distance)
    if any(mark in cells.row.get("error").casefold() for mark in ("deg", "°", "arc")):
        return round(distance * math.tan(math.radians(cells.said_error("error", "beam"))), 9)
    return cells.said_error("error", "dot")


def _origin(cells: Cells, kind: str, usual_setup: str) -> Origin:
    return Origin(cells.row.line, cells.setup(usual_setup), cells.error(kind))


KINDS: Mapping[str, ReadingKind] = {
    "gap": ReadingKind(_gap, ("gap",)),
    "string": ReadingKind(_string, ("gap",)),
    "height": ReadingKind(_height, ("height",)),
    "runout": ReadingKind(_runout, ("total", "clock")),
    "four-point": ReadingKind(_four_point, ("at_12", "at_3", "at_6", "at_9")),
    "angle": ReadingKind(_angle, ("angle",)),
    "toe": ReadingKind(_toe, ("front", "rear")),
    "dot": ReadingKind(_dot, ("up", "forward")),
}
"""Kinds by the word for them in column `kind`."""
