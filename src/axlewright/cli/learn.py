"""What the terminal shows of what a shop has learned."""

from __future__ import annotations

from axlewright.cli.lines import listed, output, put, put_table, table
from axlewright.shop.evidence import KINDS
from axlewright.shop.shop_file import Shop
from axlewright.shop.telling import doubts, factor_table, stands_behind


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
