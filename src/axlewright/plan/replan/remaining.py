"""The best way on from here: which of the beads left comes next, after which wait, and then the rest.

A plan that still holds is kept to the second: it keeps every limit, and waiting by temperature would hardly
gain on it. Otherwise its order is kept with new waits, or a new order is made where that gains much.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from axlewright.plan.coolest_first import Taste, kind_groups
from axlewright.plan.replan.ahead import Ahead, Remaining
from axlewright.plan.replan.intent import Intent
from axlewright.plan.replan.standing import Standing
from axlewright.plan.search.moves import changed
from axlewright.plan.search.rules import DISTANCE_WORTH, JITTER
from axlewright.plan.timeline import Step, Timeline

QUICK_TASTE = (15.0, 15.0, True)
"""Tried at once: kelvin a metre from the last bead and from the nearest one is worth, and whether to change side."""


def best_from_here(intent: Intent, standing: Standing) -> Remaining:
    """The best way on that can be said at once; `improve` looks for better ones.

    Args:
        intent: what was planned.
        standing: where things stand.
    """
    if not standing.left:
        return Remaining((), None, None, "plan", 0.0)
    ahead = Ahead(intent, standing)
    planned, rewaited = ahead.as_planned(), ahead.rewaited(ahead.planned_steps())
    if ahead.holds(planned, rewaited):
        return ahead.judged(planned, "plan")
    other = ahead.by_taste(Taste(ahead.limits.spot, *QUICK_TASTE, ahead.limits.watch))
    best = min([rewaited, other], key=lambda line: _rank(ahead, line))
    kept = _rank(ahead, rewaited)
    if best is not rewaited and (kept[0] > _rank(ahead, best)[0] or kept[1] - best.end > ahead.worth(best)):
        found = ahead.judged(best, _kept(ahead, best))
        # A bent housing or a cracked tack is no price for minutes.
        if found.excess <= ahead.judged(rewaited, "order").excess + 1e-3:
            return found
    return ahead.judged(rewaited, "order")


def improve(
    intent: Intent, standing: Standing, first: Remaining, tries: int, seed: int = 0
) -> Iterator[Remaining]:
    """Better and better ways on from here, as they are found; none where the plan itself still holds.

    Seeded, so repeatable. Stop asking at any time.

    Args:
        intent: what was planned.
        standing: where things stand.
        first: the way on known so far.
        tries: how many orders to try.
        seed: of the chance.
    """
    if first.line is None or first.kept == "plan":
        return
    ahead, best, chance = Ahead(intent, standing), first, np.random.default_rng(seed)
    for number in range(tries):
        line = _tried(ahead, best, number, tries, chance)
        if ahead.too_hot(line) > best.excess + 1e-3 or line.end > best.end + ahead.worth(line):
            continue
        found = ahead.judged(line, _kept(ahead, line))
        better = (round(found.excess, 3), found.end) < (round(best.excess, 3), best.end)
        if better:
            best = found
            yield found


def _tried(ahead: Ahead, best: Remaining, number: int, tries: int, chance: np.random.Generator) -> Timeline:
    """First the fewest turns; then orders by shaken tastes; the second half small changes to the best so far."""
    left = set(ahead.standing.left)
    if number == 0:
        return ahead.turned_less(ahead.planned_steps())
    if number < tries // 2 or len(left) < 2:
        per_metre, near, side = (chance.choice(DISTANCE_WORTH) for _ in range(3))
        jitter = JITTER * max(ahead.limits.spot, 0.0)
        taste = Taste(
            ahead.limits.spot,
            float(per_metre),
            float(near),
            bool(side > 15.0),
            ahead.limits.watch,
            jitter,
            int(chance.integers(1, 2**31)),
        )
        return ahead.by_taste(taste)
    return ahead.turned_less(_changed(ahead, best.steps, chance))


def _changed(ahead: Ahead, steps: tuple[Step, ...], chance: np.random.Generator) -> tuple[Step, ...]:
    """The beads left with one small change, as the search makes them; waits and turns follow later."""
    groups = kind_groups(ahead.view.model, ahead.habits.order)
    order = changed(ahead.order(steps), steps, groups, (ahead.limits.spot,), chance)
    return tuple(Step(bead, order.reverse[bead], 0.0) for bead in order.beads)


def _rank(ahead: Ahead, line: Timeline) -> tuple[float, float]:
    return round(ahead.too_hot(line), 3), line.end


def _kept(ahead: Ahead, line: Timeline) -> str:
    """Whether the beads come in the plan's order."""
    same = [step.bead for step in line.steps] == [step.bead for step in ahead.planned_steps()]
    return "order" if same else ""
