"""An extended Kalman filter that corrects the thermal state by readings and learns arc efficiency and surface loss.

The estimate holds the state of the heat balance and the logarithms of two factors, and the square root R of
their joint covariance P = R R^T. Uncertainty comes from few sources (the two factors, and the heat of each
bead), so R has few columns and each is carried forward as exactly as the state itself. A reading updates R in
Potter's form, which cannot lose symmetry or turn negative (Kaminski, Bryson and Schmidt, "Discrete square root
filtering: a survey of current techniques", IEEE Trans. Automatic Control AC-16 (1971), from memory).
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from axlewright.heat.reduce import HeatModes
from axlewright.heat.state import arc_pass
from axlewright.plan.replan.loss import with_loss
from axlewright.solid.mesh import Floats, Ints

EFFICIENCY_SPREAD = 0.10
"""Standard deviation of the arc heat over what the settings say, as a share [1].

Calorimetry and meters give 0.08 (`plan.spreads`); rounded up, as a filter that is too sure of itself learns too little.
"""

LOSS_SPREAD = 0.30
"""Standard deviation of the surface loss: draughts, bright or scaled skin, the law made linear (heat.md) [1]."""

BEAD_SPREAD = 0.05
"""Standard deviation of one bead's heat about the others: torch angle and stick-out by hand, a judgement [1]."""

EFFICIENCY, LOSS = -2, -1
"""Places of the two factors behind the modes."""


@dataclass(frozen=True)
class Estimate:
    """What is known of the housing's heat.

    Args:
        state: rise over ambient in the modes, shape (m,) [K].
        factors: logarithms of arc heat and surface loss over what the model has, shape (2,) [1].
        root: R with R R^T the joint covariance of state and factors, shape (m + 2, k).
    """

    state: Floats
    factors: Floats
    root: Floats

    @property
    def efficiency(self) -> float:
        """Arc heat over what the settings say [1]."""
        return float(np.exp(self.factors[EFFICIENCY]))

    @property
    def loss(self) -> float:
        """Surface loss over what the model has [1]."""
        return float(np.exp(self.factors[LOSS]))

    def spread(self, row: Floats) -> float:
        """Standard deviation of what a row on the state reads [K]."""
        return float(np.linalg.norm(row @ self.root[:-2]))

    def factor_spread(self, factor: int) -> float:
        """Standard deviation of the logarithm of a factor [1]."""
        return float(np.linalg.norm(self.root[factor]))


@dataclass(frozen=True)
class Physics:
    """The heat balance with what the filter needs of it.

    Args:
        modes: the reduced heat balance as the model has it.
        loss_rates: share of each decay rate that is loss, shape (m,) [1/s].
        rise: state in which every place is one kelvin over ambient, shape (m,) [K]; None where nobody needs it.
        spread: root of the covariance of the logarithms of arc heat and loss before any reading, shape (2, 2) [1].
    """

    modes: HeatModes
    loss_rates: Floats
    rise: Floats | None = None
    spread: Floats = field(default_factory=lambda: np.diag([EFFICIENCY_SPREAD, LOSS_SPREAD]))

    def learned(self, estimate: Estimate) -> HeatModes:
        """The modes with the loss learned so far."""
        return with_loss(self.modes, self.loss_rates, estimate.loss)


def fresh(
    modes: HeatModes, efficiency_spread: float = EFFICIENCY_SPREAD, loss_spread: float = LOSS_SPREAD
) -> Estimate:
    """A cold housing about which nothing has been learned."""
    return unread(Physics(modes, np.zeros(len(modes.rate)), None, np.diag([efficiency_spread, loss_spread])))


def unread(physics: Physics) -> Estimate:
    """A cold housing before any reading, with what is known of its heat and loss."""
    modes = len(physics.modes.rate)
    root = np.zeros((modes + 2, 2))
    root[[EFFICIENCY, LOSS]] = physics.spread
    return Estimate(np.zeros(modes), np.zeros(2), root)


def passed(physics: Physics, estimate: Estimate, seconds: float) -> Estimate:
    """The estimate after a time without arc."""
    if seconds <= 0:
        return estimate
    kept = np.exp(-physics.learned(estimate).rate * seconds)
    state, root = estimate.state * kept, estimate.root.copy()
    root[:-2] *= kept[:, None]
    # More loss means that every mode has decayed further: d/dln(loss) exp(-rate t) q = -t loss rate' exp(-rate t) q.
    root[:-2] += np.outer(-seconds * estimate.loss * physics.loss_rates * state, root[LOSS])
    return Estimate(state, estimate.factors, root)


def arced(
    physics: Physics,
    estimate: Estimate,
    stretches: Ints,
    power: float,
    seconds: Floats,
    spread: float = BEAD_SPREAD,
) -> Estimate:
    """The estimate after an arc has passed over stretches.

    Args:
        physics: the heat balance.
        estimate: what was known when the arc started.
        stretches: numbers of the stretches in the order of the arc's travel.
        power: net arc power by the settings [W].
        seconds: time the arc spends on each stretch [s].
        spread: standard deviation of this arc's own heat, as a share [1].
    """
    arc = arc_pass(physics.learned(estimate), stretches, estimate.efficiency * power, seconds)
    total = float(np.sum(seconds))
    root = estimate.root.copy()
    root[:-2] *= arc.kept[:, None]
    # Heat put in during the arc has on average had half of it to be lost in.
    lost = -total * estimate.loss * physics.loss_rates * (estimate.state * arc.kept + arc.gained / 2)
    root[:-2] += np.outer(arc.gained, root[EFFICIENCY]) + np.outer(lost, root[LOSS])
    if spread > 0:
        root = np.column_stack([root, np.append(spread * arc.gained, [0.0, 0.0])])
    return Estimate(estimate.state * arc.kept + arc.gained, estimate.factors, root)


def surplus_spread(estimate: Estimate, row: Floats, variance: float) -> float:
    """Standard deviation of a reading about what is expected of it [K]."""
    return float(np.sqrt(estimate.spread(row) ** 2 + variance))


def corrected(estimate: Estimate, row: Floats, reading: float, variance: float) -> Estimate:
    """The estimate after a reading.

    K = P h / (h^T P h + r), x <- x + K (y - h^T x), R <- R - K v^T / (1 + sqrt(r / (h^T P h + r))), v = R^T h.

    Args:
        estimate: what was known before.
        row: what the thermometer reads of the state, shape (m,) [1].
        reading: rise over ambient it showed [K].
        variance: of its error [K2].
    """
    seen = row @ estimate.root[:-2]
    total = float(seen @ seen) + variance
    if total <= 0.0:
        return estimate
    gain = estimate.root @ seen / total
    change = gain * (reading - float(row @ estimate.state))
    root = estimate.root - np.outer(gain, seen) / (1.0 + np.sqrt(variance / total))
    return Estimate(estimate.state + change[:-2], estimate.factors + change[-2:], root)
