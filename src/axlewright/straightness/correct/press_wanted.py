"""Which kinks bring a housing inside its limits, fewest first.

A kink of an angle h lifts the axis over the line between the flanges as a tent that is h A B / L high there, A and B
the distances to the left and right flange, L = A + B; the flanges lean by -h B / L and -h A / L. The kinks are those
that make the worst figure, over its limit, least: a linear programme.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from scipy.optimize import linprog

from axlewright.job.schema import Job
from axlewright.solid.mesh import Floats
from axlewright.straightness.axis import AxisFit, Plane
from axlewright.straightness.correct.press_place import Tube
from axlewright.straightness.correct.report import Outcome
from axlewright.straightness.fit.figures import WAY, Line, line_of
from axlewright.straightness.fit.judging import limit_checks
from axlewright.straightness.report import Figure, LimitCheck

WELL_INSIDE = 0.7
"""Share of its limit that the worst figure may take before a second push is planned [1]."""
MISSED = 0.2
"""Share of a wanted kink that pushing and measuring in turn misses it by in nine cases of ten; a judgement."""
_SMALLEST = 0.2e-3
"""Kink too small to press on purpose [rad]: 0.01 deg, what a good angle finder shows."""


@dataclass(frozen=True)
class Kink:
    """A bend to be pressed into a tube.

    Args:
        tube: the tube.
        plane: vertical or fore-aft.
        at: distance of the bend [m].
        angle: above zero where the place moves up or forward of the line between the flanges [rad].
    """

    tube: Tube
    plane: Plane
    at: float
    angle: float

    def lift(self, distances: Floats, length: float) -> Floats:
        """What it adds to the axis at distances, shape (n,) [m]."""
        near = np.minimum(distances * (length - self.at), (length - np.asarray(distances)) * self.at)
        return self.angle * near / length

    def turn(self, length: float) -> tuple[float, float]:
        """What it adds to camber, or takes from toe, left and right [rad]."""
        return self.angle * (length - self.at) / length, self.angle * self.at / length


@dataclass(frozen=True)
class Aims:
    """The limits of one plane, and what they are on.

    Args:
        plane: vertical or fore-aft.
        length: of the housing between the flanges' outer faces [m].
        line: the axis in the plane.
        checks: the limits.
        bow_is_zone: whether what is called bow is the width of the zone that holds the axis, as ISO 13920 has it.
    """

    plane: Plane
    length: float
    line: Line
    checks: tuple[LimitCheck, ...]
    bow_is_zone: bool

    @property
    def told(self) -> bool:
        """Whether the readings tell every figure that has a limit."""
        return all(check.figure.told for check in self.checks)

    @property
    def sign(self) -> float:
        """What a kink's turn counts in the angles: camber grows by it, toe falls."""
        return 1.0 if self.plane == "vertical" else -1.0

    def zone(self, check: LimitCheck) -> bool:
        """Whether a limit is on the width of a zone, not on the axis' farthest place."""
        return check.unit == "m" and (self.bow_is_zone or check.name.startswith("straightness"))

    def heights(self, kinks: tuple[Kink, ...]) -> Floats:
        """The axis over the line between the flanges with kinks, shape (n,) [m]."""
        lifts = [kink.lift(self.line.distances, self.length) for kink in kinks]
        return np.asarray(self.line.values + np.sum(lifts, axis=0) if kinks else self.line.values)

    def value(self, check: LimitCheck, kinks: tuple[Kink, ...]) -> float:
        """A figure with kinks, in the unit of its limit."""
        if check.unit == "deg":
            end = 0 if check.name.endswith("left") else 1
            turned = sum(kink.turn(self.length)[end] for kink in kinks)
            return check.figure.value + self.sign * float(np.degrees(turned))
        heights = self.heights(kinks)
        farthest = float(heights[np.argmax(np.abs(heights))])
        if self.zone(check):
            return float(np.copysign(heights.max() - heights.min(), farthest))
        return farthest

    def worst(self, kinks: tuple[Kink, ...]) -> float:
        """The worst figure over its limit [1]; 0 without limits."""
        shares = [abs(self.value(check, kinks) - check.wanted) / check.limit for check in self.checks]
        return max(shares, default=0.0)


def aims_of(job: Job, fit: AxisFit, plane: Plane) -> Aims:
    """The limits a job sets in one plane."""
    kind = "camber" if plane == "vertical" else "toe"
    own = tuple(
        check
        for check in limit_checks(job, fit)
        if check.name.startswith(kind) or check.name.endswith(f" {WAY[plane]}")
    )
    length = 2.0 * fit.span.half_length
    return Aims(plane, length, line_of(fit, plane), own, job.straightness.bow is None)


