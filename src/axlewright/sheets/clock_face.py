"""A seam round the centre drawn as a clock face, seen from outside."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Wedge

from axlewright.plan.pieces import PlannedBead, PlannedTack
from axlewright.sheets import ink
from axlewright.sheets.places import SeamWork, clock_at
from axlewright.sheets.style import INK, NOW, PAPER, SOFT_INK, THICK, THIN
from axlewright.sheets.text import drawable, fitted, number_size

_HEAD = 6.4
_RING = 14.0
_OUTSIDE = 9.0
_INSIDE_TACK = 6.0
_LARGEST_RADIUS = 56.0


@dataclass(frozen=True)
class Ring:
    """Where the face stands on the page: centre and outer radius [mm]."""

    x: float
    y: float
    radius: float

    def point(self, clock: float, radius: float) -> tuple[float, float]:
        """Paper position at a clock position and a radius [mm]."""
        angle = math.radians(90.0 - 30.0 * clock)
        return self.x + radius * math.cos(angle), self.y + radius * math.sin(angle)

    def along(self, clock: float, forward: bool) -> tuple[float, float]:
        """Unit vector of travel at a clock position, clockwise where `forward`."""
        angle = math.radians(90.0 - 30.0 * clock)
        turn = 1.0 if forward else -1.0
        return turn * math.sin(angle), -turn * math.cos(angle)


@dataclass(frozen=True)
class ClockPanel:
    """One clock-face seam with its beads."""

    work: SeamWork
    width: float

    @property
    def height(self) -> float:
        """Height on the page [mm]."""
        return _HEAD + 2.0 * (self._radius + _OUTSIDE)

    @property
    def _radius(self) -> float:
        """Outer radius that leaves room for the words at both sides [mm]."""
        return min(self.width / 2.0 - _OUTSIDE, _LARGEST_RADIUS)

    def clock(self, s: float) -> float:
        """Clock position at arc length `s`."""
        return clock_at(self.work.line, s)

    def draw(self, axes: Axes, left: float, top: float, height: float) -> None:
        """Draw with the upper left corner at (left, top) [mm]."""
        line = self.work.line
        title = fitted(f"{line.attachment} – {line.seam}", self.width - 6.0, 10.5, bold=True)
        ink.label(axes, left + 2.0, top - 3.2, title, 10.5, ha="left", fontweight="bold")
        ring = Ring(left + self.width / 2.0, top - _HEAD - (height - _HEAD) / 2.0, self._radius)
        self._draw_ground(axes, ring)
        for number, opening in enumerate(line.openings, start=1):
            self._draw_opening(axes, ring, opening, number)
        for bead in self.work.beads:
            self._draw_bead(axes, ring, bead)
        for tack in self.work.tacks:
            self._draw_tack(axes, ring, tack)
        self._draw_face(axes, ring)

    def _draw_ground(self, axes: Axes, ring: Ring) -> None:
        """The whole seam as an empty ring with thick edges."""
        line = self.work.line
        ends = (self.clock(float(line.path_s[0])), self.clock(float(line.path_s[-1])))
        style = {"facecolor": PAPER, "edgecolor": INK, "linewidth": 2.0 * THICK}
        axes.add_patch(_sector(ring, ends, **style))

    def _draw_opening(self, axes: Axes, ring: Ring, opening: tuple[float, float], number: int) -> None:
        """A hatched sector with the order to leave it open outside the ring."""
        ends = (self.clock(opening[0]), self.clock(opening[1]))
        gid = drawable(f"opening-{self.work.line.attachment}-{self.work.line.seam}-{number}")
        style = {"facecolor": PAPER, "edgecolor": INK, "linewidth": THIN, "hatch_linewidth": THIN}
        axes.add_patch(_sector(ring, ends, hatch=ink.HATCH, gid=gid, **style))
        middle = sum(ends) / 2.0
        turn = 90.0 - 30.0 * middle
        x, y = ring.point(middle, ring.radius + 6.0)
        upright = (turn + 180.0) % 180.0 - 90.0
        ink.label(axes, x, y, "leave open", 7.5, rotation=upright)

    def _draw_bead(self, axes: Axes, ring: Ring, bead: PlannedBead) -> None:
        """A sector with its number and below it its name in small; the arrow runs outside the ring."""
        start, end = self.clock(bead.from_s), self.clock(bead.to_s)
        first = bead.number == 1
        style = {"edgecolor": NOW if first else INK, "linewidth": 2.2 * THICK if first else THIN}
        axes.add_patch(_sector(ring, (start, end), facecolor=PAPER, zorder=3 if first else 2, **style))
        x, y = ring.point((start + end) / 2.0, ring.radius - _RING / 2.0)
        width = abs(end - start) / 12.0 * 2.0 * math.pi * (ring.radius - _RING / 2.0)
        room = min(width, _RING)
        size = number_size(str(bead.number), 0.8 * room)
        style = {"fontweight": "bold", "gid": f"bead-{bead.number}", "zorder": 4}
        ink.label(axes, x, y + 0.11 * room, str(bead.number), size, **style)
        ink.bead_tag(axes, (x, y - 0.25 * room), bead, 0.8 * room)
        self._draw_travel(axes, ring, (start, end))

    def _draw_travel(self, axes: Axes, ring: Ring, ends: tuple[float, float]) -> None:
        """Hand of travel: an arc with a head, just outside the ring."""
        start, end = ends[0] + 0.12 * (ends[1] - ends[0]), ends[1] - 0.12 * (ends[1] - ends[0])
        radius = ring.radius + 2.6
        forward = end > start
        head = 2.4 / (2.0 * math.pi * radius) * 12.0 * (1.0 if forward else -1.0)
        points = [ring.point(clock, radius) for clock in np.linspace(start, end - head, 9)]
        ink.line(axes, tuple(p[0] for p in points), tuple(p[1] for p in points), THICK, NOW)
        ink.arrow_head(axes, ring.point(end, radius), ring.along(end - head / 2.0, forward))

    def _draw_tack(self, axes: Axes, ring: Ring, tack: PlannedTack) -> None:
        """A wedge pointing at the seam from inside, with its number."""
        clock = self.clock(tack.at_s)
        inner = ring.radius - _RING
        x, y = ring.point(clock, inner - 0.6)
        outwards = ring.point(clock, inner + 0.4)
        ink.tack_mark(axes, x, y, (outwards[0] - x, outwards[1] - y))
        place = ring.point(clock, inner - _INSIDE_TACK)
        ink.label(axes, *place, f"T{tack.number}", 7.0, gid=f"tack-{tack.number}")

    def _draw_face(self, axes: Axes, ring: Ring) -> None:
        """Hours, the side the face is seen from and which flange lies where."""
        inner = ring.radius - _RING - _INSIDE_TACK
        for hour in (12, 3, 6, 9):
            ink.label(axes, *ring.point(hour, inner - 7.0), f"{hour}", 13.0, color=SOFT_INK)
        ink.label(axes, ring.x, ring.y + 3.5, "seen from outside", 9.0)
        ink.label(axes, ring.x, ring.y - 1.5, "hours as on a clock", 7.5, color=SOFT_INK)
        words = _flange_words(self.work, self)
        if words:
            ink.label(axes, ring.x, ring.y - 6.0, words, 7.5, color=SOFT_INK)


def _flange_words(work: SeamWork, panel: ClockPanel) -> str:
    """Which hand the left flange is on, read from the seam's own path; empty where the path does not tell."""
    sideways = [math.sin(math.radians(30.0 * panel.clock(float(s)))) for s in work.line.path_s]
    tilt = float(np.dot(np.asarray(sideways), work.line.path_x - np.mean(work.line.path_x)))
    if abs(tilt) < 1e-9:
        return ""
    return f"left flange at {'9' if tilt > 0.0 else '3'} o'clock"


def _sector(ring: Ring, ends: tuple[float, float], **style: object) -> Wedge:
    """A piece of the ring between two clock positions."""
    low, high = sorted(90.0 - 30.0 * clock for clock in ends)
    if high - low >= 360.0 - 1e-6:
        low, high = 0.0, 360.0
    return Wedge((ring.x, ring.y), ring.radius, low, high, width=_RING, **style)
