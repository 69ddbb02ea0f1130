"""The marks on one row of an unrolled seam: beads, tacks, drain openings, ruler."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

from matplotlib.axes import Axes

from axlewright.plan.pieces import PlannedBead, PlannedTack
from axlewright.sheets import ink, wording
from axlewright.sheets.places import SeamWork, distance_at
from axlewright.sheets.style import INK, NOW, SOFT_INK, THICK
from axlewright.sheets.text import drawable, number_size, width_of

_RULER_TEXT = 7.5
_TACK_TEXT = 7.0
_TURNED_TACK_TEXT = 5.8
# Steps a tape can be read at without counting: mm, and inches.
_STEPS_MM = (10.0, 20.0, 50.0, 100.0, 200.0, 500.0)
_STEPS_INCH = (1.0, 2.0, 4.0, 6.0, 12.0, 24.0)


@dataclass(frozen=True)
class Row:
    """A stretch of a seam's ruler drawn on one line, from `low` to `high` [m]."""

    low: float
    high: float
    last: bool = True


@dataclass(frozen=True)
class Frame:
    """Where one row stands on the page: paper = left + (reading - low) * scale [mm]."""

    row: Row
    left: float
    bottom: float
    scale: float
    cell: float

    def paper(self, reading: float) -> float:
        """Paper position of a ruler reading, kept inside the row [mm]."""
        return self.left + (min(max(reading, self.row.low), self.row.high) - self.row.low) * self.scale

    def holds(self, reading: float) -> bool:
        """Whether a reading is drawn on this row; what lies on a break is drawn on the row after it."""
        end = self.row.high + 1e-9 if self.row.last else self.row.high - 1e-9
        return self.row.low - 1e-9 <= reading < end


def draw_row(axes: Axes, work: SeamWork, frame: Frame, inch: bool) -> None:
    """One row: strip, openings, beads, tacks, ruler."""
    left, right = frame.paper(frame.row.low), frame.paper(frame.row.high)
    ink.box(axes, (left, frame.bottom), (right - left, frame.cell))
    for number, opening in enumerate(work.line.openings, start=1):
        _draw_opening(axes, work, frame, opening, number)
    for bead in work.beads:
        if frame.holds((work.ruler(bead.from_s) + work.ruler(bead.to_s)) / 2.0):
            _draw_bead(axes, work, frame, bead)
    top = frame.bottom + frame.cell
    ink.line(axes, (left, right), (top, top), THICK)
    ink.line(axes, (left, right), (frame.bottom, frame.bottom), THICK)
    tacks = [tack for tack in work.tacks if frame.holds(work.ruler(tack.at_s))]
    _draw_tacks(axes, work, frame, tacks)
    _draw_ruler(axes, work, frame, inch)


def _draw_opening(
    axes: Axes, work: SeamWork, frame: Frame, opening: tuple[float, float], number: int
) -> None:
    """A hatched stretch with the order to leave it open, upright where it is narrow."""
    low, high = sorted((work.ruler(opening[0]), work.ruler(opening[1])))
    if high <= frame.row.low or low >= frame.row.high:
        return
    left, right = frame.paper(low), frame.paper(high)
    gid = f"opening-{work.line.attachment}-{work.line.seam}-{number}"
    ink.hatched(axes, (left, frame.bottom), (right - left, frame.cell), drawable(gid))
    roomy = right - left >= 9.5
    middle = ((left + right) / 2.0, frame.bottom + frame.cell / 2.0)
    ground = {"facecolor": "white", "edgecolor": "none", "boxstyle": "square,pad=0.15"}
    words, size, turn = ("leave\nopen", 7.5, 0) if roomy else ("leave open", 6.5, 90)
    ink.label(axes, *middle, words, size, rotation=turn, bbox=ground, linespacing=1.05)


def _draw_bead(axes: Axes, work: SeamWork, frame: Frame, bead: PlannedBead) -> None:
    """A cell with the bead's number over an arrow for the hand of travel, and its name in small below."""
    start, end = frame.paper(work.ruler(bead.from_s)), frame.paper(work.ruler(bead.to_s))
    left, width = min(start, end), abs(end - start)
    first = {"edgecolor": NOW, "linewidth": 2.2 * THICK, "zorder": 3} if bead.number == 1 else {}
    ink.box(axes, (left, frame.bottom), (width, frame.cell), **first)
    size = number_size(str(bead.number), 0.82 * width)
    middle = (start + end) / 2.0
    ink.label(
        axes,
        middle,
        frame.bottom + 0.68 * frame.cell,
        str(bead.number),
        size,
        fontweight="bold",
        gid=f"bead-{bead.number}",
        zorder=4,
    )
    reach = 0.36 * (end - start)
    height = frame.bottom + 0.38 * frame.cell
    ink.arrow(axes, (middle - reach, height), (middle + reach, height))
    ink.bead_tag(axes, (middle, frame.bottom + 0.14 * frame.cell), bead, 0.9 * width)


def _draw_tacks(axes: Axes, work: SeamWork, frame: Frame, tacks: list[PlannedTack]) -> None:
    """Wedges on the upper edge with T-numbers, upright where they stand close."""
    places = sorted(frame.paper(work.ruler(tack.at_s)) for tack in tacks)
    closest = min((b - a for a, b in itertools.pairwise(places)), default=99.0)
    widest = max((width_of(f"T{tack.number}", _TACK_TEXT) for tack in tacks), default=0.0)
    turned = closest < widest + 0.8
    size = _TURNED_TACK_TEXT if turned else _TACK_TEXT
    top = frame.bottom + frame.cell
    for tack in tacks:
        x = frame.paper(work.ruler(tack.at_s))
        ink.tack_mark(axes, x, top + 0.4)
        style = {"rotation": 90 if turned else 0, "va": "bottom", "gid": f"tack-{tack.number}"}
        ink.label(axes, x, top + 2.7, f"T{tack.number}", size, **style)


def _draw_ruler(axes: Axes, work: SeamWork, frame: Frame, inch: bool) -> None:
    """Graduations with their unit, and what they count."""
    unit = 0.0254 if inch else 0.001
    step = _step(_STEPS_INCH if inch else _STEPS_MM, frame.scale * unit, 17.0) * unit
    y = frame.bottom
    minor = step / 4.0 if inch else step / 5.0
    ink.ruler_ticks(axes, [frame.paper(reading) for reading in _readings(frame.row, minor)], y, 1.2)
    readings = _readings(frame.row, step)
    ink.ruler_ticks(axes, [frame.paper(reading) for reading in readings], y, 2.4)
    for reading in readings:
        x = frame.paper(reading)
        ink.label(axes, x, y - 4.3, wording.length(reading, inch), _RULER_TEXT, color=INK)
        if not work.along_axle:
            there = f"({wording.length(distance_at(work.line, reading), inch)})"
            ink.label(axes, x, y - 7.5, there, 6.5, color=SOFT_INK)


def _readings(row: Row, step: float) -> list[float]:
    """Multiples of a step that fall on a row [m]."""
    first, last = math.ceil(row.low / step - 1e-6), math.floor(row.high / step + 1e-6)
    return [k * step for k in range(first, last + 1)]


def _step(steps: tuple[float, ...], paper_per_unit: float, least: float) -> float:
    """The smallest step whose labels stand at least `least` mm apart on paper."""
    return next((step for step in steps if step * paper_per_unit >= least), steps[-1])
