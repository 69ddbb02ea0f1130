"""What the terminal shows of a plan."""

from __future__ import annotations

from collections.abc import Iterable

from rich.console import Console
from rich.table import Table

from axlewright.cli.beads import bead_table, how_to_read, reasons, tack_table
from axlewright.cli.fixture import show_fixture
from axlewright.cli.lines import output, put, put_table, table
from axlewright.plan.report import PlanReport, TradeOff
from axlewright.sheets.summary import OVERLOADED, summary
from axlewright.sheets.sureness import BAND_HEADING, sentences
from axlewright.sheets.trade_points import HEADINGS, HOW_TO_CHOOSE, NONE_HOLDS, how_many, reason, trade_rows
from axlewright.sheets.turns import enlarged_tacks

SIGNS = (
    "Camber: minus leans the top in. Toe: plus is toe-in. Bow: plus is the middle up, or forward; "
    "minus is the middle down, or back."
)

WHAT = {
    "name": "names for the bead log",
    "pos.": "welding positions (ISO 6947)",
    "why": "why each bead is next",
}
"""What the columns of the bead table hold that a narrow window has no room for."""


def show_plan(report: PlanReport, every_tack: bool, every_reason: bool = False) -> None:
    """Print the plan, its figures beside common practice, what else could be had, and the cautions.

    Args:
        report: the finished plan.
        every_tack: whether each tack is listed.
        every_reason: whether the reason for each bead is listed where the window is too narrow to hold it.
    """
    console = output()
    console.print()
    put(console, " · ".join(filter(None, (report.job_name, report.job_reference))), style="bold")
    if report.trade_off is not None and report.trade_off.recommended is None:
        console.print()
        put(console, NONE_HOLDS, style="bold")
    console.print()
    for line in how_to_read(report):
        _indented(console, line)
    _tacks(console, report, every_tack)
    _beads(console, report, every_reason)
    console.print()
    put_table(console, _figures(report))
    console.print()
    put(console, SIGNS)
    for sentence in sentences(report):
        put(console, sentence)
    if report.fixture is not None:
        show_fixture(console, report.fixture, report.inch)
    if report.trade_off is not None:
        _choice(console, report.trade_off, report.inch)
    _listed(console, "Before the arc", report.cautions)
    _listed(console, "What the prediction leaves out", report.left_out)


def _tacks(console: Console, report: PlanReport, every_tack: bool) -> None:
    count = len(report.ours.tacks)
    where = "" if every_tack else "; in order on the work sheet, or here with --tacks"
    console.print()
    put(
        console, f"First {count} tacks: three to hold each attachment, then all round{where}. Then the beads:"
    )
    console.print()
    if every_tack:
        put_table(console, tack_table(report))
        console.print()
    longer = enlarged_tacks(report.ours.tacks, report.inch)
    if longer:
        put(console, longer, style="bold")
        console.print()


def _beads(console: Console, report: PlanReport, every_reason: bool) -> None:
    """The beads; what the window has no room for is listed below them or said to be on the sheet."""
    made, left_out = bead_table(report, console)
    put_table(console, made)
    if not left_out:
        return
    console.print()
    if every_reason:
        put_table(console, reasons(report))
    else:
        *first, last = (WHAT[name] for name in left_out)
        listed = " and ".join(filter(None, (", ".join(first), last)))
        put(console, f"On the work sheet, or here with --why: {listed}.")


def _choice(console: Console, trade: TradeOff, inch: bool) -> None:
    """The plans of the trade-off that have a name, why the recommended one, and how to take another."""
    console.print()
    put(console, "Plans to choose from", style="bold")
    headings = [words.replace(" ", "\n", 1) for words in HEADINGS]
    made = table(*headings, folds=1, right=(0, 2, 3, 4, 5, 6))
    for row in trade_rows(trade, inch):
        made.add_row(*row, style="bold" if row[0] == str(trade.recommended) else "")
    put_table(console, made)
    console.print()
    put(console, reason(trade), style="bold" if trade.recommended is None else "")
    put(console, how_many(trade))
    put(console, HOW_TO_CHOOSE)


def _figures(report: PlanReport) -> Table:
    """Every figure of our plan with its band, common practice beside it."""
    made = table("", "our plan", BAND_HEADING, "common\npractice", BAND_HEADING, folds=0, right=(1, 2, 3, 4))
    for what, ours, band, theirs, their_band in summary(report):
        # Words for a sign are left to `SIGNS`; a tack that is overloaded is said under its figure.
        (number, remark), (other, other_remark) = (_parted(figure) for figure in (ours, theirs))
        made.add_row(what, number, band, other, their_band)
        if OVERLOADED in (remark, other_remark):
            made.add_row("", remark, "", other_remark, "")
    return made


def _parted(figure: str) -> tuple[str, str]:
    """A figure and what is said of it."""
    number, _, word = figure.partition(", ")
    return number, word


def _listed(console: Console, heading: str, texts: Iterable[str]) -> None:
    console.print()
    put(console, heading, style="bold")
    for text in texts:
        put(console, text, hanging="  - ")


def _indented(console: Console, line: str) -> None:
    put(console, line, hanging=" " * (len(line) - len(line.lstrip())))
