"""Chains of small improvements, each after something else: time, coolness, straightness, easy tacks, all of them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axlewright.plan.bounds import HEAT_SLACK, STRENGTH
from axlewright.plan.coolest_first import kind_groups
from axlewright.plan.search.archive import Found
from axlewright.plan.search.moves import changed
from axlewright.plan.search.tries import Tries
from axlewright.solid.mesh import Floats

WARMTH = (0.5, 0.65, 0.8, 0.9, 1.0, 1.2, 1.5, 2.0, 3.0)
"""Spot temperatures that plans wait for, as shares of common practice's hottest rise."""

HOPE = 0.9
"""Best that one small change may be hoped to make of distortion and tack load, as a share of what they are."""

BROKEN = 20.0
"""What going beyond a bound by its own size costs, in units of what common practice has."""


@dataclass(frozen=True)
class Aim:
    """What a chain is after.

    Args:
        worth: what each count (bench time, hottest spot, distortion, tack load) is worth, as a share of
            common practice's.
        bounded: whether the plan must keep every bound of a recommended one.
        turns: how many tries the chain gets in a round.
    """

    worth: tuple[float, float, float, float]
    bounded: bool
    turns: int = 1


RECOMMENDED = Aim((1.0, 0.0, 1.0, 0.02), True, 4)
"""What a recommended plan is best at: bench time and distortion, each as a share of common practice's, added."""

AIMS = (
    RECOMMENDED,
    Aim((1.0, 0.0, 0.05, 0.02), True, 16),
    Aim((0.05, 0.0, 1.0, 0.02), True, 2),
    Aim((0.02, 0.02, 1.0, 0.02), False, 2),
    Aim((1.0, 0.05, 0.05, 0.05), False),
    Aim((0.2, 1.0, 0.2, 0.05), False),
    Aim((0.05, 0.05, 0.1, 1.0), False),
)


def cost(tries: Tries, aim: Aim, counts: Floats, too_warm: float = 0.0) -> float:
    """What a plan costs by an aim; a bound that is broken costs far more than anything else."""
    shares, within = counts / tries.scale, tries.within
    beyond = too_warm + max(0.0, counts[3] / (within.tack if aim.bounded else STRENGTH) - 1.0)
    if aim.bounded:
        hottest = (within.hottest + HEAT_SLACK) / tries.scale[1]
        beyond += max(0.0, shares[1] - hottest) + max(0.0, shares[2] - 1.0)
    return float(np.dot(aim.worth, shares)) + BROKEN * beyond


def best(tries: Tries, aim: Aim) -> Found:
    """The plan of the archive that costs least by an aim."""
    return min(tries.archive.plans, key=lambda plan: cost(tries, aim, plan.counts, plan.too_warm))


def improve(tries: Tries, seed: int) -> None:
    """Small changes to the best plan for each aim, one aim after another, until the tries are used up."""
    chance = np.random.default_rng(seed)
    groups = [group for group in kind_groups(tries.bench.model, tries.bench.job.bench.order) if group]
    warm = tuple(share * tries.within.hottest for share in WARMTH)
    chains = [_Chain(tries, aim) for aim in AIMS]
    while not tries.over:
        for chain in chains:
            for _ in range(chain.aim.turns):
                if tries.over:
                    return
                order = changed(chain.best.order, chain.best.steps, groups, warm, chance)
                found = tries.try_order(order, chain.worth_a_walk)
                if found is not None:
                    # What is of no use to one aim may be just what another looks for.
                    for other in chains:
                        other.consider(found)


class _Chain:
    """The best plan so far for one aim."""

    def __init__(self, tries: Tries, aim: Aim) -> None:
        self.tries, self.aim, self.best = tries, aim, best(tries, aim)
        self.cost = cost(tries, aim, self.best.counts, self.best.too_warm)

    def consider(self, found: Found) -> None:
        """Go on from a plan if it is no worse."""
        new = cost(self.tries, self.aim, found.counts, found.too_warm)
        if new <= self.cost:
            self.best, self.cost = found, new

    def worth_a_walk(self, counts: Floats) -> bool:
        """Whether a plan could be better, were it straighter and easier on the tacks by as much as one may hope."""
        hoped = np.array([*counts[:2], *HOPE * self.best.counts[2:]])
        return cost(self.tries, self.aim, hoped) <= self.cost
