"""What a shop's own results make of a plan: the middle its bench works with, and what is drawn about it.

Without results everything is as formulas and settings say, and is drawn as `spreads` has it. With them the four factors
that a shop learns are drawn about its own middle, tied together as its results tie them: what they say of shrinkage
along and across a bead, for instance, is mostly what both do together.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from scipy.special import ndtr, ndtri

from axlewright.heat.varied import HeatFactors
from axlewright.plan.spreads import SPREADS, Inputs, Spread, log_normal
from axlewright.shop.factors import NAMES, ShopFactors, without_results
from axlewright.shop.telling import stands_behind
from axlewright.solid.mesh import Floats

ORDER = ("heat", "loss", "tendon", "across")
"""Factors in the order they are drawn: what costs a new heat flow does not hang on what only costs a walk."""

WIDEST, CLOSEST, TRIAL_ONLY = 0.25, 0.10, 0.175
"""No edge of the shape's band is closer to its figure than this share of it [1]: without results; ever; with trials on
scrap tube alone, which say nothing of the housing's own formulas (halfway, a judgement)."""

WITH_SHRINKAGE = np.array([0.8, 0.3, 0.0, 0.0])
"""What distortion grows by, in per cent, with each per cent of the factors in the order of `NAMES`: common practice on
the 36-bead demo (docs/theory/uncertainty.md)."""


def inputs_of(shop: ShopFactors) -> Inputs:
    """What the bench works with: the middle of what the shop has learned."""
    middle = shop.middle
    return Inputs(
        tendon=middle["tendon"],
        across=middle["across"],
        heat=middle["heat"],
        flow=HeatFactors(loss=middle["loss"]),
    )


def spreads_of(shop: ShopFactors | None) -> tuple[Spread, ...]:
    """What is drawn: the usual spreads, and about the shop's own middle what it has learned."""
    if shop is None or not shop.learned:
        return SPREADS
    return tuple(_own(spread, shop) if spread.name in NAMES else spread for spread in SPREADS)


def _own(spread: Spread, shop: ShopFactors) -> Spread:
    at = NAMES.index(spread.name)
    low, high = spread.reach
    source = f"{stands_behind(shop)}; before them {low:.2f} to {high:.2f} ({spread.source})"
    drawn = log_normal(spread.name, float(shop.spread[at]), float(np.exp(shop.mean[at])))
    return replace(spread, factors=drawn, source=source)


def tied(shares: Floats, spreads: tuple[Spread, ...], shop: ShopFactors | None) -> Floats:
    """Shares of the cases below each input, tied together as the shop's results tie its factors.

    With L the Cholesky factor of their correlation in the order of `ORDER`, independent normal numbers z become L z.
    The first of them stays as drawn; each other keeps its own distribution.

    Args:
        shares: drawn independently, shape (draws, inputs).
        spreads: the inputs.
        shop: what the shop has learned.
    """
    names = [spread.name for spread in spreads]
    if shop is None or not shop.learned or not set(ORDER) <= set(names):
        return shares
    known = [NAMES.index(name) for name in ORDER]
    columns = [names.index(name) for name in ORDER]
    correlation = (shop.covariance / np.outer(shop.spread, shop.spread))[np.ix_(known, known)]
    drawn = shares.copy()
    drawn[:, columns] = ndtr(ndtri(shares[:, columns]) @ np.linalg.cholesky(correlation).T)
    return drawn


def narrowest(shop: ShopFactors | None) -> float:
    """How close the edges of the shape's band may come to its figure, as a share of it [1].

    It shrinks as the spread of what shrinkage does to the shape shrinks, and never below `CLOSEST`: full elasto-plastic
    computation reaches 5 to 10 % (Biswas and others, Proc. IMechE B, 2009).
    """
    if shop is None or not shop.learned:
        return WIDEST
    now, before = (
        float(np.sqrt(WITH_SHRINKAGE @ known.covariance @ WITH_SHRINKAGE))
        for known in (shop, without_results())
    )
    least = CLOSEST if shop.jobs else TRIAL_ONLY
    return float(np.clip(WIDEST * now / before, least, WIDEST))
