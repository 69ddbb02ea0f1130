"""What welding did to the shape, from readings before and after.

Both sets of readings are of one housing. What its flanges were out of square before the first arc they are out of
square after the last, so that uncertainty is in both sets and falls out of the change. With x the shape before, d the
change, m and P what was taken for granted of x (`fit.priors`), and L, g what a set's readings alone say of the shape,

    L = C^-1 - P^-1,  g = C^-1 v - P^-1 m,

v and C the fit with its covariance, both together are normal with

    information [[P^-1 + L1 + L2, L2], [L2, Q^-1 + L2]], pull [P^-1 m + g1 + g2, g2],

Q what is taken for granted of d: nothing, but for the flanges, which welding hardly turns past their tubes' ends.
"""

from __future__ import annotations

import math

import numpy as np

from axlewright.solid.mesh import Floats
from axlewright.straightness.axis import PARAMETERS, AxisFit
from axlewright.straightness.fit.priors import shape_prior

FLANGE = math.radians(0.02)
"""How far welding may turn a flange past its tube's end; also how well the family of axes meets the model's camber on
the demo jobs (`axis`), which comes to the same [rad]."""


def measured_change(before: AxisFit, after: AxisFit, built: Floats) -> AxisFit:
    """What changed between two sets of readings of one housing.

    Args:
        before: the shape before welding.
        after: the shape after it.
        built: the shape that was taken for granted before anything was read, shape (11,).
    """
    prior, change = shape_prior(), shape_prior()
    change[["flange" in name for name in PARAMETERS]] = FLANGE
    own = np.diag(prior**-2)
    (first, pull_first), (last, pull_last) = (_said(fit, own, built) for fit in (before, after))
    information = np.block([[own + first + last, last], [last, np.diag(change**-2) + last]])
    pull = np.concatenate([own @ built + pull_first + pull_last, pull_last])
    # Metres and radians, told and untold lie far apart: solved in units of what is taken for granted.
    scale = np.concatenate([prior, change])
    covariance = np.linalg.inv(information * np.outer(scale, scale)) * np.outer(scale, scale)
    count = len(PARAMETERS)
    found = (covariance @ pull)[count:]
    left = covariance[count:, count:]
    return AxisFit(before.span, found, (left + left.T) / 2)


def _said(fit: AxisFit, own: Floats, built: Floats) -> tuple[Floats, Floats]:
    """What the readings of a set say by themselves: information, shape (11, 11), and pull, shape (11,)."""
    scale = np.sqrt(np.diag(fit.covariance))
    inverse = np.linalg.inv(fit.covariance / np.outer(scale, scale)) / np.outer(scale, scale)
    width = np.sqrt(1.0 / np.diag(own))
    values, vectors = np.linalg.eigh((inverse - own) * np.outer(width, width))
    # Readings never take away what was known; what looks like it is rounding.
    told = vectors * np.maximum(values, 0.0) @ vectors.T / np.outer(width, width)
    return told, told @ built + inverse @ (fit.values - built)
