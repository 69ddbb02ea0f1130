"""Dial readings of a housing that turns between centres or in V-blocks, as equations on its axis.

With the dial at x the middle of the skin goes round the axis of turning by e = w(x) less the line through both seats, w
in both planes. A dial that is highest with clock mark c under it, total indicator reading TIR, says

    e up = TIR / 2 cos(c 30 deg), e forward = TIR / 2 sin(c 30 deg),

four readings with 12, 3, 6 and 9 under the dial

    e up = (r12 - r6) / 2, e forward = (r3 - r9) / 2,

in which a tube that is oval but does not bend has no share. Between centres the line goes through the flanges'
middles, in V-blocks through the axis at the blocks; both seats may be off by a little, unknown (`priors.SEAT`).

Sources: TIR / 2, a heat treater's page on straightness; four readings, a turbine maintenance worksheet, figure 16.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import lru_cache

import numpy as np

from axlewright.solid.mesh import Floats
from axlewright.straightness.axis import PLANES, Plane, Span
from axlewright.straightness.fit.equations import Equation, Ground, Unknown, axis_row
from axlewright.straightness.fit.priors import FORM, SEAT
from axlewright.straightness.readings.reading import FourPoint, Runout

_AXIS: tuple[tuple[Plane, float], ...] = (("vertical", 1.0), ("fore-aft", 1.0))
_HOUR = math.pi / 6.0


def turning_equation(ground: Ground, reading: Runout | FourPoint, near: Floats | None = None) -> Equation:
    """Where the skin's middle stands off the axis of turning, up and forward [m].

    Args:
        ground: the housing.
        reading: total or four-point reading.
        near: about where it stands, up and forward [m], as far as that is known already.
    """
    if isinstance(reading, FourPoint):
        value, covariance = four_point_offset(reading)
    elif near is None or _has_no_direction(reading, near):
        value, covariance = runout_offset(reading)
    else:
        value, covariance = runout_about(reading, near)
    seats = reading.blocks or (0.0, ground.job.housing.length)
    prior = ground.seats.get(reading.origin.setup, SEAT)
    shape, setup = _seated(ground.span, reading.at, seats, reading.origin.setup, prior)
    return Equation(reading, shape, setup, value, covariance + FORM**2 * np.eye(2), _AXIS)


@lru_cache(maxsize=1024)
def _seated(
    span: Span, at: float, seats: tuple[float, float], setup: str, prior: float
) -> tuple[Floats, Mapping[Unknown, Floats]]:
    """Rows of the axis over the line through both seats, and what is unknown of the seats; kept, as it repeats."""
    share = (seats[1] - at) / (seats[1] - seats[0])
    rows, unknowns = [], {}
    for number, plane in enumerate(PLANES):
        row = axis_row(span, at, plane)
        for seat, weight in zip(seats, (share, 1.0 - share), strict=True):
            row = row - weight * axis_row(span, seat, plane)
            unknown = Unknown(setup, f"seat at {seat:.4f}, {plane}", prior, seat=True)
            unknowns[unknown] = -weight * np.eye(2)[number]
        rows.append(row)
    return np.stack(rows), unknowns


def runout_offset(reading: Runout) -> tuple[Floats, Floats]:
    """Offset up and forward [m] of a total reading with its clock position, and its covariance [m^2].

    R = TIR / 2, clock off by s: on the mean R exp(-s^2 / 2) toward the mark. Variance along the mark that of half the
    dial's error, and R^2 (1 - exp(-s^2))^2 / 2; across it the same of the dial, and R^2 (1 - exp(-2 s^2)) / 2. The dial
    stands in both, as a small TIR has no direction. Any s: without a clock the offset is nought give or take R.

    Source: moments of the wrapped normal distribution (Mardia and Jupp, Directional Statistics, 2000, section 3.5, from
    memory).
    """
    radius, angle, spread = reading.total / 2.0, reading.clock * _HOUR, reading.clock_error * _HOUR
    up, forward = math.cos(angle), math.sin(angle)
    dial = (reading.origin.error / 2.0) ** 2
    along = dial + (radius * (1.0 - math.exp(-(spread**2)))) ** 2 / 2.0
    across = dial + radius**2 * (1.0 - math.exp(-2.0 * spread**2)) / 2.0
    value = radius * math.exp(-(spread**2) / 2.0) * np.array([up, forward])
    return value, _turned(along, across, up, forward)


def _turned(along: float, across: float, up: float, forward: float) -> Floats:
    """Covariance up and forward of what has these variances along and across a direction, shape (2, 2)."""
    shared = (along - across) * up * forward
    return np.array(
        [
            [along * up**2 + across * forward**2, shared],
            [shared, along * forward**2 + across * up**2],
        ]
    )


def _has_no_direction(reading: Runout, near: Floats) -> bool:
    """Whether the offset is so small that dial and skin, more than the marks, decide where the dial stands highest."""
    spread = reading.clock_error * _HOUR
    return math.hypot(near[0], near[1]) * spread < math.hypot(reading.origin.error / 2.0, FORM)


def runout_about(reading: Runout, near: Floats) -> tuple[Floats, Floats]:
    """Offset up and forward [m] of a total reading, and its covariance [m^2], about a place it is known to be near.

    Total and clock are each held against those of that place, so both errors stay as even as they were made; through
    the cosine of an unsure angle they would not.
    """
    radius, angle = math.hypot(near[0], near[1]), math.atan2(near[1], near[0])
    up, forward = math.cos(angle), math.sin(angle)
    turned = math.remainder(reading.clock * _HOUR - angle, 2.0 * math.pi)
    more, aside = reading.total / 2.0 - radius, radius * turned
    value = near + np.array([more * up - aside * forward, more * forward + aside * up])
    dial = (reading.origin.error / 2.0) ** 2
    across = dial + (radius * reading.clock_error * _HOUR) ** 2
    return value, _turned(dial, across, up, forward)


def four_point_offset(reading: FourPoint) -> tuple[Floats, Floats]:
    """Offset up and forward [m] of four dial readings, and its covariance [m^2]: half the dial's in each."""
    top, front, bottom, rear = reading.readings
    value = np.array([(top - bottom) / 2.0, (front - rear) / 2.0])
    return value, reading.origin.error**2 / 2.0 * np.eye(2)


def closure(reading: FourPoint) -> float:
    """How much taller than wide the skin is there: (r12 + r6) - (r3 + r9) [m]; nought on a round tube."""
    top, front, bottom, rear = reading.readings
    return (top + bottom) - (front + rear)
