"""Tacks and beads as one line each: where, from mark to mark, which way, how long to wait, how hot."""

from __future__ import annotations

from rich.console import Console
from rich.table import Table
from rich.text import Text

from axlewright.cli.lines import table
from axlewright.plan.bead_words import runs_along_axle
from axlewright.plan.pieces import PlannedBead, PlannedTack, SeamLine
from axlewright.plan.report import PlanReport
from axlewright.sheets import wording
from axlewright.sheets.places import clock_at, mark, mark_along
from axlewright.sheets.plain_text import clean
from axlewright.sheets.turns import turns_before

SHORT = {"to the right": "right", "to the left": "left", "rearward": "back"}
"""Hands of travel in one word where the plan takes more."""

TURN = "turn the housing:"
"""Stands in the place of a seam where the housing is turned before the next bead."""


_ROOMY = 10_000

MORE = ("name", "pos.", "why")
"""Columns a wide window has room for: name in the bead log, welding position, reason; what comes first matters most."""


def bead_table(report: PlanReport, console: Console) -> tuple[Table, tuple[str, ...]]:
    """The beads of our plan in order, and which of `MORE` did not fit into the window with no line broken."""
    told = {"name": [b.tag for b in report.ours.beads], "pos.": [b.position for b in report.ours.beads]}
    told["why"] = [b.why for b in report.ours.beads]
    wanted = tuple(name for name in MORE if any(told[name]))
    for count in range(len(wanted), 0, -1):
        made = _beads(report, wanted[:count])
        if console.measure(made, options=console.options.update(max_width=_ROOMY)).maximum <= console.width:
            return made, wanted[count:]
    return _beads(report, ()), wanted


def _beads(report: PlanReport, more: tuple[str, ...]) -> Table:
    """The table with some of the further columns."""
    name, pos, why = ((column,) if column in more else () for column in MORE)
    before, after = 1 + len(name), 3 + len(name) + len(pos)
    # Without a full stop: at eighty columns one letter decides whether the longest names stay on one line.
    columns = ("no", *name, "where", "from → to", *pos, "wait", "spot", *why)
    made = table(*columns, folds=before, right=(0, after, after + 1))
    lines = _lines(report)
    for bead, turn in zip(report.ours.beads, turns_before(report.ours.beads), strict=True):
        if turn:
            made.add_row(*[""] * before, Text(TURN, style="bold"), Text(turn, style="bold"))
        made.add_row(
            str(bead.number),
            *(clean(bead.tag) for _ in name),
            _where(bead),
            _stretch(lines[bead.attachment, bead.seam], bead, report.inch),
            *(clean(bead.position) for _ in pos),
            wording.wait(bead.wait_s) or "-",
            wording.temperature(bead.spot_c, report.inch),
            *(Text(clean(wording.sentence(bead.why))) for _ in why),
        )
    return made


def reasons(report: PlanReport) -> Table:
    """Why each bead is next, with its name and welding position: for windows too narrow for these columns."""
    made = table("no.", "name", "pos.", "why this bead is next", folds=3, right=(0,))
    for bead in report.ours.beads:
        why = Text(clean(wording.sentence(bead.why)))
        made.add_row(str(bead.number), clean(bead.tag), clean(bead.position), why)
    return made


def tack_table(report: PlanReport) -> Table:
    """The tacks in order."""
    made = table("tack", "where", "at", "length", folds=1, right=(0, 2, 3))
    lines = _lines(report)
    for tack in report.ours.tacks:
        line = lines[tack.attachment, tack.seam]
        along = mark_along(line, tack.at_s, report.inch)
        length = Text(wording.length(tack.length, report.inch), style="bold" if tack.enlarged else "")
        place = along or mark(line, tack.at_s, report.inch)
        made.add_row(f"T{tack.number}", _where(tack), place, length)
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
