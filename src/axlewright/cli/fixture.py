"""What the terminal shows of a fixture."""

from __future__ import annotations

from rich.console import Console

from axlewright.cli.lines import put, put_table, table
from axlewright.plan.fixture_report import FixtureReport
from axlewright.sheets import fixture_words


def show_fixture(console: Console, report: FixtureReport, inch: bool) -> None:
    """What to shim, how the axis goes from clamping to letting go, and what else to know."""
    console.print()
    put(console, "Fixture", style="bold")
    put(console, fixture_words.intention(report, inch))
    for plane in report.planes:
        console.print()
        put(console, f"{fixture_words.plane_title(plane)}:")
        supports = table(*_broken(fixture_words.SUPPORT_HEADINGS), folds=1, right=(2, 3))
        for row in fixture_words.support_rows(report, plane, inch):
            supports.add_row(*row)
        put_table(console, supports)
    console.print()
    stages = table(*_broken(fixture_words.STAGE_HEADINGS), folds=0, right=(1, 2, 3))
    for row in fixture_words.stage_rows(report, inch):
        stages.add_row(*row)
    put_table(console, stages)
    for sentence in (fixture_words.strain(report, inch), *report.remarks):
        put(console, sentence, hanging="  - ")


def _broken(headings: tuple[str, ...]) -> list[str]:
    """Headings of three words or more on two lines."""
    return [
        heading.replace(" before", "\nbefore").replace(", ", ",\n").replace("bent there", "bent\nthere")
        for heading in headings
    ]
