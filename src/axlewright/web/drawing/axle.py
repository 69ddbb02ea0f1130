"""The whole axle on paper, from behind as the driver sits or from above: left is left, as on every drawing."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from axlewright.tasks.describing import skin
from axlewright.web.drawing.measures import Measures
from axlewright.web.drawing.paper import WIDTH, Line, Paper, Point, across

MARGIN = 14.0
Seen = Literal["from behind", "from above"]


@dataclass(frozen=True)
class Axle:
    """How the axle lies on paper.

    Args:
        paper: to draw on.
        measures: of the job.
        line: height of the axle line on paper.
        scale: units of the picture for a metre.
        left: where the left flange's outer face is.
        seen: from where.
    """

    paper: Paper
    measures: Measures
    line: float
    scale: float
    left: float = MARGIN
    seen: Seen = "from behind"

    def x(self, at: float) -> float:
        """Place of a distance from the left flange [m]."""
        return self.left + at * self.scale

    def point(self, at: float, height: float) -> Point:
        """Place of a distance from the left flange and a height above the axle line, or forward of it [m]."""
        return self.x(at), self.line - height * self.scale

    def box(self, begin: float, end: float, low: float, high: float, kind: Line) -> None:
        """A rectangle between two distances and two heights [m]."""
        left, top = self.point(min(begin, end), max(low, high))
        self.paper.box(left, top, abs(end - begin) * self.scale, abs(high - low) * self.scale, kind)

    def skin(self, at: float) -> float:
        """Half the height, or depth, of the housing at a distance [m]."""
        return skin(self.measures.bare, (at,))[0][0 if self.seen == "from behind" else 1]

    def housing(self, kind: Line = "edge") -> None:
        """Tubes, centre and flanges."""
        m = self.measures
        half = m.value("housing.centre.width") / 2.0
        swell = [m.centre_at + half * math.cos(math.pi * (1.0 - n / 32.0)) for n in range(33)]
        at = (0.0, *(min(max(one, 0.0), m.length) for one in swell), m.length)
        halves = [pair[0 if self.seen == "from behind" else 1] for pair in skin(m.bare, at)]
        upper = [self.point(*pair) for pair in zip(at, halves, strict=True)]
        lower = [self.point(one, -reach) for one, reach in zip(at, halves, strict=True)]
        self.paper.line((*upper, *reversed(lower)), kind, closed=True)
        thickness, radius = (
            m.value("housing.knuckle_flange.thickness"),
            m.value("housing.knuckle_flange.diameter") / 2,
        )
        self.box(0.0, thickness, -radius, radius, kind)
        self.box(m.length - thickness, m.length, -radius, radius, kind)
        self.axis()

    def axis(self) -> None:
        """The axle line."""
        self.paper.line(
            ((self.x(0.0) - 8.0, self.line), (self.x(self.measures.length) + 8.0, self.line)), "axis"
        )

    def along(self, name: str, begin: float, end: float, heights: tuple[float, float], at: float) -> None:
        """A dimension along the axle between two distances [m], from heights [m], its line at `at` on paper."""
        left, right = self.point(begin, heights[0]), self.point(end, heights[1])
        across(self.paper, self.measures.sized(name), left, right, at, self.scale)


def whole_axle(
    paper: Paper, measures: Measures, line: float, farthest: float = 0.0, seen: Seen = "from behind"
) -> Axle:
    """The axle across the whole paper; `farthest` is a distance from the left flange that must be on it too [m]."""
    reach = max(measures.length, farthest, 0.1)
    return Axle(paper, measures, line, (WIDTH - 2.0 * MARGIN) / reach, MARGIN, seen)


def above_line(measures: Measures) -> float:
    """How far anything reaches above the axle line [m]."""
    tops = [
        measures.value("housing.centre.height") / 2.0,
        measures.value("housing.knuckle_flange.diameter") / 2.0,
    ]
    tops += [measures.value(f"housing.perch.{n}.height") for n in range(measures.count("housing.perch"))]
    for n in range(measures.count("truss")):
        tops += [measures.value(f"truss.{n}.top.{k}.1") for k in range(measures.count(f"truss.{n}.top"))]
    return max(tops)


def below_line(measures: Measures) -> float:
    """How far the bare housing reaches below the axle line [m]."""
    return (
        max(measures.value("housing.centre.height"), measures.value("housing.knuckle_flange.diameter")) / 2.0
    )


def turn(clock: float) -> tuple[float, float]:
    """Unit vector of a clock position, to the right and up."""
    angle = clock * math.pi / 6.0
    return math.sin(angle), math.cos(angle)
