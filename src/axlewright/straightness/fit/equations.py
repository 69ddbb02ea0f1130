"""Each kind of reading as linear equations on the shape and on what is unknown of its set-up.

Planes and signs are those of `axis.py`. W(x) is the row that reads the axis at x, r(x) the tube's radius.

- gap: a + b x - side W(x) p = gap + r(x), side +1 on top and front, -1 on bottom and rear; a, b place the line.
- height: a + level x + W(x) p = height -+ r(x) on top and bottom.
- angle: camber less level on the left, plus level on the right; toe plus level on the left, less level on the right;
  caster on both sides the roll of the housing, on the left with the twist.
- toe tape: toe left + toe right = (rear - front) / diameter.
- dot of a laser that shines through the housing toward the other flange: -lean distance - W(x) p, lean that of the
  outer face it stands on; at or beyond the other flange W is nought.

Readings of a turning housing are in `turning.py`. All angles are small: at 5 deg the sine is off by 0.13 %.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from typing import NamedTuple

import numpy as np

from axlewright.job.outline import Outline
from axlewright.job.schema import Job
from axlewright.solid.mesh import Floats
from axlewright.straightness.axis import PARAMETERS, PLANES, Plane, Span, span_of
from axlewright.straightness.fit.priors import ANGLE, ANYWHERE, FORM
from axlewright.straightness.readings.reading import Angle, Dot, Gap, Height, Reading, Side, ToeTape

SIDES: Mapping[Side, tuple[Plane, float]] = {
    "top": ("vertical", 1.0),
    "bottom": ("vertical", -1.0),
    "front": ("fore-aft", 1.0),
    "rear": ("fore-aft", -1.0),
}
"""Plane that a side of the tube tells, and which way it faces there."""


class Unknown(NamedTuple):
    """Something unknown of a set-up.

    Args:
        setup: name of the set-up.
        what: what is unknown of it.
        prior: standard deviation before anything is read [m] or [rad].
        seat: whether it is a seat of a turning housing, of which something is known.
    """

    setup: str
    what: str
    prior: float
    seat: bool = False


@dataclass(frozen=True)
class Equation:
    """What one reading says: shape @ parameters + set-up's unknowns = value, give or take its error.

    Args:
        reading: the reading.
        shape: on the parameters of the axis, over those of the housing as built, shape (k, 11).
        setup: on the unknowns of its set-up, each of shape (k,).
        value: shape (k,) [m] or [rad].
        covariance: of the value, shape (k, k).
        axis: plane each row reads the axis in, and its sign there; empty where it reads angles.
    """

    reading: Reading
    shape: Floats
    setup: Mapping[Unknown, Floats]
    value: Floats
    covariance: Floats
    axis: tuple[tuple[Plane, float], ...] = ()


@dataclass(frozen=True)
class Ground:
    """The housing that readings are taken on.

    Args:
        job: the job.
        seats: standard deviation of the seats of a set-up, where they are known to be worse than usual [m].
    """

    job: Job
    seats: Mapping[str, float] = field(default_factory=dict)

    @cached_property
    def span(self) -> Span:
        """What the shape is laid over."""
        return span_of(self.job)

    @cached_property
    def outline(self) -> Outline:
        """The bare housing."""
        return Outline(self.job)

    @cached_property
    def built(self) -> Floats:
        """Parameters of a straight housing, shape (11,): its flanges have the camber and toe that are wanted."""
        wanted, values = self.job.straightness, np.zeros(len(PARAMETERS))
        for number, name in enumerate(PARAMETERS):
            if "flange up" in name:
                values[number] = -math.radians(wanted.camber_wanted)
            elif "flange forward" in name:
                values[number] = math.radians(wanted.toe_wanted)
        return values

    @cached_property
    def angles(self) -> Floats:
        """Rows of camber left and right, toe left and right, twist, shape (5, 11)."""
        return self.span.angles()

    def axis(self, at: float, plane: Plane) -> Floats:
        """Row that reads the axis at a distance from the left flange [m], shape (11,); nought beside the flanges."""
        return axis_row(self.span, at, plane)


@lru_cache(maxsize=4096)
def axis_row(span: Span, at: float, plane: Plane) -> Floats:
    """Row that reads the axis at a distance from the left flange [m], shape (11,); nought beside the flanges.

    The same stations are asked for again and again, so it is kept.
    """
    inside = 0.0 < at < 2.0 * span.half_length
    row = span.heights(np.array([span.half_length - at]), plane)[0] if inside else np.zeros(len(PARAMETERS))
    row.setflags(write=False)
    return row


def gap_equation(ground: Ground, reading: Gap) -> Equation:
    """A gap under a straight line whose place and slope are unknown."""
    plane, sign = SIDES[reading.side]
    name = f"{reading.origin.setup}, {reading.side}"
    line = {
        Unknown(name, "line", ANYWHERE): np.ones(1),
        Unknown(name, "slope", ANYWHERE): np.array([ground.job.x_at(reading.at)]),
    }
    value = reading.gap + ground.outline.tube_radius(reading.at)
    shape = -sign * ground.axis(reading.at, plane)
    return _single(reading, shape, line, value, reading.origin.error**2 + FORM**2, ((plane, -sign),))


def height_equation(ground: Ground, reading: Height) -> Equation:
    """A height over a surface whose place and slope are unknown."""
    radius = ground.outline.tube_radius(reading.at)
    surface = {
        Unknown(reading.origin.setup, "surface", ANYWHERE): np.ones(1),
        Unknown(reading.origin.setup, "level", ANGLE): np.array([ground.job.x_at(reading.at)]),
    }
    value = reading.height + (-radius if reading.side == "top" else radius)
    shape = ground.axis(reading.at, "vertical")
    return _single(reading, shape, surface, value, reading.origin.error**2 + FORM**2, (("vertical", 1.0),))


def angle_equation(ground: Ground, reading: Angle) -> Equation:
    """An angle finder's reading on a flange or across both."""
    left = reading.end == "left"
    outward = 1.0 if left else -1.0
    nothing = np.zeros(len(PARAMETERS))
    shape, what, prior, sign = {
        "camber": (ground.angles[0 if left else 1], "level", ANGLE, -outward),
        "toe": (ground.angles[2 if left else 3], "level on side", ANGLE, outward),
        "caster": (ground.angles[4] if left else nothing, "roll", ANYWHERE, 1.0),
        "level": (nothing, "level", ANGLE, 1.0),
        "level on side": (nothing, "level on side", ANGLE, 1.0),
    }[reading.sense]
    setup = {Unknown(reading.origin.setup, what, prior): np.array([sign])}
    return _single(reading, shape, setup, reading.angle, reading.origin.error**2)


