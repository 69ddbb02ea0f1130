"""What the readings of a trial show for any factors of the shop, and how well they can be known.

Everything a reading shows is driven by the arcs' heat, so with the logarithms t, a, h, l of the factors tendon, across,
heat and loss

    y = e^h sum over beads b of [ e^t along_b + e^a across_b + warm_b(l) ].

along and across are the bow that shrinkage leaves (nought for a thermometer), warm the bow or the rise by the heat that
is in the tube at that moment. All three come from the reduced model; warm is worked out at a few losses and laid
through as a polynomial, which meets the model at these.

Errors, each independent and given as one standard deviation: of the reading itself; of the moment it was taken; common
to all bends: the reading before the first arc; common to all temperatures: emissivity, the spot's place, the
steel's heat properties; of each bead: its own heat and its own shrinkage about the others.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axlewright.shop.factors import JOB_SCATTER
from axlewright.solid.mesh import Flags, Floats

LOSSES = np.array([-0.9, -0.45, 0.0, 0.45, 0.9])
"""Logarithms of the loss at which the model is asked [1]; the polynomial is not used beyond."""

BEAD_HEAT = 0.05
"""One bead's heat about the others' [1]; as in `plan.replan.thermometer`."""

BEAD_SHRINKAGE = 0.10
"""One bead's shrinkage about the others' of the same settings [1]: 0.18 of 1.44 degrees within one set-up of angular
shrinkage (Ferro et al. 2021, p. 200), of which a part is reading error; judgement."""

EMISSIVITY = 0.02
"""Share of the rise by which an infrared thermometer is off on matt black paint, 0.95 +-0.02 (judgement) [1]."""

_TO_COEFFICIENTS = np.linalg.inv(np.vander(LOSSES, increasing=True))


@dataclass(frozen=True)
class Response:
    """What readings show; n readings of B beads.

    Args:
        names: of the readings.
        along: bow by shrinkage along each bead, shape (n, B) [m].
        across: bow by shrinkage across each bead, shape (n, B) [m].
        warm: bow [m] or rise [K] by the heat of each bead at each of `LOSSES`, shape (n, B, 5).
        bends: which readings are bends, shape (n,).
        error: standard deviation of each reading [m or K], shape (n,).
        timing: the same of what the moment of reading adds, at factors 1, shape (n,).
        zero: standard deviation of the reading before the first arc [m].
        place: what a spot off its mark along or round the tube adds, at factors 1, shape (n, 2) [K].
        steel: what steel that conducts and stores heat otherwise adds, at factors 1, shape (n,) [m or K].
    """

    names: tuple[str, ...]
    along: Floats
    across: Floats
    warm: Floats
    bends: Flags
    error: Floats
    timing: Floats
    zero: float
    place: Floats
    steel: Floats

    def predicted(self, logs: Floats) -> Floats:
        """What the readings show for logarithms of the factors, shape (n,) [m or K]."""
        return self._by_bead(logs)[0].sum(axis=1)

    def sensitivities(self, logs: Floats) -> Floats:
        """Their change by the logarithm of each factor, shape (n, 4)."""
        shown, along, across, by_loss = self._by_bead(logs)
        return np.stack([part.sum(axis=1) for part in (along, across, shown, by_loss)], axis=1)

    def covariance(self, logs: Floats) -> Floats:
        """Covariance of the readings' errors, shape (n, n)."""
        common = self.errors(logs)
        heat = np.exp(logs[2])
        return common @ common.T + np.diag(self.error**2 + (heat * self.timing) ** 2)

    def errors(self, logs: Floats) -> Floats:
        """What each error that several readings share does to them, at one standard deviation, shape (n, e)."""
        shown, along, across, _ = self._by_bead(logs)
        heat = np.exp(logs[2])
        rise = np.where(self.bends, 0.0, shown.sum(axis=1))
        zero = np.where(self.bends, self.zero, 0.0)
        own = [EMISSIVITY * rise, heat * self.steel, zero]
        return np.column_stack(
            [*own, heat * self.place, BEAD_HEAT * shown, BEAD_SHRINKAGE * (along + across)]
        )

    def _by_bead(self, logs: Floats) -> tuple[Floats, Floats, Floats, Floats]:
        """By bead: what is shown, its parts by shrinkage along and across, its change by ln loss; each shape (n, B)."""
        tendon, across, heat, loss = logs
        warm, by_loss = self._warm(float(loss))
        pulled, closed = np.exp(heat + tendon) * self.along, np.exp(heat + across) * self.across
        return pulled + closed + np.exp(heat) * warm, pulled, closed, np.exp(heat) * by_loss

    def _warm(self, loss: float) -> tuple[Floats, Floats]:
        """warm and its slope at the logarithm of the loss, each shape (n, B)."""
        loss = float(np.clip(loss, LOSSES[0], LOSSES[-1]))
        order = np.arange(len(LOSSES))
        powers = loss**order
        slopes = order * loss ** np.maximum(order - 1, 0)
        return self.warm @ (powers @ _TO_COEFFICIENTS), self.warm @ (slopes @ _TO_COEFFICIENTS)


def posterior_covariance(prior: Floats, sensitivities: Floats, errors: Floats) -> Floats:
    """(P^-1 + J^T V^-1 J)^-1, what is left of a prior covariance after readings.

    Args:
        prior: covariance P before, shape (4, 4) [1].
        sensitivities: J, shape (n, 4).
        errors: covariance V of the readings' errors, shape (n, n).
    """
    told = sensitivities.T @ np.linalg.solve(errors, sensitivities)
    return np.asarray(np.linalg.inv(np.linalg.inv(prior) + told))


def expected_posterior(response: Response, prior: Floats) -> Floats:
    """Posterior covariance averaged over shops as they are known before, shape (4, 4) [1].

    The mean over a normal prior is taken at the eight points two standard deviations to either side of each factor.

    Args:
        response: what the readings show.
        prior: covariance of the logarithms of the factors before, about nought, shape (4, 4) [1].

    Source: Arasaratnam and Haykin, IEEE Transactions on Automatic Control 54 (2009), cubature of third degree; memory.
    """
    root = np.linalg.cholesky(prior)
    points = np.sqrt(len(prior)) * np.concatenate([root.T, -root.T])
    left = [posterior_covariance(prior, response.sensitivities(p), response.covariance(p)) for p in points]
    return np.asarray(np.mean(left, axis=0))


def of_the_shop(known: Floats, left: Floats) -> tuple[Floats, Floats]:
    """Covariance of the shop's own factors before and after a trial, each shape (4, 4) [1].

    A trial tells its own factors; those of the shop lie behind them, blurred by the scatter T from job to job. With P
    of the trial's factors before, L after, A = P - T and G = A P^-1

        A  and  A - G (P - L) G^T.

    Args:
        known: P, as known of the shop's next job, shape (4, 4) [1].
        left: L, shape (4, 4) [1].
    """
    own = known - np.diag(JOB_SCATTER**2)
    gain = own @ np.linalg.inv(known)
    return own, own - gain @ (known - left) @ gain.T


def information(prior: Floats, posterior: Floats) -> float:
    """How much is told of all factors together, 1/2 log2 (det prior / det posterior) [bit].

    Source: Lindley, Annals of Mathematical Statistics 27 (1956), for normal errors; from memory.
    """
    return float(0.5 * (np.linalg.slogdet(prior)[1] - np.linalg.slogdet(posterior)[1]) / np.log(2.0))
