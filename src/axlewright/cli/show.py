"""What the terminal shows of a plan."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from rich.console import Console
from rich.table import Table

from axlewright.cli.beads import bead_table, how_to_read, tack_table
from axlewright.cli.lines import aside, output, put, put_lines, put_table, table
from axlewright.plan.report import PlanReport
from axlewright.sheets.summary import summary

SIGNS = (
    "Camber: minus leans the top in. Toe: plus is toe-in. Bow: plus is the middle up, or forward; "
    "minus is the middle down, or back."
)


def show_plan(report: PlanReport, every_tack: bool) -> None:
    """Print the plan, its figures beside common practice, and the cautions."""
    console = output()
    console.print()
    put(console, " · ".join(filter(None, (report.job_name, report.job_reference))), style="bold")
    console.print()
    for line in how_to_read(report):
        _indented(console, line)
    _tacks(console, report, every_tack)
    put_table(console, bead_table(report))
    console.print()
    put_table(console, _figures(report))
    console.print()
    put(console, SIGNS)
    _listed(console, "Before the arc", report.cautions)
    _listed(console, "What the prediction leaves out", report.left_out)


def show_written(folder: Path | None, paths: tuple[Path, ...], only_json: bool) -> None:
    """Say on standard error what was written, or how to get more than the screen shows."""
    console = aside()
    if folder is not None:
        names = ", ".join(path.name for path in paths)
        console.print(f"Wrote {len(paths)} files in {folder}: {names}", style="dim", soft_wrap=True)
    elif not only_json:
        hint = "Nothing was written. Add --out FOLDER for the work sheet, drawings and plan.json."
        console.print(hint, style="dim", soft_wrap=True)


def show_demos(names: tuple[str, ...]) -> None:
    """List the demo jobs, and say on standard error how to print one."""
    put_lines(output(), list(names))
    aside().print("Print one with: axlewright demo NAME > my-job.toml", style="dim", soft_wrap=True)


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


def _figures(report: PlanReport) -> Table:
    """Every figure of our plan with its band, common practice beside it."""
    made = table("", "our plan", "band", "common\npractice", "band", folds=0, right=(1, 2, 3, 4))
    for what, *cells in summary(report):
        made.add_row(what, *_plain(*cells[:2]), *_plain(*cells[2:]))
    return made


def _plain(figure: str, band: str) -> tuple[str, str]:
    """A figure without the words for its sign, which `SIGNS` explains; a remark without a band takes its place."""
    number, _, word = figure.partition(", ")
    return number, band or word


def _listed(console: Console, heading: str, texts: Iterable[str]) -> None:
    console.print()
    put(console, heading, style="bold")
    for text in texts:
        put(console, text, hanging="  - ")


def _indented(console: Console, line: str) -> None:
    put(console, line, hanging=" " * (len(line) - len(line.lstrip())))
