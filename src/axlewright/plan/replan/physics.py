"""The heat balance of a job as the thermometer's filter needs it."""

from __future__ import annotations

import numpy as np

from axlewright.heat.varied import varied_modes
from axlewright.plan.bench import OnTheBench
from axlewright.plan.replan.loss import loss_rates, uniform_rise
from axlewright.plan.replan.thermometer import EFFICIENCY_SPREAD, LOSS_SPREAD, Physics
from axlewright.shop.factors import NAMES, PRIOR_SPREAD, ShopFactors
from axlewright.solid.mesh import Floats


def physics_of(bench: OnTheBench, shop: ShopFactors | None = None) -> Physics:
    """A job's heat balance as the filter needs it.

    Args:
        bench: the job on the bench, with the heat and loss that the shop has learned.
        shop: how well it knows them; left out: as any shop does.
    """
    built, flow = bench.unvaried.modes, bench.inputs.flow
    rise = uniform_rise(built)
    if bench.as_built is not None:
        rise = varied_modes(built, flow)[1].T @ rise
    usual = np.diag([EFFICIENCY_SPREAD, LOSS_SPREAD])
    spread = usual if shop is None or not shop.learned else _known(shop) @ usual
    return Physics(bench.model.modes, flow.loss * loss_rates(built), rise, spread)


def _known(shop: ShopFactors) -> Floats:
    """Root of the covariance of heat and loss over what it is without results of the shop, shape (2, 2) [1]."""
    both = [NAMES.index("heat"), NAMES.index("loss")]
    covariance = shop.covariance[np.ix_(both, both)] / np.outer(PRIOR_SPREAD[both], PRIOR_SPREAD[both])
    return np.asarray(np.linalg.cholesky(covariance))
