"""What the thermometer of a bead log says of the shop's arc heat and loss to the air.

The filter (`plan.replan.thermometer`) starts from what any shop may have. That is taken out again, as the shop's own
results put in what is known of it: with m, C the logarithms it ends at, P what it started with,

    information L = C^-1 - P^-1,  mean L^-1 C^-1 m.
"""

from __future__ import annotations

import numpy as np

from axlewright.plan.replan.physics import physics_of
from axlewright.shop.evidence import Observation, observations
from axlewright.solid.mesh import Floats
from axlewright.straightness.learn.welded import Welded

FIGURES = ("arc heat by thermometer", "air cooling by thermometer")

SCATTER = np.array([0.03, 0.08])
"""What else is in these figures: a thermometer that always shows too much, loss made linear (docs/theory/heat.md), heat
to the stands (judgement) [1]."""

VAGUE = 2.0
"""Standard deviation above which a logarithm counts as not read [1]."""

Told = tuple[tuple[Observation, ...], Floats]
"""Observations, and the correlation of their errors."""


def heat_and_loss(welded: Welded) -> Told:
    """Arc heat and air cooling as a log's thermometer tells them; nothing where it has no reading that was used."""
    standing = welded.standing(welded.bench, read=True)
    if not any(reading.used for reading in standing.readings):
        return (), np.zeros((0, 0))
    start = physics_of(welded.bench).spread
    ends = np.linalg.inv(standing.estimate.root[-2:] @ standing.estimate.root[-2:].T)
    information = ends - np.linalg.inv(start @ start.T)
    # What no reading tells gets a width that says nothing, rather than none.
    covariance = np.linalg.inv((information + information.T) / 2 + np.eye(2) / VAGUE**2)
    logs = covariance @ ends @ standing.estimate.factors
    # All factors one stands for nought in logarithms; each grows with its own alone.
    slopes = np.zeros((2, 4))
    slopes[0, 2] = slopes[1, 3] = 1.0
    named = [(name, "1", "logarithm") for name in FIGURES]
    made, alike = observations(named, logs, covariance, np.zeros(2), slopes, SCATTER)  # type: ignore[arg-type]
    return made, np.eye(2) if alike is None else np.array(alike)