def wanted_kinks(aims: Aims, places: dict[Tube, float], allowed: float = WELL_INSIDE) -> tuple[Kink, ...]:
    """The fewest kinks at given places that bring a plane's figures well inside their limits.

    Args:
        aims: the limits.
        places: where each tube would be pressed, distances [m].
        allowed: share of its limit that the worst figure may take [1].
    """
    if aims.worst(()) <= 1.0 or not places:
        return ()
    options = [_best(aims, {tube: at}) for tube, at in places.items()]
    fewest = min(options, key=aims.worst)
    if aims.worst(fewest) > allowed and len(places) > 1:
        both = _best(aims, places)
        if aims.worst(both) < 0.9 * aims.worst(fewest):
            fewest = both
    return tuple(kink for kink in fewest if abs(kink.angle) > _SMALLEST)


def _best(aims: Aims, places: dict[Tube, float]) -> tuple[Kink, ...]:
    """The kinks that make the worst figure over its limit least.

    Unknowns of the programme: each kink up, then each kink down [mrad], highest and lowest place of the axis [mm], the
    worst share [1].
    """
    each = [Kink(tube, aims.plane, at, 1e-3) for tube, at in places.items()]
    lifts = np.stack([1e3 * kink.lift(aims.line.distances, aims.length) for kink in each], axis=1)
    heights = 1e3 * aims.line.values
    none, one = np.zeros((len(heights), 1)), np.ones((len(heights), 1))
    blocks = [np.hstack([lifts, -lifts, -one, none, none]), np.hstack([-lifts, lifts, none, one, none])]
    most = [-heights, heights]
    for check in aims.checks:
        rows, bounds = _rows(aims, check, each)
        blocks.append(rows)
        most.append(bounds)
    count = len(each)
    # A little is asked for every milliradian, so that of equals the gentlest is taken.
    cost = np.r_[np.full(2 * count, 1e-4), 0.0, 0.0, 1.0]
    ends = [(0.0, None)] * (2 * count) + [(0.0, None), (None, 0.0), (0.0, None)]
    found = linprog(cost, A_ub=np.vstack(blocks), b_ub=np.concatenate(most), bounds=ends, method="highs")
    angles = 1e-3 * (found.x[:count] - found.x[count : 2 * count])
    return tuple(
        Kink(kink.tube, kink.plane, kink.at, float(angle)) for kink, angle in zip(each, angles, strict=True)
    )


def _rows(aims: Aims, check: LimitCheck, each: list[Kink]) -> tuple[Floats, Floats]:
    """Rows of the programme that hold one figure within the worst share of its limit, and their right-hand sides."""
    count = len(each)
    if check.unit == "deg":
        turned = np.array([aims.value(check, (kink,)) - check.figure.value for kink in each])
        off = check.figure.value - check.wanted
        row = np.r_[turned, -turned, 0.0, 0.0]
        return np.vstack([np.r_[row, -check.limit], np.r_[-row, -check.limit]]), np.array([-off, off])
    nothing, limit = np.zeros(2 * count), 1e3 * check.limit
    if aims.zone(check):
        return np.r_[nothing, 1.0, -1.0, -limit][None], np.zeros(1)
    return np.vstack([np.r_[nothing, 1.0, 0.0, -limit], np.r_[nothing, 0.0, -1.0, -limit]]), np.zeros(2)


@dataclass(frozen=True)
class Reached:
    """How much of the wanted kinks a push has left: low, middle and high by the strength of the steel [1]."""

    low: float
    middle: float
    high: float


def outcomes_of(aims: Aims, kinks: tuple[Kink, ...], first: Reached) -> tuple[Outcome, ...]:
    """Every limit of a plane now, after the first push, and when all is pressed.

    Args:
        aims: the limits.
        kinks: what is pressed.
        first: what the first push leaves of it.
    """
    some = {share: _scaled(kinks, share) for share in (first.low, first.middle, first.high)}
    made = []
    for check in aims.checks:
        now, reading = check.figure, (check.figure.high - check.figure.low) / 2.0
        values = [aims.value(check, scaled) for scaled in some.values()]
        half = _figure(aims.value(check, some[first.middle]), reading, values, now.told)
        done = aims.value(check, kinks)
        missed = [aims.value(check, _scaled(kinks, share)) for share in (1.0 - MISSED, 1.0 + MISSED)]
        made.append(
            Outcome(
                check.name,
                check.unit,
                check.wanted,
                check.limit,
                now,
                half,
                _figure(done, reading, missed, now.told),
            )
        )
    return tuple(made)


def _scaled(kinks: tuple[Kink, ...], share: float) -> tuple[Kink, ...]:
    return tuple(replace(kink, angle=share * kink.angle) for kink in kinks)


def _figure(value: float, reading: float, ends: list[float], told: bool) -> Figure:
    """A figure whose band has the readings' share and that of the push, which are independent."""
    below, above = value - min(*ends, value), max(*ends, value) - value
    return Figure(
        value, value - float(np.hypot(reading, below)), value + float(np.hypot(reading, above)), told
    )
