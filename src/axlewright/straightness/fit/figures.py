"""Figures with their bands, read off a shape."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from axlewright.solid.mesh import Flags, Floats
from axlewright.straightness.axis import PARAMETERS, AxisFit, Plane, Span
from axlewright.straightness.fit.fitting import told
from axlewright.straightness.report import Figure

BAND = 1.645
"""Standard deviations to either side that hold 90 of a hundred cases of a normal distribution."""

ALONG = 61
"""Places along the axle that a drawing needs, besides the centre's middle, where the axis may have its peak."""

WAY: dict[Plane, str] = {"vertical": "up", "fore-aft": "forward"}


def figures(axis: AxisFit, rows: Floats, degrees: bool = False) -> list[Figure]:
    """What rows on the parameters read, each with its 90 % band, in metres or degrees."""
    unit = 180.0 / math.pi if degrees else 1.0
    return [
        Figure(unit * value, unit * (value - BAND * spread), unit * (value + BAND * spread), known)
        for value, spread, known in zip(
            *(one.tolist() for one in (*axis.read(rows), told(axis, rows))), strict=True
        )
    ]


def angles(axis: AxisFit) -> list[Figure]:
    """Camber left and right, toe left and right, twist [deg]."""
    return figures(axis, axis.span.angles(), degrees=True)


@dataclass(frozen=True)
class Line:
    """The axis in one plane, place by place.

    Args:
        plane: which one.
        distances: from the left flange, shape (n,) [m].
        rows: on the parameters, shape (n, 11).
        values: over the line between the flanges, shape (n,) [m].
        spreads: standard deviations, shape (n,) [m].
        known: whether the readings tell the axis there, shape (n,).
    """

    plane: Plane
    distances: Floats
    rows: Floats
    values: Floats
    spreads: Floats
    known: Flags

    @property
    def told(self) -> bool:
        """Whether the readings tell the axis all along; both ends are its datum."""
        return bool(self.known[1:-1].all())

    @property
    def farthest(self) -> int:
        """Number of the place that lies farthest off."""
        return int(np.argmax(np.abs(self.values)))


def line_of(axis: AxisFit, plane: Plane) -> Line:
    """The axis in one plane."""
    distances, rows = _places(axis.span, plane)
    values, spreads = axis.read(rows)
    return Line(plane, distances, rows, values, spreads, told(axis, rows))


@lru_cache(maxsize=64)
def _places(span: Span, plane: Plane) -> tuple[Floats, Floats]:
    """Distances along the axle and the rows that read the axis there, nought at both ends."""
    distances = np.union1d(np.linspace(0.0, 2.0 * span.half_length, ALONG), [span.tubes[0]])
    rows = span.heights(span.half_length - distances, plane)
    rows[[0, -1]] = 0.0
    for one in (distances, rows):
        one.setflags(write=False)
    return distances, rows


def bow(axis: AxisFit, line: Line) -> Figure:
    """Where the axis lies farthest from the line between the flanges, with the band of that place [m]."""
    found = figures(axis, line.rows[[line.farthest]])[0]
    return Figure(found.value, found.low, found.high, line.told)


def zone(axis: AxisFit, line: Line) -> Figure:
    """Width of the zone along the line between the flanges that holds the axis in a plane, signed as the bow [m].

    Highest less lowest place, the ends counted as nought: the bow, or with an S-bend the bows to both sides together.
    """
    places = int(np.argmax(line.values)), int(np.argmin(line.values))
    far = line.farthest
    other = places[1] if far == places[0] else places[0]
    found = figures(axis, (line.rows[far] - line.rows[other])[None])[0]
    return Figure(found.value, found.low, found.high, line.told)


def parameter(axis: AxisFit, name: str) -> Figure:
    """One of the parameters with its band [m]."""
    return figures(axis, np.eye(len(PARAMETERS))[[PARAMETERS.index(name)]])[0]
