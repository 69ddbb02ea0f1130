"""The shape of a housing's axis in a handful of figures, and rows that read everything else off them.

In each plane the axis, seen from the line between the middles of the flanges, is a tent over the centre plus a bow in
each tube:

    w(x) = offset T(x) + bow_left P(s_left) + bow_right P(s_right),

where T rises evenly from 0 at each flange to 1 at the centre's middle, and s runs along a tube from the centre's middle
(0) to its flange (1). A tube bends evenly as far as a truss reaches along it, q, and is straight beyond:

    P(s) = (a s - s^2 / 2) / (a^2 / 2) up to q, (a s - q s + q^2 / 2) / (a^2 / 2) beyond, a = q - q^2 / 2,

which is nought at both ends and 1 where it is highest. Without a truss q = 1. On the three demo jobs this meets the
model's axis within 0.05 to 0.12 mm and its camber within 0.01 to 0.02 degrees.

Each flange may be out of square with the end of its tube, and the left one may be turned past the right one about the
axle (twist). Rows are linear, so every figure has the uncertainty of the fit.

Signs: ends up is negative camber on both sides, ends forward is toe-in on both (rigid-body geometry).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from axlewright.job.schema import Job
from axlewright.solid.mesh import Flags, Floats

Plane = Literal["vertical", "fore-aft"]
PLANES: tuple[Plane, ...] = ("vertical", "fore-aft")

PARAMETERS = (
    *("offset up", "left bow up", "right bow up", "left flange up", "right flange up"),
    *(
        "offset forward",
        "left bow forward",
        "right bow forward",
        "left flange forward",
        "right flange forward",
    ),
    "twist",
)
"""Of each plane: offset and bows [m], outer faces of the flanges leaning up or forward past their tube's end [rad];
twist, top of the left flange rearward past the right one [rad]."""

_IN_PLANE = 5


LEAST_REACH = 0.25
"""Share of a tube outside the centre that a truss must reach along to bend it by itself [1]; a judgement."""


@dataclass(frozen=True)
class Span:
    """What the shape is laid over.

    Args:
        half_length: x of the left flange's outer face [m].
        middle: x of the centre's middle [m].
        half_width: half the centre's width [m].
        bent_to: share of the way from the centre's middle to the flange up to which left and right tube bend [1].
    """

    half_length: float
    middle: float
    half_width: float
    bent_to: tuple[float, float] = (1.0, 1.0)

    @property
    def tubes(self) -> tuple[float, float]:
        """Distance from the centre's middle to the left and to the right flange [m]."""
        return self.half_length - self.middle, self.half_length + self.middle

    def heights(self, x: Floats, plane: Plane) -> Floats:
        """Rows that give the axis over the line between the flanges at x, shape (n, 11)."""
        left, share = self._share(x)
        bow = self._bow(left, share)[0]
        rows = np.zeros((len(share), len(PARAMETERS)))
        first = _first(plane)
        rows[:, first] = 1.0 - share
        rows[:, first + 1], rows[:, first + 2] = np.where(left, bow, 0.0), np.where(left, 0.0, bow)
        return rows

    def slopes(self, x: Floats, plane: Plane) -> Floats:
        """Rows that give the axis' rise per metre toward the driver's left at x, shape (n, 11) [1/m]."""
        left, share = self._share(x)
        per_metre = np.where(left, 1.0 / self.tubes[0], -1.0 / self.tubes[1])
        bow = self._bow(left, share)[1] * per_metre
        rows = np.zeros((len(share), len(PARAMETERS)))
        first = _first(plane)
        rows[:, first] = -per_metre
        rows[:, first + 1], rows[:, first + 2] = np.where(left, bow, 0.0), np.where(left, 0.0, bow)
        return rows

    def flange_lean(self, plane: Plane) -> Floats:
        """Rows that give how far the outer faces of left and right flange lean up or forward, shape (2, 11) [rad]."""
        left, right = self.slopes(np.array([self.half_length, -self.half_length]), plane)
        left[_first(plane) + 3] += 1.0
        right = -right
        right[_first(plane) + 4] += 1.0
        return np.stack([left, right])

    def angles(self) -> Floats:
        """Rows of camber left and right, toe left and right, and twist, shape (5, 11) [rad]."""
        twist = np.zeros(len(PARAMETERS))
        twist[-1] = 1.0
        return np.concatenate([-self.flange_lean("vertical"), self.flange_lean("fore-aft"), twist[None]])

    def kinks(self, plane: Plane) -> Floats:
        """Rows of how far each tube points up or forward of the line between the flanges at the centre, (2, 11) [rad].

        A positive one has the tube rise, or run forward, from the centre to its flange.
        """
        ends = np.array([self.middle + 1e-12, self.middle - 1e-12])
        left, right = self.slopes(ends, plane)
        return np.stack([left, -right])

    def _bow(self, left: Flags, share: Floats) -> tuple[Floats, Floats]:
        """The bow P of a tube and its slope by share of the way."""
        q = np.where(left, *self.bent_to)
        a = q - q * q / 2.0
        bent = np.minimum(share, q)
        height = a * share - bent * bent / 2.0 - q * (share - bent)
        return 2.0 * height / a**2, 2.0 * (a - bent) / a**2

    def _share(self, x: Floats) -> tuple[Flags, Floats]:
        """Whether x lies on the left tube, and the share of the way from the centre's middle to its flange."""
        x = np.atleast_1d(np.asarray(x, dtype=float))
        left = x >= self.middle
        return left, np.where(left, (x - self.middle) / self.tubes[0], (self.middle - x) / self.tubes[1])


