"""What the terminal shows of what a shop has learned, and of a trial to be made."""

from __future__ import annotations

import math

from axlewright.cli.lines import output, put, put_table, table
from axlewright.cli.straightness import listed
from axlewright.shop.evidence import KINDS
from axlewright.shop.factors import WORDS
from axlewright.shop.shop_file import Shop
from axlewright.shop.telling import doubts, factor_table, stands_behind
from axlewright.straightness.fit.figures import BAND
from axlewright.straightness.learn.trial_plan import TrialPlan
from axlewright.units import format_deflection, format_length


def show_shop(shop: Shop, inch: bool = False) -> None:
    """Print what stands behind the shop's factors, each factor before and after, and what was doubted."""
    console, learned = output(), shop.learned
    console.print()
    put(console, f"The shop's factors stand on {stands_behind(learned.factors)}.", style="bold")
    if shop.source:
        put(console, f"Kept in {shop.source}")
    console.print()
    made = table(
        "over the formula", "without results", "middle", "with them", "middle", folds=0, right=(1, 2, 3, 4)
    )
    for line in factor_table(learned.factors):
        made.add_row(line.words, *_reach(line.before), *_reach(line.after))
    put_table(console, made)
    console.print()
    put(console, "Of the shop's next job: one case in ten lies below the range, one above.")
    if learned.weighed:
        console.print()
        results = table("result", "date", "kind", "counted as", folds=0, right=(3,))
        for one in learned.weighed:
            found = one.evidence
            results.add_row(found.name, found.date, KINDS[found.kind], f"{100.0 * one.weight:.0f} %")
        put_table(console, results)
    listed(console, "Look again", doubts(learned, inch))


def _reach(edges: tuple[float, float, float]) -> tuple[str, str]:
    low, middle, high = edges
    return f"{low:.2f} to {high:.2f}", f"{middle:.2f}"


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
