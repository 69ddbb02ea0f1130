"""Orders made by rule, from which the search starts."""

from __future__ import annotations

from itertools import permutations, product
from math import factorial

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

VERY_FEW = 5
"""So many beads or fewer are tried in every order and each bead from both ends."""

SHARE = 0.08
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
        line = coolest_first(tries.view, bench.job.bench, bench.tacks, taste)
        tries.try_line(line, taste.limit)


def _tastes(tries: Tries) -> list[Taste]:
    """Every taste once, in an order by chance (seeded) so that few are a fair choice of all, then with jitter."""
    hottest, watch = tries.within.hottest, tries.limits.watch
    warmth = WARMTH if tries.bench.job.limits.spot is None else tuple(min(share, 1.0) for share in WARMTH)
    combined = list(product(warmth, DISTANCE_WORTH, DISTANCE_WORTH, (True, False)))
    mixed = np.random.default_rng(0).permutation(len(combined))
    return [
        Taste(share * hottest, far, near, side, watch, jitter * JITTER * max(hottest, 0.0), number)
        for number in range(int(SHARE * tries.plans))
        for jitter in [float(number >= len(combined))]
        for share, far, near, side in [combined[mixed[number % len(combined)]]]
    ]


def orders_to_try(beads: int) -> int:
    """How many orders `try_every_order` has for so many beads of one kind; none where they are too many."""
    return 0 if beads > FEW_ENOUGH else factorial(beads) * (2**beads if beads <= VERY_FEW else 1)


def try_every_order(tries: Tries) -> None:
    """Every order of a job with few beads, kind by kind, each with the waits it needs.

    Very few beads are tried both ways as well; otherwise each from its start, and the ways are left to small changes.
    """
    groups = kind_groups(tries.bench.model, tries.bench.job.bench.order)
    count = sum(len(group) for group in groups)
    ways = product((False, True), repeat=count) if count <= VERY_FEW else [(False,) * count]
    for parts, way in product(product(*(permutations(group) for group in groups)), list(ways)):
        if tries.over:
            return
        tries.try_order(Order(tuple(bead for part in parts for bead in part), way, tries.within.hottest))
