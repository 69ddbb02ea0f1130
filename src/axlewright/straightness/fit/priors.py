"""What is taken for granted before anything is read, each figure in one place.

All of them are judgement, none is published. Only the flanges and the seats of a turning housing know something; the
others keep the equations regular, and a figure that is hardly better known than them is not told by the readings.
"""

from __future__ import annotations

import math

import numpy as np

from axlewright.solid.mesh import Floats
from axlewright.straightness.axis import PARAMETERS

SQUARE = math.radians(0.05)
"""How far a machined flange may be off from its tube, as it comes from its maker: from square, or from the camber and
toe that are wanted of it [rad]."""

SEAT = 0.05e-3
"""How far a centre in a flange's bore, or a V-block, holds the tube beside the axis it should turn about [m]."""

FORM = 0.05e-3
"""How far the skin lies off the family of axes, place by place [m].

The family meets the demo jobs' models within 0.023 to 0.048 mm root mean square up and down, 0.003 mm fore and aft; a
drawn tube's own skin is no better.
"""

LENGTH, ANGLE = 0.02, math.radians(5.0)
"""Offsets and bows [m], and twist and the level of a set-up [rad]: wide of any housing that still runs."""

ANYWHERE = 1.0
"""Place and slope of a string, or roll of a housing on its stands: nothing is known of them [m], [rad]."""

KNOWN = 0.1
"""A figure is told where its standard deviation is below this share of what it would be without readings."""


def shape_prior() -> Floats:
    """Standard deviations of the shape's parameters before anything is read, shape (11,) [m] and [rad]."""
    prior = np.full(len(PARAMETERS), LENGTH)
    for number, name in enumerate(PARAMETERS):
        if "flange" in name:
            prior[number] = SQUARE
    prior[-1] = ANGLE
    return prior
