"""Our plan: many orders by the same rule with different tastes, all walked, the quickest good one taken."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from itertools import product

import numpy as np

from axlewright.plan.bench import OnTheBench, Trial, kind_of_place
from axlewright.plan.common_practice import common_order
from axlewright.plan.coolest_first import Outlook, Taste, coolest_first, in_order, outlook
from axlewright.plan.timeline import Step
from axlewright.solid.mesh import Floats

DISTANCE_WORTH = (0.0, 15.0, 50.0, 150.0)
"""What a metre of distance from the last bead is worth [K/m], from not at all to above everything."""

SHAKEN = 160
"""Further orders tried with the choice of each bead shaken by chance (seeded, so the same on every run)."""

JITTER = 0.15
"""How much by, as a share of the limit on the spot temperature."""

SWAPS = 300
"""Swaps of two beads tried on the best of them (seeded)."""

MORE_BOW = 1.10
"""How much more than common practice our plan may bow."""

Say = Callable[[int, int], None]
"""Told how many of how many orders have been tried."""


@dataclass(frozen=True)
class Bounds:
    """What our plan must not exceed.

    Args:
        hottest: rise of the spot temperature over ambient [K].
        bow: bow in both planes together [m].
        tack: greatest utilisation of a tack.
        seat: rise of the knuckle bearing seats over ambient [K].
        seal: rise of the seals over ambient, or None [K].
    """

    hottest: float
    bow: float
    tack: float
    seat: float
    seal: float | None


def bounds(bench: OnTheBench, common: Trial) -> Bounds:
    """Bounds from the job's limits and from what common practice does to the same housing."""
    limits, ambient = bench.job.limits, bench.job.ambient.temperature
    spot = common.hottest if limits.spot is None else limits.spot - ambient
    seal = None if limits.seal is None else limits.seal - ambient
    return Bounds(spot, MORE_BOW * common.bow, common.worst_tack, limits.bearing_seat - ambient, seal)


def our_plan(bench: OnTheBench, common: Trial, say: Say = lambda done, of: None) -> Trial:
    """The quickest order that stays within the bounds; where none does, the one that breaks them least.

    Deterministic: the same job gives the same plan.

    Args:
        bench: the job on the bench.
        common: common practice, tried on it.
        say: told how the search goes.
    """
    within, view = bounds(bench, common), outlook(bench.model, bench.heated)
    best, best_rank = common, (np.inf, np.inf)
    candidates = list(_candidates(bench, view, within))
    for number, make in enumerate(candidates):
        line = bench.in_time(make())
        # Most of the time goes into walking, and a slower order than one that keeps all bounds is of no use.
        if best_rank > (0.0, line.end):
            trial = bench.judged(line)
            rank = (round(excess(bench, trial, within), 3), line.end)
            if rank < best_rank:
                best, best_rank = trial, rank
        say(number + 1, len(candidates) + SWAPS)
    return _polished(
        bench, view, best, within, lambda done: say(len(candidates) + done, len(candidates) + SWAPS)
    )


def _polished(
    bench: OnTheBench, view: Outlook, best: Trial, within: Bounds, say: Callable[[int], None]
) -> Trial:
    """Swap beads of the same kind at random (seeded) and keep what is quicker and breaks no more bounds."""
    if not any(step.wait for step in best.timeline.steps):
        return best
    chance = np.random.default_rng(0)
    kinds = np.array([bench.model.assembly.seams[bead.seam].kind for bead in bench.model.assembly.beads])
    taste = Taste(within.hottest, 0.0, 0.0, False, _watch_limits(bench, within))
    best_rank = (round(excess(bench, best, within), 3), best.timeline.end)
    for done in range(SWAPS):
        order = [step.bead for step in best.timeline.steps]
        first = int(chance.integers(len(order)))
        same = np.flatnonzero(kinds[order] == kinds[order[first]])
        second = int(same[chance.integers(len(same))])
        order[first], order[second] = order[second], order[first]
        line = bench.in_time(in_order(view, bench.job.bench, bench.tacks, taste, order))
        if (best_rank[0], line.end) < best_rank:
            trial = bench.judged(line)
            rank = (round(excess(bench, trial, within), 3), line.end)
            if rank < best_rank:
                best, best_rank = trial, rank
        say(done + 1)
    return best


def excess(bench: OnTheBench, trial: Trial, within: Bounds) -> float:
    """How far a plan goes beyond its bounds, as a share of each, summed; 0 where it keeps them all."""
    pairs = [
        (trial.hottest, within.hottest + 0.05),
        (trial.bow, within.bow),
        (trial.worst_tack, within.tack),
        (bench.warmest(trial, "bearing seat"), within.seat),
    ]
    if within.seal is not None:
        pairs.append((bench.warmest(trial, "seal"), within.seal))
    return sum(max(0.0, value / limit - 1.0) if limit > 0 else 1.0 for value, limit in pairs)


def _candidates(bench: OnTheBench, view: Outlook, within: Bounds) -> Iterator[Callable[[], tuple[Step, ...]]]:
    job, parts = bench.job, (view, bench.job.bench, bench.tacks)
    order = common_order(bench.model.assembly, job.bench.order)
    watch = _watch_limits(bench, within)
    yield partial(in_order, *parts, Taste(within.hottest, 0.0, 0.0, False, watch), order)
    tastes = [
        Taste(share * within.hottest, per_metre, near, side, watch)
        for per_metre, near, side, share in product(DISTANCE_WORTH, DISTANCE_WORTH, (True, False), (1.0, 0.8))
    ]
    for taste in tastes:
        yield partial(coolest_first, *parts, taste)
    shaken = [taste for taste in tastes if taste.limit == within.hottest]
    for seed in range(SHAKEN):
        taste = replace(shaken[seed % len(shaken)], jitter=JITTER * max(within.hottest, 0.0), seed=seed + 1)
        yield partial(coolest_first, *parts, taste)


def _watch_limits(bench: OnTheBench, within: Bounds) -> Floats:
    """Limit of every watch place [K]."""
    limits = {"bearing seat": within.seat, "seal": within.seal}
    found = [limits[kind_of_place(name)] for name in bench.model.modes.places]
    return np.array([np.inf if limit is None else limit for limit in found])
