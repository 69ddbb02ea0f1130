"""What the terminal shows of a replan: where things stand, the next bead, the rest, and what changed."""

from __future__ import annotations

from datetime import timedelta

from rich.console import Console
from rich.table import Table
from rich.text import Text

from axlewright.cli.beads import SHORT
from axlewright.cli.lines import aside, output, put, put_table, table
from axlewright.plan.bead_words import runs_along_axle
from axlewright.plan.pieces import PlannedBead, SeamLine
from axlewright.plan.replan.outcome import Learned, Reading, ReplanReport, Way
from axlewright.plan.report import Shape
from axlewright.sheets import wording
from axlewright.sheets.places import clock_at, mark
from axlewright.sheets.plain_text import clean
from axlewright.shop.factors import ShopFactors
from axlewright.shop.telling import what_was_learned
from axlewright.units import format_duration, format_temperature_rise

Lines = dict[tuple[str, str], SeamLine]

LITTLE = 0.02
"""A learned factor this close to one is not worth a word [1]."""


def show_faults(report: ReplanReport) -> None:
    """Say on standard error what of the log was not used."""
    if not report.faults:
        return
    console = aside()
    count = len(report.faults)
    heading = f"{count} {'entry' if count == 1 else 'entries'} of the log need a look; the rest is used:"
    console.print(heading, style="bold", soft_wrap=True)
    for fault in report.faults:
        console.print(Text(f"  - {clean(fault)}"), soft_wrap=True)


def show_replan(report: ReplanReport, shop: ShopFactors | None = None) -> None:
    """Print where things stand and the way on, and which results of the shop it starts from."""
    console = output()
    console.print()
    put(console, " · ".join(filter(None, (report.job_name, report.job_reference))), style="bold")
    console.print()
    for line in _standing(report):
        put(console, line)
    if shop is not None:
        put(console, what_was_learned(shop))
    _readings(console, report)
    console.print()
    for line in _next(report):
        put(console, line, style="bold" if line.startswith("Next") else "")
    if report.way.beads:
        console.print()
        put_table(console, _rest(report))
    console.print()
    for line in _against_plan(report):
        put(console, line)


def _standing(report: ReplanReport) -> list[str]:
    left, laid = len(report.way.beads), len({bead.tag for bead in report.laid})
    said = [f"{_when(report, report.now_s, first=True)}: {laid} beads laid, {left} left."]
    if report.burning:
        said.append(f"The arc on {report.burning} is taken to burn to its end.")
    if report.skipped:
        said.append(f"Not to be laid: {', '.join(report.skipped)}.")
    if report.tacks_out:
        said.append(f"Tacks that are not there: {', '.join(report.tacks_out)}.")
    if report.shape_now is not None:
        said.append(f"Cooled down now, it would be bowed {_bow(report.shape_now, report.inch)}.")
    return [*said, _heat(report.heat), _loss(report.loss)]


def _bow(shape: Shape, inch: bool) -> str:
    up, ahead = shape.bow_vertical, shape.bow_fore_aft
    return (
        f"{wording.deflection(up, inch)} ({wording.bow_meaning(up, True)}) and "
        f"{wording.deflection(ahead, inch)} ({wording.bow_meaning(ahead, False)})"
    )


def _heat(learned: Learned) -> str:
    words = ("check volts, amps and stick-out", "check volts, amps and travel speed")
    return _factor("Arc heat", "what the settings give", learned, words)


def _loss(learned: Learned) -> str:
    words = ("still air, or bright metal?", "a draught, or a heat sink?")
    return _factor("Loss to the air", "what was expected", learned, words)


def _factor(what: str, of: str, learned: Learned, words: tuple[str, str]) -> str:
    band = f"{learned.low:.2f} to {learned.high:.2f}"
    sure = learned.high < 1.0 - LITTLE or learned.low > 1.0 + LITTLE
    remark = f"; {words[int(learned.factor > 1.0)]}" if sure else ""
    return f"{what}: {learned.factor:.2f} of {of} ({band}){remark}."


def _readings(console: Console, report: ReplanReport) -> None:
    if not report.readings:
        return
    made = table("read at", "where", "read", "expected", "off", "", folds=5, right=(2, 3, 4))
    for reading in report.readings:
        made.add_row(*_reading(report, reading))
    console.print()
    put_table(console, made)


def _reading(report: ReplanReport, reading: Reading) -> list[str]:
    off = format_temperature_rise(reading.read_c - reading.expected_c, report.inch)
    return [
        _when(report, reading.time_s),
        clean(reading.place),
        wording.temperature(reading.read_c, report.inch),
        wording.temperature(reading.expected_c, report.inch),
        wording.typeset(off),
        "" if reading.used else f"not used: {reading.doubt}",
    ]


