"""From the results of a shop to its factors, so that no single bad measurement can wreck them.

How it is worked out stands in `shop.fitting`; the factors of the next job are normal, with the mean of the shop's own
factors and their covariance plus the scatter from job to job.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from axlewright.shop.evidence import Evidence, Floats
from axlewright.shop.factors import JOB_SCATTER, NAMES, PRIOR_SPREAD, ShopFactors
from axlewright.shop.fitting import NU, Fit, Weighed


@dataclass(frozen=True)
class Learned:
    """What results teach.

    Args:
        factors: of the shop's next job.
        covariance: of the logarithms of the shop's own factors, without the scatter of jobs, shape (4, 4).
        weighed: the results as counted, by name.
    """

    factors: ShopFactors
    covariance: Floats
    weighed: tuple[Weighed, ...]


def posterior(evidence: Sequence[Evidence], source: str = "") -> ShopFactors:
    """The factors of a shop's next job after its results; see `learn`."""
    return learn(evidence, source).factors


def learn(evidence: Sequence[Evidence], source: str = "", nu: float = NU) -> Learned:
    """What results teach, in whatever order they come.

    Args:
        evidence: the results; none gives what is known without any.
        source: name of the shop file.
        nu: degrees of freedom of the Student t [1]; infinity for normal errors, where nothing is doubted.

    Valid: effects of a factor of three either way at most; results whose model is straight enough there
        (`Evidence.shown`).
    Raises: nothing.
    """
    shop = np.diag(PRIOR_SPREAD**2 - JOB_SCATTER**2)
    # The same sums in the same order, whatever the order of the results.
    ordered = sorted(evidence, key=lambda one: (one.name, one.date))
    theta, left = np.zeros(len(NAMES)), shop
    weighed: tuple[Weighed, ...] = ()
    if ordered:
        fit = Fit(ordered, nu)
        theta, left = fit.settled(shop)
        weighed = fit.weighed()
    kinds = [one.kind for one in ordered]
    factors = ShopFactors(
        theta,
        left + np.diag(JOB_SCATTER**2),
        jobs=kinds.count("housing"),
        trials=kinds.count("trial"),
        source=source,
        logs=kinds.count("log"),
    )
    return Learned(factors, left, weighed)
