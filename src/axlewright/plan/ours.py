"""Our plan: the one of all plans found that we recommend, or that the user has chosen."""

from __future__ import annotations

from dataclasses import dataclass

from axlewright.errors import Fault, OptionError
from axlewright.plan.bench import OnTheBench, Trial
from axlewright.plan.reasons import reasons
from axlewright.plan.recommend import Choice, choice, trade_off
from axlewright.plan.report import TradeOff
from axlewright.plan.search.search import USUAL, Say, Search, look_for_plans


@dataclass(frozen=True)
class Ours:
    """Our plan.

    Args:
        bench: the job on the bench, with stronger tacks than the job's own where every plan needs them.
        trial: the plan tried on it.
        found: the plans it was chosen from.
        trade_off: the same as data for pictures and files.
        why: why each bead is next, in the order of the plan.
    """

    bench: OnTheBench
    trial: Trial
    found: Choice
    trade_off: TradeOff
    why: tuple[str, ...]


def our_plan(
    bench: OnTheBench,
    common: Trial,
    search: Search = USUAL,
    choose: int | None = None,
    say: Say = lambda tries: None,
) -> Ours:
    """Look for plans and take the recommended one, or another by its number.

    The same job, seed and number of plans give the same plan, unless the time is up or the search is stopped.

    Args:
        bench: the job on the bench.
        common: common practice, tried on it.
        search: how thorough to be.
        choose: number of the plan to take, as the trade-off shows it; left out, the recommended one.
        say: told after each plan tried.

    Raises:
        OptionError: there is no plan of that number.
        JobFileError: a bead can be reached at none of the turns the job allows.
    """
    found = choice(look_for_plans(bench, common, search, say))
    return take(found, found.leading if choose is None else choose)


def take(found: Choice, number: int) -> Ours:
    """One of the plans found, by its number.

    Raises:
        OptionError: there is no plan of that number.
    """
    tries = found.tries
    if not 1 <= number <= len(found.plans):
        allowed = f"must be 1 to {len(found.plans)}, a number of the trade-off picture"
        raise OptionError(
            Fault("--choose", str(number), allowed, "Leave it out to get the recommended plan.")
        )
    trial = tries.bench.try_plan(found.plan(number).steps)
    why = reasons(tries, found.plan(number), trial.timeline)
    return Ours(tries.bench, trial, found, trade_off(found, number), why)
