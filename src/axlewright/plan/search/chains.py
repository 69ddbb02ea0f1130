"""Chains of small improvements, each after something else: time, coolness, straightness, easy tacks, all of them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axlewright.plan.bounds import HEAT_SLACK, STRENGTH
from axlewright.plan.coolest_first import kind_groups
from axlewright.plan.search.archive import Found
from axlewright.plan.search.moves import changed
from axlewright.plan.search.tries import GLANCE, Tries
from axlewright.solid.mesh import Floats

WARMTH = (0.5, 0.65, 0.8, 0.9, 1.0, 1.2, 1.5, 2.0, 3.0)
"""Spot temperatures that plans wait for, as shares of common practice's hottest rise."""

LEEWAY = 0.01
"""How much worse than the best a plan may be to go on from at first, in shares of common practice's figures."""

CALM = 0.8
"""From this share of the search on, only what is no worse is gone on from."""

HASTE = 0.25
"""Share of the search that looks for time alone."""

HOPE = 0.9
"""Best that one small change may be hoped to make of distortion and tack load, as a share of what they are."""

BROKEN = 20.0
"""What going beyond a bound by its own size costs, in units of what common practice has."""


@dataclass(frozen=True)
class Aim:
    """What a chain is after.

    Args:
        worth: what each count is worth: bench time, hottest spot and distortion as shares of common practice's,
            tack load as a share of its strength.
        bounded: whether the plan must keep every bound of a recommended one.
        turns: how many tries the chain gets in a round.
    """

    worth: tuple[float, float, float, float]
    bounded: bool
    turns: int = 1


RECOMMENDED = Aim((1.0, 0.0, 1.0, 0.25), True, 4)
"""What a recommended plan is best at: bench time and distortion, as shares of common practice's, and a quarter of the
tack load, as a share of its strength, added."""

AIMS = (
    RECOMMENDED,
    Aim((1.0, 0.0, 0.05, 0.02), True, 12),
    Aim((0.05, 0.0, 1.0, 0.02), True, 2),
    Aim((0.02, 0.02, 1.0, 0.02), False, 2),
    Aim((1.0, 0.05, 0.05, 0.05), False),
    Aim((0.2, 1.0, 0.2, 0.05), False),
    Aim((0.05, 0.05, 0.1, 1.0), False),
)


def cost(tries: Tries, aim: Aim, counts: Floats, too_warm: Floats | float = 0.0) -> Floats:
    """What a plan costs by an aim, or each of several; a bound that is broken costs far more than anything else.

    Args:
        tries: the search.
        aim: what is aimed at.
        counts: of one plan, shape (4,), or of several, shape (plans, 4).
        too_warm: how far seats and seals get beyond their limits, one number a plan.
    """
    shares, within = counts / tries.scale, tries.within
    tack = within.tack if aim.bounded else STRENGTH
    beyond = too_warm + np.maximum(0.0, counts[..., 3] / tack - 1.0)
    if aim.bounded:
        hottest = (within.hottest + HEAT_SLACK) / tries.scale[1]
        beyond = beyond + np.maximum(0.0, shares[..., 1] - hottest) + np.maximum(0.0, shares[..., 2] - 1.0)
    return np.asarray(shares @ np.array(aim.worth) + BROKEN * beyond)


def best(tries: Tries, aim: Aim) -> Found:
    """The plan of the archive that costs least by an aim."""
    plans = tries.archive.plans
    counts, warm = np.array([plan.counts for plan in plans]), np.array([plan.too_warm for plan in plans])
    return plans[int(np.argmin(cost(tries, aim, counts, warm)))]


def hasten(tries: Tries, seed: int) -> None:
    """Small changes that only save time, from the quickest plan that is no hotter than a recommended one may be.

    Putting an order in time costs far less than walking it, so many are looked at; only records are walked.
    """
    chance = np.random.default_rng(seed)
    groups = kind_groups(tries.bench.model, tries.bench.job.bench.order)
    hottest = tries.within.hottest + HEAT_SLACK
    cool = [plan for plan in tries.archive.plans if plan.counts[1] <= hottest]
    if not cool:
        return
    here = min(cool, key=lambda plan: float(plan.counts[0]))
    order, steps, record = here.order, here.steps, float(here.counts[0])
    looks = int(HASTE * tries.plans / GLANCE)
    for look in range(looks):
        if tries.over:
            return
        new = changed(order, steps, groups, (tries.within.hottest,), chance)
        line = tries.glance(new)
        leeway = LEEWAY * tries.scale[0] * max(0.0, 1.0 - look / (CALM * looks))
        if line.spots.max() <= hottest and line.end <= record + leeway:
            order, steps = new, line.steps
            if line.end < record:
                record = line.end
                tries.judge(new, line)


def improve(tries: Tries, seed: int) -> None:
    """Small changes to the best plan for each aim, one aim after another, until the tries are used up."""
    chance = np.random.default_rng(seed)
    groups = kind_groups(tries.bench.model, tries.bench.job.bench.order)
    warm = tuple(share * tries.within.hottest for share in WARMTH)
    chains = [_Chain(tries, aim) for aim in AIMS]
    while True:
        for chain in chains:
            for _ in range(chain.aim.turns):
                if tries.over:
                    return
                order = changed(chain.here.order, chain.here.steps, groups, warm, chance)
                found = tries.try_order(order, chain.worth_a_walk)
                if found is not None:
                    # What is of no use to one aim may be just what another looks for.
                    for other in chains:
                        other.consider(found)


class _Chain:
    """Where the search for one aim has got to.

    It goes on from a plan that is a little worse than the best so far, less and less so, which leads out of
    dead ends (record-to-record travel: Dueck, Journal of Computational Physics 104, 1993).
    """

    def __init__(self, tries: Tries, aim: Aim) -> None:
        self.tries, self.aim, self.here = tries, aim, best(tries, aim)
        self.record = float(cost(tries, aim, self.here.counts, self.here.too_warm))

    @property
    def good_enough(self) -> float:
        """Highest cost of a plan to go on from."""
        return self.record + LEEWAY * max(0.0, 1.0 - self.tries.done / (CALM * self.tries.plans))

    def consider(self, found: Found) -> None:
        """Go on from a plan if it is good enough."""
        new = float(cost(self.tries, self.aim, found.counts, found.too_warm))
        if new <= self.good_enough:
            self.here, self.record = found, min(new, self.record)

    def worth_a_walk(self, counts: Floats) -> bool:
        """Whether a plan could be better, were it straighter and easier on the tacks by as much as one may hope."""
        hoped = np.array([*counts[:2], *HOPE * self.here.counts[2:]])
        return bool(cost(self.tries, self.aim, hoped) <= self.good_enough)
