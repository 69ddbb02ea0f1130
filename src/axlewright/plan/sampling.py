"""Walk plans with their uncertain inputs drawn from their spreads, all plans with the same draws.

Draws are a Latin hypercube: every input is cut into as many equally likely parts as there are draws, and each part
is drawn from once (McKay, Beckman and Conover, Technometrics 21 (1979) p. 239, from memory). The parts are then paired
so that inputs hardly correlate (after Iman and Conover, Communications in Statistics B11 (1982), from memory). Inputs
that change the heat flow or the tacks cost more, so `TOGETHER` draws share them, and only the shrinkage and the beads
differ within.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields, replace

import numpy as np
from scipy.special import ndtri

from axlewright.distortion.shape import ColdShape
from axlewright.heat.varied import HeatFactors
from axlewright.plan.bench import OnTheBench, Trial
from axlewright.plan.learned import tied
from axlewright.plan.spreads import SPREADS, Factors, Inputs, Spread
from axlewright.plan.timeline import Step
from axlewright.shop.factors import ShopFactors
from axlewright.solid.mesh import Floats

TOGETHER = 2
"""Draws that share heat flow, arc heat and tacks."""

SAMPLES = 200
"""Draws by default."""

FEWER_SAMPLES = 60
"""Draws by default on a model of more than `MANY_MODES` modes, where each takes five times as long."""

MANY_MODES = 500

QUICK = ("tendon", "across", "rotation", "bead_stiffness")
"""Inputs that leave heat flow, arc heat and tacks as they are."""

SHAPE = ("camber_left", "camber_right", "toe_left", "toe_right", "bow_vertical", "bow_fore_aft", "twist")
FIGURES = (*SHAPE, "distortion", "hottest_spot", "bearing_seat", "seal", "tack_load")
"""Figures of a plan as kept: angles [deg], bow and distortion [m], rises over ambient [K], load over strength [1]."""

Say = Callable[[int, int], None]
"""Told how many of how many draws are done."""


@dataclass(frozen=True)
class Sampled:
    """Plans walked with drawn inputs.

    Args:
        spreads: the inputs drawn.
        shares: share of the cases that lie below each drawn input, shape (draws, inputs).
        figures: shape (plans, draws, figures).
    """

    spreads: tuple[Spread, ...]
    shares: Floats
    figures: Floats

    def of(self, plan: int, figure: str) -> Floats:
        """One figure of one plan over all draws, shape (draws,)."""
        return np.asarray(self.figures[plan, :, FIGURES.index(figure)])


def usual_samples(bench: OnTheBench) -> int:
    """How many draws are made unless a number is asked for."""
    return SAMPLES if len(bench.model.modes.rate) <= MANY_MODES else FEWER_SAMPLES


def sample_plans(
    plans: Sequence[tuple[OnTheBench, tuple[Step, ...]]],
    count: int,
    spreads: tuple[Spread, ...] = SPREADS,
    seed: int = 0,
    say: Say = lambda done, of: None,
    shop: ShopFactors | None = None,
) -> Sampled:
    """Walk plans with drawn inputs. Waits stay as planned, by the clock.

    Args:
        plans: each plan with the bench it is meant for; benches of one model, varied alike or not at all.
        count: number of draws.
        spreads: inputs to draw; all others are as usual.
        seed: of the draws; the same seed gives the same draws.
        say: told how it goes.
        shop: what ties the inputs that a shop has learned; `spreads` are then those of `learned.spreads_of`.
    """
    shares = draws(spreads, count, seed)
    every = inputs_at(spreads, tied(shares, spreads, shop))
    figures = np.empty((len(plans), count, len(FIGURES)))
    for first in range(0, count, TOGETHER):
        slow = replace(every[first], tendon=1.0, across=1.0, rotation=1.0, bead_stiffness=1.0)
        model = plans[0][0].unvaried.varied(slow.flow)
        # Plans on the same bench share what is worked out for it.
        benches = {id(bench): bench.varied(slow, model) for bench, _ in plans}
        shared = [benches[id(bench)] for bench, _ in plans]
        lines = [bench.in_time(steps) for bench, (_, steps) in zip(shared, plans, strict=True)]
        for draw in range(first, min(first + TOGETHER, count)):
            owns = {key: bench.varied(every[draw]) for key, bench in benches.items()}
            own = [owns[id(bench)] for bench, _ in plans]
            figures[:, draw] = [figures_of(b, b.judged(line)) for b, line in zip(own, lines, strict=True)]
            say(draw + 1, count)
    return Sampled(spreads, shares, figures)


def draws(spreads: tuple[Spread, ...], count: int, seed: int) -> Floats:
    """Share of the cases below each input of each draw, shape (count, inputs)."""
    chance = np.random.default_rng(seed)
    quick = np.array([spread.name in QUICK for spread in spreads], dtype=bool)
    shares = np.empty((count, len(spreads)))
    few = -(-count // TOGETHER)
    slow = _hypercube(int((~quick).sum()), np.empty((few, 0)), chance)
    shares[:, ~quick] = np.repeat(slow, TOGETHER, axis=0)[:count]
    shares[:, quick] = _hypercube(int(quick.sum()), shares[:, ~quick], chance)
    return shares


def _hypercube(inputs: int, beside: Floats, chance: np.random.Generator) -> Floats:
    """A Latin hypercube whose columns hardly correlate with one another or with those beside it."""
    count = len(beside)
    if not inputs:
        return np.empty((count, 0))
    # One draw somewhere in each of `count` equally likely parts. The library's own would cost every start of the
    # program a third of a second (scipy.stats).
    parts = chance.permuted(np.tile(np.arange(count), (inputs, 1)), axis=1).T
    cube = (parts + chance.random((count, inputs))) / count
    known = np.column_stack([np.ones(count), ndtri(beside)])
    for column in cube.T:
        score = ndtri(column)
        own = score - known @ np.linalg.lstsq(known, score, rcond=None)[0]
        # The same values in the order of what the other columns do not tell.
        column[np.argsort(own, kind="stable")] = np.sort(column)
        known = np.column_stack([known, ndtri(column)])
    return cube


def inputs_at(spreads: tuple[Spread, ...], shares: Floats) -> list[Inputs]:
    """Inputs of every draw."""
    factors: Factors = {}
    for spread, share in zip(spreads, shares.T, strict=True):
        factors |= spread.factors(share)
    own, flow = (
        [
            {f.name: float(factors[f.name][n]) for f in fields(kind) if f.name in factors}
            for n in range(len(shares))
        ]
        for kind in (Inputs, HeatFactors)
    )
    return [Inputs(**mine, flow=HeatFactors(**theirs)) for mine, theirs in zip(own, flow, strict=True)]


def shape_figures(shape: ColdShape) -> Floats:
    """The figures of a cold shape in the order of `SHAPE`."""
    angles = np.rad2deg([*shape.camber, *shape.toe])
    return np.array([*angles, shape.bow_vertical, shape.bow_fore_aft, np.rad2deg(shape.twist)])


def figures_of(bench: OnTheBench, trial: Trial) -> Floats:
    """The figures of a tried plan in the order of `FIGURES`."""
    return np.array(
        [
            *shape_figures(trial.shape),
            bench.distortion(trial),
            trial.hottest,
            bench.warmest(trial, "bearing seat"),
            bench.warmest(trial, "seal"),
            trial.worst_tack,
        ]
    )
