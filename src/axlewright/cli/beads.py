"""Tacks and beads as one line each: where, from mark to mark, which way, how long to wait, how hot."""

from __future__ import annotations

from rich.table import Table
from rich.text import Text

from axlewright.cli.lines import table
from axlewright.plan.report import PlannedBead, PlannedTack, PlanReport, SeamLine
from axlewright.sheets import wording
from axlewright.sheets.places import clock_at, mark, mark_along, runs_along_axle
from axlewright.sheets.text import clean

SHORT = {"to the right": "right", "to the left": "left", "rearward": "back"}
"""Hands of travel in one word where the plan takes more."""


def bead_table(report: PlanReport) -> Table:
    """The beads of our plan in order."""
    made = table("no.", "where", "from → to", "wait", "spot", folds=1, right=(0, 3, 4))
    lines = _lines(report)
    for bead in report.ours.beads:
        made.add_row(
            str(bead.number),
            _where(bead),
            _stretch(lines[bead.attachment, bead.seam], bead, report.inch),
            wording.wait(bead.wait_s) or "-",
            wording.temperature(bead.spot_c, report.inch),
        )
    return made


def tack_table(report: PlanReport) -> Table:
    """The tacks in order."""
    made = table("tack", "where", "at", folds=1, right=(0, 2))
    lines = _lines(report)
    for tack in report.ours.tacks:
        line = lines[tack.attachment, tack.seam]
        along = mark_along(line, tack.at_s, report.inch)
        made.add_row(f"T{tack.number}", _where(tack), along or mark(line, tack.at_s, report.inch))
    return made


def how_to_read(report: PlanReport) -> list[str]:
    """What the marks count from, and where seams begin that a tape on the flange cannot measure."""
    said = ["Marks count from the outer face of the left knuckle flange (the driver's left)."]
    if any(line.path_clock is not None for line in report.seams):
        said.append("Times of the clock are places on the guard's rim, facing it from outside.")
    own = [line for line in report.seams if line.path_clock is None and not runs_along_axle(line)]
    if own:
        said.append("Marks after the word seam count along that seam from its own start:")
    return said + [f"  {_start(line, report.inch)}" for line in own]


def _start(line: SeamLine, inch: bool) -> str:
    distance = wording.length(float(line.path_x[0]), inch)
    return f"{clean(line.attachment)}, {clean(line.seam)}: starts {distance} from the flange"


def _where(piece: PlannedTack | PlannedBead) -> Text:
    return Text(f"{clean(piece.attachment)}, {clean(piece.seam)}")


def _stretch(line: SeamLine, bead: PlannedBead, inch: bool) -> str:
    """From mark to mark and the hand of travel."""
    travel = SHORT.get(bead.direction, bead.direction)
    return f"{_marks(line, bead, inch)}, {travel}"


def _marks(line: SeamLine, bead: PlannedBead, inch: bool) -> str:
    ends = (bead.from_s, bead.to_s)
    if line.path_clock is not None:
        first, last = (wording.clock(clock_at(line, s)).removesuffix(" o'clock") for s in ends)
    elif runs_along_axle(line):
        first, last = (mark(line, s, inch) for s in ends)
    else:
        first, last = (wording.length(s, inch) for s in ends)
        first = f"seam {first}"
    unit = f" {last.rpartition(' ')[2]}" if " " in last else ""
    return f"{first.removesuffix(unit)} → {last}"


def _lines(report: PlanReport) -> dict[tuple[str, str], SeamLine]:
    return {(line.attachment, line.seam): line for line in report.seams}
