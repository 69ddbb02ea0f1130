"""The model behind what a shop learns, and the turns in which it is solved.

theta are the logarithms of the shop's factors, phi_j those of job j. With y the figures of a job, f what the model
shows, W what makes their errors independent and of unit size (`whitening`):

    theta ~ N(0, P - T),   phi_j - theta ~ t_nu(0, T),   W_i (y - f(phi_j)) ~ t_nu(0, 1),

P = diag(PRIOR_SPREAD^2), T = diag(JOB_SCATTER^2). A Student t is a normal whose precision is itself drawn from a gamma
distribution, so with all these precisions known the factors are normal. Precisions and factors are worked out in turn
until nothing moves (variational Bayes, mean field; f made linear at the phi_j of each turn):

    weight of a figure  = (nu + 1) / (nu + E[(W_i (y - f(phi_j)))^2])
    weight of a job     = (nu + 4) / (nu + E[(phi_j - theta)^T T^-1 (phi_j - theta)]).

A job whose factors lie far from the shop's loses weight as a whole, a figure that does not fit the others of its job
alone. The first weights are those of what was expected before any result, so that one wild result among good ones
starts with little weight.

Sources: Lange, Little and Taylor, "Robust statistical modeling using the t distribution", J. American Statistical
    Association 84 (1989), nu = 4 for general use; Bishop, Pattern Recognition and Machine Learning (2006), 10.1 (both
    from memory). Checked against Gibbs sampling of the same model, and against the closed form where nu is infinite
    (docs/theory/learning.md).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from axlewright.shop.evidence import Evidence, Floats, shown_by, slopes_by
from axlewright.shop.factors import JOB_SCATTER, NAMES

NU = 4.0
"""Degrees of freedom of the Student t: 4 keeps most of what clean data tell and bounds what dirt can do [1]."""

TURNS = 500
"""Most turns between weights and factors; some forty usually do."""

STILL = 1e-10
"""Change of the logarithms at which they count as found [1]."""

_FURTHEST = 0.7
"""Most that a logarithm moves in one turn: a factor of two, beyond which the straight line is no guide [1]."""

_SCATTER = 1.0 / JOB_SCATTER**2
_COUNT = len(NAMES)


@dataclass(frozen=True)
class Weighed:
    """A result and how it was counted.

    Args:
        evidence: the result.
        weight: of the job as a whole; about 1 as any other, near 0 hardly counted.
        weights: of each figure, the same, shape (n,).
        misfits: measured less shown with the job's own factors, in standard deviations, shape (n,).
        logs: logarithms of the job's own factors, shape (4,).
    """

    evidence: Evidence
    weight: float
    weights: Floats
    misfits: Floats
    logs: Floats


class Fit:
    """Results and factors while they are brought to fit.

    Jobs with fewer figures than others are filled up with ones that say nothing.

    Args:
        evidence: one or more results, in order.
        nu: degrees of freedom of the Student t [1].
    """

    def __init__(self, evidence: Sequence[Evidence], nu: float) -> None:
        self.evidence, self.nu = evidence, nu
        self.counts = [len(one.observations) for one in evidence]
        jobs, most = len(evidence), max(self.counts)
        self.measured, self.predicted = np.zeros((jobs, most)), np.zeros((jobs, most))
        self.rows, self.whiten = np.zeros((jobs, most, _COUNT)), np.zeros((jobs, most, most))
        self.by_factor = np.zeros((jobs, most), dtype=bool)
        for number, (one, count) in enumerate(zip(evidence, self.counts, strict=True)):
            self.measured[number, :count], self.predicted[number, :count] = one.measured, one.predicted
            self.rows[number, :count], self.by_factor[number, :count] = one.rows, one.by_factor
            self.whiten[number, :count, :count] = whitening(one.errors)
        self.at = np.array([one.at for one in evidence])
        self.logs = np.zeros((jobs, _COUNT))
        self.weights, self.weight = np.ones((jobs, most)), np.ones(jobs)

    def settled(self, prior: Floats) -> tuple[Floats, Floats]:
        """Mean and covariance of the shop's own factors once nothing moves any more.

        Args:
            prior: their covariance before any result, shape (4, 4).
        """
        theta, scatter = np.zeros(_COUNT), np.diag(JOB_SCATTER**2)
        self._weigh(
            theta, np.broadcast_to(prior + scatter, (len(self.weight), *scatter.shape)), scatter[None]
        )
        for turn in range(TURNS):
            before = np.vstack([self.logs, theta])
            theta, left, own, apart = self._factors(prior, 1.0 if turn < TURNS // 4 else 0.3)
            self._weigh(theta, own, apart)
            if np.abs(np.vstack([self.logs, theta]) - before).max() < STILL:
                break
        return theta, left

    def weighed(self) -> tuple[Weighed, ...]:
        """The results as they were counted."""
        misfits = self._misfits()
        return tuple(
            Weighed(one, float(self.weight[n]), self.weights[n, :count], misfits[n, :count], self.logs[n])
            for n, (one, count) in enumerate(zip(self.evidence, self.counts, strict=True))
        )

    def _misfits(self) -> Floats:
        shown = shown_by(self.predicted, self.rows, self.by_factor, self.logs - self.at)
        return np.asarray(np.einsum("jnm,jm->jn", self.whiten, self.measured - shown))

    def _slopes(self) -> Floats:
        return np.asarray(self.whiten @ slopes_by(self.rows, self.by_factor, self.logs - self.at))

    def _factors(self, prior: Floats, share: float) -> tuple[Floats, Floats, Floats, Floats]:
        """Factors of the shop with their covariance, and the covariances of phi_j and of phi_j - theta, at set weights.

        Args:
            prior: covariance of the shop's factors before any result, shape (4, 4).
            share: how much of a step to the new phi_j is gone.
        """
        slopes = self._slopes()
        rest = self._misfits() + np.einsum("jnk,jk->jn", slopes, self.logs)
        seen = np.einsum("jnk,jn,jnl->jkl", slopes, self.weights, slopes)
        told = np.einsum("jnk,jn->jk", slopes, self.weights * rest)
        scatter = self.weight[:, None, None] * np.diag(_SCATTER)
        alone = np.linalg.inv(seen + scatter)
        # phi_j is done away with: what a job tells of the shop's factors is blurred by the scatter of jobs.
        drawn = alone @ scatter
        left = np.linalg.inv(np.linalg.inv(prior) + np.sum(seen @ drawn, axis=0))
        theta = left @ np.sum(np.einsum("jkl,jk->jl", drawn, told), axis=0)
        step = np.einsum("jkl,jl->jk", alone, told) + drawn @ theta - self.logs
        self.logs = self.logs + share * np.clip(step, -_FURTHEST, _FURTHEST)
        away = drawn - np.eye(_COUNT)
        own = alone + drawn @ left @ np.swapaxes(drawn, 1, 2)
        apart = alone + away @ left @ np.swapaxes(away, 1, 2)
        return theta, left, own, apart

    def _weigh(self, theta: Floats, own: Floats, apart: Floats) -> None:
        """Weights of all jobs and figures by how they fit."""
        if np.isinf(self.nu):
            return
        slopes = self._slopes()
        off = self._misfits() ** 2 + np.einsum("jnk,jkl,jnl->jn", slopes, own, slopes)
        self.weights = (self.nu + 1.0) / (self.nu + off)
        gap = (self.logs - theta) ** 2 + np.diagonal(apart, axis1=1, axis2=2)
        self.weight = (self.nu + _COUNT) / (self.nu + gap @ _SCATTER)


def whitening(errors: Floats) -> Floats:
    """What makes figures with these errors independent and of unit size, each staying as near to itself as can be.

        W = C^(-1/2) D^(-1/2), D the variances, C the correlation matrix.

    So the weight of the i-th is the weight of the i-th figure, as nearly as correlated figures can have their own.

    Args:
        errors: covariance, shape (n, n).

    Source: Kessy, Lewin and Strimmer, "Optimal whitening and decorrelation", The American Statistician 72 (2018)
        (from memory).
    Valid: variances above nought; directions of no error at all are taken as of a millionth of the largest.
    Raises: nothing.
    """
    spread = np.sqrt(np.diag(errors))
    values, vectors = np.linalg.eigh(errors / spread[:, None] / spread)
    root = vectors / np.sqrt(np.maximum(values, 1e-12 * values.max())) @ vectors.T
    return np.asarray(root / spread)
