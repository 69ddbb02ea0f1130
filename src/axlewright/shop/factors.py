"""The factors a shop can learn, as known before and after its own results.

A factor is what the shop's work does over what settings and formulas say: a tendon factor of 1.2 means beads that pull
a fifth more. Its logarithm is taken as normal.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

NAMES = ("tendon", "across", "heat", "loss")
"""Pull along a bead, shrinkage across it, arc heat that enters the steel, loss to the air."""

WORDS = {
    "tendon": "shrinkage along the bead",
    "across": "shrinkage across the bead",
    "heat": "arc heat",
    "loss": "air cooling",
}
"""What the shop calls each factor."""

PRIOR_SPREAD = np.array([0.26, 0.35, 0.08, 0.25])
"""Standard deviation of the logarithm of each factor before any result of the shop; sources in `plan.spreads`."""

JOB_SCATTER = np.array([0.12, 0.15, 0.04, 0.12])
"""Part of that by which one housing differs from the next in the same shop: fit-up, hand, plate, draught (judgement;
six T-joints of one set-up closed by angles that scattered by 0.12, Ferro et al. 2021)."""


@dataclass(frozen=True)
class ShopFactors:
    """What is known of a shop's factors on the next housing.

    Args:
        mean: mean of the logarithm of each factor in the order of `NAMES`, shape (4,) [1].
        covariance: of these logarithms, shape (4, 4) [1].
        jobs: how many housings measured before and after stand behind it.
        trials: how many scrap-tube trials stand behind it.
        source: name of the shop file, or "" for what is known without one.
        logs: how many bead logs with thermometer readings alone stand behind it.
    """

    mean: Floats
    covariance: Floats
    jobs: int = 0
    trials: int = 0
    source: str = ""
    logs: int = 0

    @property
    def learned(self) -> bool:
        """Whether any result of the shop stands behind it."""
        return self.jobs + self.trials + self.logs > 0

    @property
    def middle(self) -> dict[str, float]:
        """The middle of each factor by its name [1]."""
        return dict(zip(NAMES, np.exp(self.mean).tolist(), strict=True))

    @property
    def spread(self) -> Floats:
        """Standard deviation of the logarithm of each factor, shape (4,) [1]."""
        return np.sqrt(np.diag(self.covariance))


def without_results() -> ShopFactors:
    """What is known of a shop that has measured nothing yet."""
    return ShopFactors(np.zeros(len(NAMES)), np.diag(PRIOR_SPREAD**2))
