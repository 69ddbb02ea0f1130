"""Look for plans: by rule, by small changes, with tacks that hold."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from axlewright.plan.bench import OnTheBench, Trial
from axlewright.plan.bounds import STRENGTH, bounds
from axlewright.plan.outlook import outlook
from axlewright.plan.search.chains import RECOMMENDED, best, hasten, improve
from axlewright.plan.search.rules import FEW_ENOUGH, orders_to_try, try_every_order, try_rules
from axlewright.plan.search.tries import Tries
from axlewright.plan.stronger_tacks import strengthened

MOST_PLANS = 3000
"""So many plans are tried at most; more beads, fewer plans, as each takes longer."""

WORK, GROWTH = 245_000, 1.25
"""Plans tried, times beads to this power: 2,780 on 36 beads, 790 on 98, some fifteen seconds each."""

SECONDS = 20.0
"""The search takes no longer than this unless asked for [s]; on a slow machine it then tries fewer plans."""

Say = Callable[[Tries], None]
"""Told after each plan tried."""


@dataclass(frozen=True)
class Search:
    """How thorough a search is.

    Args:
        plans: how many plans may be tried; None for what suits the number of beads.
        seconds: longest time [s].
        seed: of the chance; the same seed and number of plans give the same result.
    """

    plans: int | None = None
    seconds: float = SECONDS
    seed: int = 0

    def plans_for(self, beads: int) -> int:
        """How many plans are tried on a job of so many beads; more where more time is given."""
        if self.plans is not None:
            return self.plans
        return orders_to_try(beads) + int(
            max(1.0, self.seconds / SECONDS) * min(MOST_PLANS, WORK / beads**GROWTH)
        )


USUAL = Search()
"""The search that is made where nothing else is asked for."""


def look_for_plans(
    bench: OnTheBench, common: Trial, search: Search = USUAL, say: Say = lambda tries: None
) -> Tries:
    """Look for plans none of which beats another.

    An interrupt from the keyboard stops the search; what has been found is kept.

    Args:
        bench: the job on the bench.
        common: common practice, tried on it.
        search: how thorough to be.
        say: told after each plan tried.

    Returns:
        What was tried. Its bench has stronger tacks where every plan overloads the job's own.

    Raises:
        KeyboardInterrupt: it came before there was any plan.
        JobFileError: a bead can be reached at none of the turns the job allows.
    """
    beads = len(bench.model.assembly.beads)
    view = outlook(bench.model, bench.heated, bench.job.bench)
    within = bounds(bench, common)
    tries = Tries(bench, view, within, common, search.plans_for(beads), search.seconds, say)
    try:
        try_rules(tries)
        tries = with_stronger_tacks(tries)
        if beads <= FEW_ENOUGH:
            try_every_order(tries)
        hasten(tries, search.seed)
        improve(tries, search.seed)
        tries = with_stronger_tacks(tries)
    except KeyboardInterrupt:
        if not tries.archive.plans:
            raise
        tries.stopped = True
    return tries


def with_stronger_tacks(tries: Tries) -> Tries:
    """The same plans on stronger tacks, where each of them overloads one."""
    lightest = min(tries.archive.plans, key=lambda plan: float(plan.counts[3]))
    if lightest.counts[3] <= STRENGTH:
        return tries
    leading = best(tries, RECOMMENDED)
    return tries.on(strengthened(tries.bench, leading.steps))
