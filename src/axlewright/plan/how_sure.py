"""How sure a prediction is: bands of every figure, how often our plan still beats common practice, what matters most.

Each plan is walked with drawn inputs (`sampling`); a band runs from what a figure stays below in 10 of a hundred draws
to what it stays below in 90. What the model leaves out is not in the band. For the shape, therefore, no edge is closer
than a quarter of the figure before the shop has measured its own results: independent errors of formulas average out in
sums, but nobody knows that they are independent, and a simple shrinkage model that claims better than some 30 % is not
credible (full elasto-plastic computation reaches 5 to 10 %: Biswas and others, Proc. IMechE B, 2009). With the shop's
own results that share shrinks (`learned.narrowest`).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axlewright.plan.learned import WIDEST, narrowest
from axlewright.plan.report import Band, HowSure, Matter, PlanBands, Shape, Sides, UncertainInput
from axlewright.plan.sampling import FIGURES, SHAPE, Sampled
from axlewright.plan.what_matters import variance_shares
from axlewright.shop.factors import ShopFactors, without_results
from axlewright.solid.mesh import Floats

EDGES = (0.1, 0.5, 0.9)
"""Shares of the draws that lie below the low edge, the middle and the high edge of a band."""

NARROWEST = WIDEST
"""No edge of the shape's band is closer to its figure than this share of it, without results of the shop [1]."""

NO_HOTTER = 2.0
"""Our hottest spot counts as no hotter up to this much above that of common practice [K]: a shop's infrared thermometer
tells no less apart (2 K or 2 % is usual; common practice)."""

OURS, COMMON = 0, 1
"""Which plan is which in what was sampled."""


@dataclass(frozen=True)
class Edges:
    """Low edge, middle and high edge of every figure of a plan, in the order of `FIGURES`, each shape (figures,)."""

    low: Floats
    middle: Floats
    high: Floats


def edges(sampled: Sampled, plan: int, figures: Floats, narrowest: float = NARROWEST) -> Edges:
    """Band of every figure of a plan.

    Args:
        sampled: what was sampled.
        plan: which plan.
        figures: its figures with all inputs as taken.
        narrowest: how close an edge of the shape's band may come to its figure, as a share of it [1].
    """
    low, middle, high = np.quantile(sampled.figures[plan], EDGES, axis=0)
    away = narrowest * np.abs(figures) * np.isin(FIGURES, (*SHAPE, "distortion"))
    wide = away > 0
    low = np.where(wide, np.minimum(low, figures - away), low)
    high = np.where(wide, np.maximum(high, figures + away), high)
    return Edges(low, middle, high)


def as_shape(row: Floats) -> Shape:
    """The shape in a row of figures."""
    left_camber, right_camber, left_toe, right_toe, vertical, fore_aft, twist = (
        float(value) for value in row[: len(SHAPE)]
    )
    return Shape(Sides(left_camber, right_camber), Sides(left_toe, right_toe), vertical, fore_aft, twist)


def plan_bands(found: Edges, ambient_c: float, seals: bool) -> PlanBands:
    """Bands of temperatures [degC], tack load and distortion."""

    def band(figure: str, above: float = 0.0) -> Band:
        at = FIGURES.index(figure)
        return Band(*(above + float(row[at]) for row in (found.low, found.middle, found.high)))

    return PlanBands(
        band("hottest_spot", ambient_c),
        band("bearing_seat", ambient_c),
        band("seal", ambient_c) if seals else None,
        band("tack_load"),
        band("distortion"),
    )


def how_sure(sampled: Sampled, shop: ShopFactors | None = None) -> HowSure:
    """How often our plan beats common practice on the same draws, and what its figures depend on.

    Args:
        sampled: both plans.
        shop: what the shop has learned; left out: nothing.
    """
    hotter, distorted, loaded = (
        sampled.of(OURS, figure) - sampled.of(COMMON, figure)
        for figure in ("hottest_spot", "distortion", "tack_load")
    )
    kept = np.array([hotter <= NO_HOTTER, distorted <= 0.0, loaded <= 0.0])
    cooler, straighter, lighter = (float(share) for share in kept.mean(axis=1))
    return HowSure(
        samples=len(sampled.shares),
        no_hotter=cooler,
        no_more_distorted=straighter,
        tacks_no_more_loaded=lighter,
        all_three=float(kept.all(axis=0).mean()),
        tacks_hold=float((sampled.of(OURS, "tack_load") <= 1.0).mean()),
        inputs=tuple(UncertainInput(s.words, *s.reach, s.source) for s in sampled.spreads),
        matters=_matters(sampled),
        shop=shop or without_results(),
        narrowest=narrowest(shop),
    )


def _matters(sampled: Sampled) -> tuple[Matter, ...]:
    shares = {figure: variance_shares(sampled.shares, sampled.of(OURS, figure)) for figure in FIGURES}
    return tuple(Matter(figure, tuple(map(float, row))) for figure, row in shares.items() if row.any())
