"""What the terminal shows of a plan."""

from __future__ import annotations

from pathlib import Path

from rich import box
from rich.console import Console
from rich.markup import escape
from rich.table import Table

from axlewright import units
from axlewright.plan.report import PlannedBead, PlannedTack, PlanReport, SeamLine
from axlewright.sheets.places import mark
from axlewright.sheets.summary import summary

LOOK = box.SIMPLE_HEAD


def show_plan(report: PlanReport, every_tack: bool) -> None:
    """Print the plan, its figures beside common practice, and the cautions."""
    console = Console(highlight=False)
    console.print(f"\n[bold]{escape(report.job_name)}[/bold]  {escape(report.job_reference)}")
    console.print("Marks are measured from the outer face of the left knuckle flange (driver's left).\n")
    _tacks(console, report, every_tack)
    console.print(_beads(report))
    console.print(_figures(report))
    console.print("[bold]Before the arc[/bold]")
    for caution in report.cautions:
        console.print(f"  - {escape(caution)}")
    console.print("[bold]What the prediction leaves out[/bold]")
    for left_out in report.left_out:
        console.print(f"  - {escape(left_out)}")


def show_written(paths: tuple[Path, ...]) -> None:
    """Say on standard error which files were written."""
    console = Console(stderr=True, highlight=False)
    for path in paths:
        console.print(f"wrote {escape(str(path))}", style="dim", soft_wrap=True)


def show_demos(names: tuple[str, ...]) -> None:
    """List the demo jobs."""
    console = Console(highlight=False)
    for name in names:
        console.print(name)
    console.print("\nPrint one with: axlewright demo NAME > my-job.toml", style="dim")


def _tacks(console: Console, report: PlanReport, every_tack: bool) -> None:
    tacks = report.ours.tacks
    console.print(
        f"First {len(tacks)} tacks: three to hold each attachment, then all round"
        f"{':' if every_tack else ' (in order on the work sheet, or with --tacks).'}"
    )
    if not every_tack:
        return
    table = _table("tack", "attachment", "seam", "at", right=(0, 3))
    lines = _lines(report)
    for tack in tacks:
        table.add_row(f"T{tack.number}", *_names(tack), mark(lines[_key(tack)], tack.at_s, report.inch))
    console.print(table)


def _beads(report: PlanReport) -> Table:
    table = _table(
        "bead", "attachment", "seam", "from", "to", "travel", "wait before", "spot", right=(0, 3, 4, 6, 7)
    )
    lines = _lines(report)
    for bead in report.ours.beads:
        line = lines[_key(bead)]
        marks = (mark(line, s, report.inch) for s in (bead.from_s, bead.to_s))
        wait = units.format_duration(bead.wait_s) if bead.wait_s else "-"
        spot = units.format_temperature(bead.spot_c, report.inch)
        table.add_row(str(bead.number), *_names(bead), *marks, bead.direction, wait, spot)
    return table


def _figures(report: PlanReport) -> Table:
    table = _table("", "our plan", "band", "common practice", "band", right=())
    for row in summary(report):
        table.add_row(*(escape(cell) for cell in row))
    return table


def _table(*headings: str, right: tuple[int, ...]) -> Table:
    table = Table(box=LOOK, pad_edge=False, header_style="bold")
    for number, heading in enumerate(headings):
        table.add_column(heading, justify="right" if number in right else "left", overflow="fold")
    return table


def _lines(report: PlanReport) -> dict[tuple[str, str], SeamLine]:
    return {(line.attachment, line.seam): line for line in report.seams}


def _key(piece: PlannedTack | PlannedBead) -> tuple[str, str]:
    return piece.attachment, piece.seam


def _names(piece: PlannedTack | PlannedBead) -> tuple[str, str]:
    return escape(piece.attachment), escape(piece.seam)