def _next(report: ReplanReport) -> list[str]:
    way = report.way
    if not way.beads or way.next_in_s is None:
        return ["Next: nothing; no bead is left."]
    named = way.beads[0]
    bead = named.bead
    wait = wording.wait(way.next_in_s)
    when = f"wait {wait}, until {_when(report, bead.start_s)}" if wait else "go"
    turn = f"; housing at {bead.turn_deg:g} deg" if bead.turn_deg != report.turn_deg else ""
    marks = _marks(_lines(report), bead, report.inch)
    spot = wording.temperature(bead.spot_c, report.inch)
    said = [f"Next: {named.tag}, {_where(bead)}, {marks}{turn}: {when}."]
    return [
        *said,
        f"Its spot will be at {spot}; the limit is {wording.temperature(way.limit_c, report.inch)}.",
    ]


def _rest(report: ReplanReport) -> Table:
    """The beads to come."""
    lines = _lines(report)
    turned = any(named.bead.turn_deg != report.turn_deg for named in report.way.beads)
    columns = ("bead", "where", "from → to", *(("turn",) if turned else ()), "wait", "spot")
    made = table(*columns, folds=1, right=tuple(range(3, len(columns))))
    for number, named in enumerate(report.way.beads):
        bead = named.bead
        # Of the first wait only what is left of it is told.
        wait = bead.wait_s if number else report.way.next_in_s or 0.0
        made.add_row(
            named.tag + (" rest" if named.part else ""),
            _where(bead),
            _marks(lines, bead, report.inch),
            *((f"{bead.turn_deg:g}°",) if turned else ()),
            wording.wait(wait) or "-",
            wording.temperature(bead.spot_c, report.inch),
        )
    return made


def _against_plan(report: ReplanReport) -> list[str]:
    way = report.way
    if not way.beads or way.end_s is None:
        return []
    said = [_kept(way), _ends(way)]
    if not way.keeps_limits:
        said.append("No way on keeps every limit; this one exceeds them least.")
    if way.worst_tack is not None and way.worst_tack > 1.0:
        said.append(
            f"A tack carries {100 * way.worst_tack:.0f} % of its strength on the way: look for cracks."
        )
    if way.shape is not None:
        said.append(f"Cold at the end it will be bowed {_bow(way.shape, report.inch)}.")
    return said


def _kept(way: Way) -> str:
    if way.kept == "plan":
        return "The plan holds: order and waits stay as they are."
    if way.kept == "order":
        return "The order stays as planned; waits and turns are new."
    return f"The order is new: {way.moved} of {len(way.beads)} beads come at another place than planned."


def _ends(way: Way) -> str:
    assert way.end_s is not None
    later = way.end_s - way.planned_end_s
    if abs(later) < 30.0:
        return "The last arc stops when planned."
    return (
        f"The last arc stops {format_duration(abs(later))} {'later' if later > 0 else 'sooner'} than planned."
    )


def _when(report: ReplanReport, seconds: float, first: bool = False) -> str:
    """A time as the log has it: the clock, or minutes since the first arc."""
    if report.clock_zero is not None:
        clock = timedelta(seconds=round(report.clock_zero + seconds) % 86400)
        return f"At {_clock(clock)}" if first else _clock(clock)
    minutes = f"{seconds / 60:.1f} min"
    return f"{minutes} after the first arc" if first else minutes


def _clock(time: timedelta) -> str:
    minutes, seconds = divmod(int(time.total_seconds()), 60)
    return f"{minutes // 60:02d}:{minutes % 60:02d}:{seconds:02d}"


def _where(bead: PlannedBead) -> str:
    return f"{clean(bead.attachment)}, {clean(bead.seam)}"


def _marks(lines: Lines, bead: PlannedBead, inch: bool) -> str:
    """From mark to mark and the hand of travel."""
    line = lines[bead.attachment, bead.seam]
    first, last = (_mark(line, s, inch) for s in (bead.from_s, bead.to_s))
    unit = f" {last.rpartition(' ')[2]}"
    travel = SHORT.get(bead.direction, bead.direction)
    return f"{first.removesuffix(unit)} → {last}, {travel}"


def _mark(line: SeamLine, s: float, inch: bool) -> str:
    if line.path_clock is not None:
        return wording.clock(clock_at(line, s)).removesuffix(" o'clock")
    return mark(line, s, inch) if runs_along_axle(line) else f"seam {wording.length(s, inch)}"


def _lines(report: ReplanReport) -> Lines:
    return {(line.attachment, line.seam): line for line in report.seams}