def tape_equation(ground: Ground, reading: ToeTape) -> Equation:
    """Both toes together from a tape in front of and behind the axle; two readings of the tape, two errors."""
    value = (reading.rear - reading.front) / reading.diameter
    variance = 2.0 * (reading.origin.error / reading.diameter) ** 2
    return _single(reading, ground.angles[2] + ground.angles[3], {}, value, variance)


def dot_equation(ground: Ground, reading: Dot) -> Equation:
    """Where a laser that stands square on a flange meets a target, up and forward."""
    end = 0 if reading.end == "left" else 1
    at = reading.distance if end == 0 else ground.job.housing.length - reading.distance
    leans = [ground.span.flange_lean(plane)[end] for plane in PLANES]
    rows = [
        -lean * reading.distance - ground.axis(at, plane) for lean, plane in zip(leans, PLANES, strict=True)
    ]
    value = np.array([reading.up, reading.forward])
    return Equation(reading, np.stack(rows), {}, value, reading.origin.error**2 * np.eye(2))


def _single(
    reading: Reading,
    shape: Floats,
    setup: Mapping[Unknown, Floats],
    value: float,
    variance: float,
    axis: tuple[tuple[Plane, float], ...] = (),
) -> Equation:
    return Equation(reading, shape[None], setup, np.array([value]), np.array([[variance]]), axis)
