"""Do half, measure, plan again: which of the chosen lines come first, and what to expect after each stage."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import numpy as np

from axlewright.job.schema import Job
from axlewright.solid.mesh import Floats, Ints
from axlewright.straightness.axis import AxisFit
from axlewright.straightness.correct.aims import Aim, worst_share
from axlewright.straightness.correct.report import Outcome
from axlewright.straightness.fit.judging import limit_checks

LINE_SCATTER = 0.15
"""Spread of one line's effect beside the factor all lines share, as a share of it [1]: heat, speed and length of a
short bead by hand; a judgement."""

MOST_TRIED = 14
"""Lines up to which every half is tried; beyond, lines are taken alternately."""

DRAWS = 4000
"""Cases drawn to tell how likely all limits are kept."""


@dataclass(frozen=True)
class Forecast:
    """A shape and the lines that are to change it.

    Args:
        axis: the shape as measured.
        effects: what each chosen line does to its parameters, shape (n, 11).
        spread: standard deviation of the logarithm of the factor all lines share [1].
    """

    axis: AxisFit
    effects: Floats
    spread: float

    def after(self, lines: Ints) -> AxisFit:
        """The shape to expect once some of the lines are laid, with all that is unsure of it."""
        laid = self.effects[lines]
        whole = laid.sum(axis=0)
        shared = np.expm1(self.spread**2) * np.outer(whole, whole)
        covariance = self.axis.covariance + shared + LINE_SCATTER**2 * laid.T @ laid
        return AxisFit(self.axis.span, self.axis.values + whole, covariance)

    def inside(self, aims: tuple[Aim, ...], seed: int = 0) -> float:
        """How likely all limits are kept once all lines are laid, 0 to 1, by drawing cases."""
        chance = np.random.default_rng(seed)
        values, shapes = np.linalg.eigh(self.axis.covariance)
        measured = chance.standard_normal((DRAWS, len(values))) * np.sqrt(np.maximum(values, 0.0))
        factor = np.exp(self.spread * chance.standard_normal(DRAWS))
        single = 1.0 + LINE_SCATTER * chance.standard_normal((DRAWS, len(self.effects)))
        drawn = self.axis.values + measured @ shapes.T + factor[:, None] * (single @ self.effects)
        return float((worst_share(aims, drawn) <= 1.0).mean())


def first_half(effects: Floats) -> Ints:
    """Numbers of the lines for the first stage: about half of them, that do about half of everything.

    Args:
        effects: what each chosen line does, shape (n, 11), n above nought.
    """
    count = len(effects)
    size = (count + 1) // 2
    if count > MOST_TRIED:
        return np.arange(0, count, 2)
    scale = np.maximum(np.abs(effects).max(axis=0), 1e-12)
    half = effects.sum(axis=0) / 2.0
    return min(
        (np.array(chosen, dtype=np.int64) for chosen in combinations(range(count), size)),
        key=lambda chosen: round(float((((effects[chosen].sum(axis=0) - half) / scale) ** 2).sum()), 9),
    )


def outcomes(job: Job, forecast: Forecast, first: Ints) -> tuple[Outcome, ...]:
    """Every limited figure now, after the first stage, and when all is done."""
    every = np.arange(len(forecast.effects))
    stages = [
        limit_checks(job, axis) for axis in (forecast.axis, forecast.after(first), forecast.after(every))
    ]
    return tuple(
        Outcome(now.name, now.unit, now.wanted, now.limit, now.figure, half.figure, done.figure)
        for now, half, done in zip(*stages, strict=True)
    )