def span_of(job: Job) -> Span:
    """What the shape of a job's housing is laid over."""
    span = Span(job.housing.length / 2.0, job.housing.centre.offset, job.housing.centre.width / 2.0)
    ends = [job.x_at(distance) for truss in job.trusses for distance in (truss.start, truss.end)]
    reach = [max(sign * (x - span.middle) for x in ends) if ends else 0.0 for sign in (1.0, -1.0)]
    left, right = (_bent_to(span, far, tube) for far, tube in zip(reach, span.tubes, strict=True))
    return replace(span, bent_to=(left, right))


def _bent_to(span: Span, reach: float, tube: float) -> float:
    """Share of a tube that bends with a truss that reaches so far from the centre's middle [1]; all without one."""
    # A bow all but hidden in the centre could not be told from the tent over it.
    least = span.half_width + LEAST_REACH * (tube - span.half_width)
    return min(reach, tube) / tube if reach > least else 1.0


def _first(plane: Plane) -> int:
    return _IN_PLANE * PLANES.index(plane)


ANGLES = ("camber_left", "camber_right", "toe_left", "toe_right", "twist")
"""Figures in the order of `Span.angles`, named as a plan names them."""


@dataclass(frozen=True)
class AxisFit:
    """The shape of an axis as readings tell it.

    Args:
        span: what it is laid over.
        values: of `PARAMETERS`, shape (11,).
        covariance: of the values, shape (11, 11); very large where readings do not tell.
    """

    span: Span
    values: Floats
    covariance: Floats

    def read(self, rows: Floats) -> tuple[Floats, Floats]:
        """Values of rows on the parameters and their standard deviations, shapes (n,)."""
        spread = np.sqrt(np.maximum(np.einsum("ni,ij,nj->n", rows, self.covariance, rows), 0.0))
        return rows @ self.values, spread


def projected(span: Span, stations: Floats, vertical: Floats, fore_aft: Floats, angles: Floats) -> Floats:
    """Parameters that come nearest to a shape known everywhere, shape (11,).

    Args:
        span: what it is laid over.
        stations: x of points of the axis, shape (n,) [m]; those inside the centre are left out, where a section
            with a hole is not round.
        vertical: axis over the line between the flanges, shape (n,) [m].
        fore_aft: the same forward [m].
        angles: camber left and right, toe left and right, twist, shape (5,) [rad].
    """
    outside = np.abs(stations - span.middle) > span.half_width
    values = np.zeros(len(PARAMETERS))
    for plane, offsets in zip(PLANES, (vertical, fore_aft), strict=True):
        shape = slice(_first(plane), _first(plane) + 3)
        rows = span.heights(stations[outside], plane)[:, shape]
        values[shape] = np.linalg.lstsq(rows, offsets[outside], rcond=None)[0]
    own = span.angles()
    short = angles - own @ values
    for row, missing in zip(own, short, strict=True):
        lean = np.flatnonzero(np.abs(row) == 1.0)[-1]
        values[lean] += row[lean] * missing
    return values
