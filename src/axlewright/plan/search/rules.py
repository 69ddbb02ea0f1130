"""Orders made by rule, from which the search starts."""

from __future__ import annotations

from itertools import permutations, product

import numpy as np

from axlewright.plan.coolest_first import Taste, coolest_first, kind_groups
from axlewright.plan.search.orders import Order
from axlewright.plan.search.tries import Tries

DISTANCE_WORTH = (0.0, 15.0, 50.0, 150.0)
"""What a metre of distance from the last bead is worth [K/m], from not at all to above everything."""

WARMTH = (1.0, 2.0, 0.65)
"""Spot temperatures waited for, as shares of what a recommended plan may reach."""

FEW_ENOUGH = 7
"""So many beads or fewer are tried in every order."""

SHARE = 0.12
"""Share of all tries spent on orders made by rule."""

JITTER = 0.15
"""Chance in the rule's rating of a bead once all tastes have been tried, as a share of the spot limit."""


def try_rules(tries: Tries) -> None:
    """Common practice's order without its clock, then the coolest spot first by many tastes."""
    beads = [step.bead for step in tries.common.timeline.steps]
    forward = (False,) * len(beads)
    for spot in (tries.within.hottest, np.inf):
        tries.try_order(Order(tuple(beads), forward, spot))
    for taste in _tastes(tries):
        if tries.over:
            return
        bench = tries.bench
        steps = coolest_first(tries.view, bench.job.bench, bench.tacks, taste)
        tries.try_steps(steps, taste.limit)


def _tastes(tries: Tries) -> list[Taste]:
    """Every taste once, in an order by chance (seeded) so that few are a fair choice of all, then with jitter."""
    hottest, watch = tries.within.hottest, tries.limits.watch
    combined = list(product(WARMTH, DISTANCE_WORTH, DISTANCE_WORTH, (True, False)))
    mixed = np.random.default_rng(0).permutation(len(combined))
    return [
        Taste(share * hottest, far, near, side, watch, jitter * JITTER * max(hottest, 0.0), number)
        for number in range(int(SHARE * tries.plans))
        for jitter in [float(number >= len(combined))]
        for share, far, near, side in [combined[mixed[number % len(combined)]]]
    ]


def try_every_order(tries: Tries) -> None:
    """Every order of a job with few beads, kind by kind, each with the waits it needs."""
    groups = [group for group in kind_groups(tries.bench.model, tries.bench.job.bench.order) if group]
    forward = (False,) * sum(len(group) for group in groups)
    for parts in product(*(permutations(group) for group in groups)):
        if tries.over:
            return
        tries.try_order(Order(tuple(bead for part in parts for bead in part), forward, tries.within.hottest))
