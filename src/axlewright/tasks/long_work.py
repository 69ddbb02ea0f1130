"""Long work, whatever kind it is: done here from what `long_asked` gathered."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from axlewright.tasks.long_asked import Kind, LongWork, Worked
from axlewright.tasks.long_plan import choose_plan, plan_anew
from axlewright.tasks.long_straight import check, correct
from axlewright.tasks.long_watch import Watch
from axlewright.tasks.places import cache_folder

DOES: dict[Kind, Callable[[LongWork, Path | None, Watch], Worked]] = {
    "plan": plan_anew,
    "choose": choose_plan,
    "check": check,
    "correct": correct,
}


def do_work(work: LongWork, watch: Watch) -> Worked:
    """Do a piece of long work.

    Args:
        work: what is asked for.
        watch: told how far it is.

    Raises:
        AxlewrightError: it cannot be done as asked.
    """
    return DOES[work.kind](work, cache_folder(), watch)
