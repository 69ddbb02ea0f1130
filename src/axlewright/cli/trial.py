"""What the terminal shows of a trial to be made on scrap tube."""

from __future__ import annotations

import math

from axlewright.cli.lines import listed, output, put, put_table, table
from axlewright.shop.factors import WORDS
from axlewright.straightness.fit.figures import BAND
from axlewright.straightness.learn.trial_plan import TrialPlan
from axlewright.units import format_deflection, format_length


def _within(spread: float) -> str:
    """How far up a factor may lie in one case of twenty, by the standard deviation of its logarithm."""
    return f"+{100.0 * math.expm1(BAND * spread):.0f} %"


def show_trial(plan: TrialPlan) -> None:
    """Print where the beads of a trial go, and what it is expected to tell."""
    console, inch = output(), plan.inch
    console.print()
    put(console, f"A trial of {len(plan.beads)} beads, about {plan.minutes:.0f} min in all.", style="bold")
    console.print()
    made = table(
        "over the formula", "known now", "for the trial itself", "for the next job", folds=0, right=(1, 2, 3)
    )
    for one in plan.factors:
        now, here, after = (_within(spread) for spread in (one.before, one.here, one.after))
        made.add_row(WORDS[one.name], now, here, after)
    put_table(console, made)
    console.print()
    bend = format_deflection(plan.beads[-1].bend.middle, inch)
    put(
        console,
        f"Read at {format_length(plan.tube.dial, inch)}; the last bead is expected to leave a bend of {bend}. "
        f"{plan.layouts} layouts were looked at.",
    )
    listed(console, "What it cannot tell", plan.remarks)
    listed(console, "Mind", plan.cautions)
