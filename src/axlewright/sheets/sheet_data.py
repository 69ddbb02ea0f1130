"""A plan as plain text fields for the work sheet; the template only places them."""

from __future__ import annotations

from matplotlib.figure import Figure

from axlewright.plan.pieces import PlannedBead, PlannedTack, SeamLine
from axlewright.plan.report import PlanReport
from axlewright.sheets import summary, sureness, wording
from axlewright.sheets.cold_shape import draw_cold_shape
from axlewright.sheets.fixture_block import fixture_block
from axlewright.sheets.places import mark, mark_along
from axlewright.sheets.plain_text import breakable
from axlewright.sheets.setting import Fields, sheet_head
from axlewright.sheets.style import PAPER, svg_bytes
from axlewright.sheets.temperature import draw_temperatures
from axlewright.sheets.trade_off import draw_trade_off
from axlewright.sheets.trade_points import NONE_HOLDS, reason
from axlewright.sheets.turns import enlarged_tacks, turns_before
from axlewright.sheets.weld_map import draw_weld_maps

_COLUMN_WORD = 13

Lines = dict[tuple[str, str], SeamLine]


def sheet_data(report: PlanReport) -> Fields:
    """Every word, number and drawing of the work sheet, as JSON can carry it."""
    return {
        **sheet_head("Work sheet", report.job_name, report.job_reference),
        "degree": "°F" if report.inch else "°C",
        "hottest": wording.temperature(report.ours.totals.hottest_spot_c, report.inch),
        "settings": summary.settings(report),
        "follows": summary.follows(report),
        "summary": summary.summary(report),
        "record": summary.record(report),
        "how_sure": sureness.sentences(report),
        "cautions": [breakable(text) for text in report.cautions],
        "left_out": [breakable(text) for text in report.left_out],
        **_tables(report),
        "maps": [_print_svg(figure) for figure in draw_weld_maps(report)],
        "shape": _print_svg(draw_cold_shape(report)),
        "temperature": _print_svg(draw_temperatures(report)),
        "fixture": fixture_block(report),
        **_choice(report),
    }


def _choice(report: PlanReport) -> Fields:
    """The trade-off picture with its reason as text, and what to shout where no plan can be recommended."""
    trade = report.trade_off
    if trade is None:
        return {"trade_off": "", "why": "", "warning": ""}
    return {
        "trade_off": _print_svg(draw_trade_off(report)),
        "why": breakable(reason(trade)),
        "warning": NONE_HOLDS if trade.recommended is None else "",
    }


def _print_svg(figure: Figure) -> str:
    """A figure as SVG text on white."""
    return svg_bytes(figure, PAPER).decode("utf-8")


def _tables(report: PlanReport) -> Fields:
    """Rows of openings, tacks and beads."""
    lines = {(line.attachment, line.seam): line for line in report.seams}
    return {
        "openings": [_opening(line, ends, report.inch) for line in report.seams for ends in line.openings],
        "tacks": [_tack(tack, lines, report.inch) for tack in report.ours.tacks],
        "with_positions": any(bead.position for bead in report.ours.beads),
        "positions": wording.positions(bead.position for bead in report.ours.beads),
        "enlarged": enlarged_tacks(report.ours.tacks, report.inch),
        "beads": [
            {**_bead(bead, lines, report.inch), "turn": turn}
            for bead, turn in zip(report.ours.beads, turns_before(report.ours.beads), strict=True)
        ],
    }


def _names(attachment: str, seam: str) -> Fields:
    """What is welded and which of its seams."""
    return {"attachment": breakable(attachment, _COLUMN_WORD), "seam": breakable(seam, _COLUMN_WORD)}


def _place(line: SeamLine, s: float, inch: bool) -> list[str]:
    """A mark and, where a tape on the flange would not tell, the distance along the seam."""
    return [mark(line, s, inch), mark_along(line, s, inch)]


def _opening(line: SeamLine, ends: tuple[float, float], inch: bool) -> Fields:
    """A stretch to leave open."""
    start, end = (_place(line, s, inch) for s in ends)
    return {**_names(line.attachment, line.seam), "from": start, "to": end}


def _tack(tack: PlannedTack, lines: Lines, inch: bool) -> Fields:
    """A row of the tack table."""
    return {
        "number": f"T{tack.number}",
        **_names(tack.attachment, tack.seam),
        "at": _place(lines[tack.attachment, tack.seam], tack.at_s, inch),
        "wait": wording.wait(tack.wait_s),
        "length": wording.length(tack.length, inch),
        "enlarged": tack.enlarged,
    }


def _bead(bead: PlannedBead, lines: Lines, inch: bool) -> Fields:
    """A row of the bead table."""
    line = lines[bead.attachment, bead.seam]
    return {
        "number": str(bead.number),
        "tag": breakable(bead.tag),
        **_names(bead.attachment, bead.seam),
        "from": _place(line, bead.from_s, inch),
        "to": _place(line, bead.to_s, inch),
        "direction": breakable(bead.direction, _COLUMN_WORD),
        "wait": wording.wait(bead.wait_s),
        "spot": wording.temperature(bead.spot_c, inch),
        "position": breakable(bead.position, _COLUMN_WORD),
        "why": breakable(wording.sentence(bead.why)),
    }
