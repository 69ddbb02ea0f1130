"""A seam unrolled as a straight strip: numbered beads, tacks, drain openings and a ruler below."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from statistics import median

from matplotlib.axes import Axes

from axlewright.sheets import ink
from axlewright.sheets.places import SeamWork
from axlewright.sheets.strip_marks import Frame, Row, draw_row
from axlewright.sheets.style import SOFT_INK
from axlewright.sheets.text import drawable, fitted, width_of

_SIDE = 9.0
_HEAD = 6.4
_TACKS = 5.8
_CELL = 10.5
_RULER = 8.9
_GAP = 2.8
_NARROWEST_BEAD = 7.0
_ROOMY_BEAD = 11.0
_MOST_ROWS = 5  # what a page holds
_HINT_TEXT = 6.8
_HINT_STRAIGHT = "from the left flange, at left"
_HINT_ROUND = "along the seam (from left flange)"


@dataclass(frozen=True)
class StripPanel:
    """One seam as a strip, in as many rows as its beads need to stay legible."""

    work: SeamWork
    inch: bool
    width: float

    @property
    def rows(self) -> tuple[Row, ...]:
        """The rows, broken where one bead ends."""
        return _rows(self.work, self.width - 2.0 * _SIDE)

    @property
    def height(self) -> float:
        """Least height on the page [mm]."""
        return _HEAD + len(self.rows) * (_TACKS + _CELL + _RULER) + _GAP

    def draw(self, axes: Axes, left: float, top: float, height: float) -> None:
        """Draw with the upper left corner at (left, top) [mm]; cells grow with what height is spare."""
        rows = self.rows
        cell = _CELL + (height - self.height) / len(rows)
        scale = (self.width - 2.0 * _SIDE) / max(row.high - row.low for row in rows)
        self._heading(axes, left, top)
        below = top - _HEAD
        for row in rows:
            frame = Frame(row, left + _SIDE, below - _TACKS - cell, scale, cell)
            draw_row(axes, self.work, frame, self.inch)
            below = frame.bottom - _RULER

    def _heading(self, axes: Axes, left: float, top: float) -> None:
        """Attachment and seam in words, and what the ruler counts from."""
        line = self.work.line
        hint = _HINT_STRAIGHT if self.work.along_axle else _HINT_ROUND
        room = self.width - width_of(hint, _HINT_TEXT) - 6.0
        words = f"{line.attachment} – {line.seam}"
        size = 10.5 if width_of(drawable(words), 10.5, bold=True) <= room else 9.0
        title = fitted(words, room, size, bold=True)
        ink.label(axes, left + 2.0, top - 3.2, title, size, ha="left", fontweight="bold")
        right = left + self.width - 2.0
        ink.label(axes, right, top - 3.2, hint, _HINT_TEXT, ha="right", color=SOFT_INK)


def wanted_width(work: SeamWork, half: float, full: float) -> float:
    """Half the page where beads are roomy enough on it, else all of it [mm]."""
    low, high = _extent(work)
    paper = _usual_bead(work) * (half - 2.0 * _SIDE) / max(high - low, 1e-9)
    return half if paper >= _ROOMY_BEAD else full


def _extent(work: SeamWork) -> tuple[float, float]:
    """Lowest and highest ruler reading of the seam and all on it [m]."""
    readings = [work.ruler(s) for bead in work.beads for s in (bead.from_s, bead.to_s)]
    readings += [work.ruler(float(s)) for s in (work.line.path_s[0], work.line.path_s[-1])]
    return min(readings), max(readings)


def _usual_bead(work: SeamWork) -> float:
    """Median length of a bead on the ruler; the whole seam where it has none [m]."""
    lengths = [abs(work.ruler(bead.to_s) - work.ruler(bead.from_s)) for bead in work.beads]
    return max(median(lengths), 1e-6) if lengths else work.line.length


def _rows(work: SeamWork, inner: float) -> tuple[Row, ...]:
    """Break the seam into equal rows, each break moved to the nearest end of a bead."""
    low, high = _extent(work)
    wanted = math.ceil(_NARROWEST_BEAD * (high - low) / (_usual_bead(work) * inner) - 1e-9)
    count = min(max(wanted, 1), _MOST_ROWS)
    ends = sorted({work.ruler(s) for bead in work.beads for s in (bead.from_s, bead.to_s)})
    targets = [low + (high - low) * k / count for k in range(1, count)]
    breaks = {min(ends, key=lambda end: abs(end - target)) for target in targets} - {low, high}
    edges = [low, *sorted(breaks), high]
    return tuple(Row(a, b, last=b == high) for a, b in itertools.pairwise(edges))
