"""Where the words of many points go, so that none covers another, a point or a line that leads to one."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import product

import numpy as np

from axlewright.solid.mesh import Floats

Box = tuple[float, float, float, float]
"""Left, bottom, right, top of a box, or the two ends of a line [mm]."""

_MARGIN = 0.6
_GAPS = (0.9, 3.0, 6.0, 10.0, 15.0, 21.0, 28.0, 36.0)
_WAYS = 24
_UPRIGHT = 0.4
_LEADER_FROM = 1.5
"""Gap between point and words [mm] above which a thin line joins them."""


@dataclass(frozen=True)
class Spot:
    """A point on paper that words belong to: centre and radius kept free [mm]."""

    x: float
    y: float
    radius: float


@dataclass(frozen=True)
class Words:
    """Words placed.

    Args:
        choice: which of the offered sizes.
        box: where they stand [mm].
        lean: where in the box short lines stand to be near the point: 0 at its left, 0.5 in the middle, 1 at its right.
        leader: the line that leads to them, or None where they stand right beside their point.
    """

    choice: int
    box: Box
    lean: float
    leader: Box | None


@dataclass
class Sheet:
    """What is taken on a piece of paper: all spots from the start, boxes and leaders as they are placed.

    Args:
        frame: (left, bottom, right, top) that words must stay in [mm].
        spots: every point drawn, whether it gets words or not.
        over_points: whether leaders may run over other points, as a last way out of a crowd.
    """

    frame: Box
    spots: Sequence[Spot]
    over_points: bool = False
    boxes: list[Box] = field(default_factory=list)
    leaders: list[Box] = field(default_factory=list)

    def clean(self, *, over_points: bool = False) -> Sheet:
        """The same paper with nothing written on it yet."""
        return Sheet(self.frame, self.spots, over_points)

    def place(self, number: int, sizes: Sequence[tuple[float, float]]) -> Words | None:
        """Find room beside spot `number` for the first of several sizes (width, height) that has any [mm].

        Returns:
            The words placed, nearest free place first; None where none of the sizes fits anywhere.
        """
        for over in (False, True)[: 1 + self.over_points]:
            for choice, size in enumerate(sizes):
                for gap, angle in product(_GAPS, _ANGLES):
                    words = self._tried(number, (choice, size), gap, angle, over)
                    if words is not None:
                        return words
        return None

    def _tried(
        self, number: int, offer: tuple[int, tuple[float, float]], gap: float, angle: float, over: bool
    ) -> Words | None:
        """The words at one place, kept if it is free."""
        spot, (choice, size) = self.spots[number], offer
        c, s = math.cos(angle), math.sin(angle)
        # From the middle of the box to its edge on the way to the point.
        half = min(size[0] / 2.0 / max(abs(c), 1e-9), size[1] / 2.0 / max(abs(s), 1e-9))
        far = spot.radius + gap
        x, y = spot.x + (far + half) * c, spot.y + (far + half) * s
        box = (x - size[0] / 2.0, y - size[1] / 2.0, x + size[0] / 2.0, y + size[1] / 2.0)
        ends = (spot.x + spot.radius * c, spot.y + spot.radius * s, spot.x + far * c, spot.y + far * s)
        leader = ends if gap > _LEADER_FROM else None
        if not self._free(number, box, leader, over):
            return None
        self.boxes.append(box)
        self.leaders += [] if leader is None else [leader]
        lean = 0.5 if abs(c) < _UPRIGHT else 0.0 if c > 0.0 else 1.0
        return Words(choice, box, lean, leader)

    def _free(
        self,
        number: int,
        box: Box,
        leader: Box | None,
        over: bool,
    ) -> bool:
        """Whether box and leader touch nothing that is there, points under the leader aside where `over`."""
        frame = self.frame
        if box[0] < frame[0] or box[1] < frame[1] or box[2] > frame[2] or box[3] > frame[3]:
            return False
        around = (box[0] - _MARGIN, box[1] - _MARGIN, box[2] + _MARGIN, box[3] + _MARGIN)
        others = np.array([(spot.x, spot.y, spot.radius) for spot in self.spots])
        if _box_near_discs(around, others) or _box_meets_boxes(around, np.array(self.boxes)):
            return False
        if any(_line_meets_box(line, around) for line in self.leaders):
            return False
        if leader is None:
            return True
        rest = np.delete(others, number, axis=0)
        return not (
            (not over and _line_near_discs(leader, rest))
            or any(_line_meets_box(leader, other) for other in self.boxes)
            or any(_lines_cross(leader, other) for other in self.leaders)
        )


def _angles() -> tuple[float, ...]:
    """All ways round: level first, right before left, above before below, as an eye looks for a name."""
    every = [2.0 * math.pi * k / _WAYS for k in range(_WAYS)]
    return tuple(
        sorted(every, key=lambda way: (round(abs(math.sin(way)), 6), -math.cos(way), -math.sin(way)))
    )


_ANGLES = _angles()


def _box_near_discs(box: Box, discs: Floats) -> bool:
    """Whether a box comes nearer to a centre than its radius."""
    nearest_x = np.clip(discs[:, 0], box[0], box[2])
    nearest_y = np.clip(discs[:, 1], box[1], box[3])
    return bool(np.any(np.hypot(nearest_x - discs[:, 0], nearest_y - discs[:, 1]) < discs[:, 2]))


def _box_meets_boxes(box: Box, boxes: Floats) -> bool:
    """Whether a box covers part of another."""
    if not boxes.size:
        return False
    apart = (boxes[:, 0] > box[2]) | (boxes[:, 2] < box[0]) | (boxes[:, 1] > box[3]) | (boxes[:, 3] < box[1])
    return not bool(np.all(apart))


def _line_near_discs(line: Box, discs: Floats) -> bool:
    """Whether a line comes nearer to a centre than its radius."""
    start, along = np.array(line[:2]), np.array(line[2:]) - np.array(line[:2])
    share = np.clip((discs[:, :2] - start) @ along / max(float(along @ along), 1e-12), 0.0, 1.0)
    apart = start + share[:, None] * along - discs[:, :2]
    return bool(np.any(np.hypot(apart[:, 0], apart[:, 1]) < discs[:, 2]))


def _line_meets_box(line: Box, box: Box) -> bool:
    """Whether a line passes through a box (its share inside each pair of sides is cut down, Liang and Barsky 1984)."""
    first, last = 0.0, 1.0
    for start, end, low, high in (
        (line[0], line[2], box[0], box[2]),
        (line[1], line[3], box[1], box[3]),
    ):
        along = end - start
        if abs(along) < 1e-12:
            if not low <= start <= high:
                return False
            continue
        edges = sorted(((low - start) / along, (high - start) / along))
        first, last = max(first, edges[0]), min(last, edges[1])
    return first <= last


def _lines_cross(a: Box, b: Box) -> bool:
    """Whether two lines cross between their ends."""
    apart_b = _side(a, b[0], b[1]) * _side(a, b[2], b[3]) < 0.0
    return apart_b and _side(b, a[0], a[1]) * _side(b, a[2], a[3]) < 0.0


def _side(line: Box, x: float, y: float) -> float:
    """On which side of a line a point lies, by sign."""
    return (line[2] - line[0]) * (y - line[1]) - (line[3] - line[1]) * (x - line[0])
