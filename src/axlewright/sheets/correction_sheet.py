"""The correction sheet: what is decided and why, where to work in which order, and when to stop and measure."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from os import PathLike
from pathlib import Path

from matplotlib.figure import Figure

from axlewright.job.schema import Job
from axlewright.sheets import correction_words, wording
from axlewright.sheets import straightness_words as words
from axlewright.sheets.correction_drawing import draw_lines, draw_outcomes, draw_press
from axlewright.sheets.plain_text import breakable
from axlewright.sheets.setting import Fields, Paper, set_sheet, sheet_head, write_sheet
from axlewright.sheets.style import PAPER, svg_bytes
from axlewright.straightness.correct.report import (
    CorrectionReport,
    LinesPlan,
    PlannedLine,
    PressPlan,
    PressSet,
)

_COLUMN_WORD = 13


def write_correction_sheet(
    report: CorrectionReport, path: str | PathLike[str], paper: Paper = "a4", job: Job | None = None
) -> Path:
    """Write the correction sheet as PDF.

    Where the decision is not to correct, the sheet says so and gives no way to work by.

    Args:
        report: the correction.
        path: file to write; it is replaced where it exists.
        paper: "a4" or "us-letter".
        job: the job it belongs to; with it centre, flanges and perches are marked on the drawings.

    Returns:
        The file written.

    Raises:
        OutputError: the paper is unknown, or the file cannot be written.
    """
    return write_sheet(path, paper, lambda: correction_sheet_pdf(report, paper, job))


def correction_sheet_pdf(report: CorrectionReport, paper: Paper = "a4", job: Job | None = None) -> bytes:
    """The correction sheet as the bytes of a PDF; the same correction gives the same bytes.

    Raises:
        OutputError: the page could not be set.
    """
    return set_sheet("correction_sheet.typ", _fields(report, job), paper)


def _fields(report: CorrectionReport, job: Job | None) -> Fields:
    """Every word, number and drawing of the sheet, as JSON can carry it."""
    work = report.decision == "correct"
    return {
        **sheet_head("Correction sheet", report.job_name, report.job_reference),
        "decision": correction_words.decision(report),
        "why": _sentences(report.why),
        "cycle": str(report.cycle),
        "verdict": breakable(words.sentence(report.verdict.words)),
        "tolerance": breakable(words.sentence(report.verdict.tolerance)),
        "limits": words.limit_rows(report.verdict, report.inch),
        "degree": "°F" if report.inch else "°C",
        "unit": "in" if report.inch else "mm",
        "stop": correction_words.STOP,
        "ways": [_way(report, plan, job) for plan in correction_words.plans_in_order(report)] if work else [],
        "press": _press(report, report.press, job) if work and report.press else None,
        "press_first": report.recommended == "press",
        "cautions": _sentences(report.cautions),
        "left_out": _sentences(report.left_out),
    }


def _sentences(texts: Iterable[str]) -> list[str]:
    """Sentences of the report, safe to set."""
    return [breakable(words.sentence(text)) for text in texts]


def _print_svg(figure: Figure) -> str:
    """A figure as SVG text on white."""
    return svg_bytes(figure, PAPER).decode("utf-8")


def _way(report: CorrectionReport, plan: LinesPlan, job: Job | None) -> Fields:
    """Counter-beads or heat lines: map, settings, both stages, what to expect; only the remedy where there is none."""
    title = correction_words.way_title(plan.way, report.recommended)
    if not plan.lines:
        return {"title": title, "there": False, "remedy": breakable(words.sentence(plan.remedy))}
    first, second = correction_words.stages(plan)
    return {
        "title": title,
        "there": True,
        "spent": correction_words.spent(plan),
        "seat": _seat(plan, report.inch),
        "map": _print_svg(draw_lines(report, plan, job)),
        "outcomes": _print_svg(draw_outcomes(report, plan)) if plan.outcomes else "",
        "record": correction_words.outcome_rows(plan.outcomes, report.inch),
        "heat": _sentences(plan.heat),
        "first": _rows(first, report.inch),
        "second": _rows(second, report.inch),
    }


def _seat(plan: LinesPlan, inch: bool) -> str:
    """How warm a knuckle bearing seat gets; empty where that is not known."""
    if plan.seat_c is None:
        return ""
    return f"Warmest knuckle bearing seat on the way: {wording.temperature(plan.seat_c, inch)}."


def _rows(lines: Sequence[PlannedLine], inch: bool) -> list[Fields]:
    """A row for each line, with the turn of the housing before it."""
    turns = correction_words.turns_before(lines)
    return [
        {
            "number": str(line.number),
            "turn": turn,
            "tube": line.tube,
            "side": breakable(line.side, _COLUMN_WORD),
            "clock": correction_words.clock(line.clock),
            "from": wording.length(line.start, inch),
            "to": wording.length(line.end, inch),
            "wait": wording.wait(line.wait),
            "torch": correction_words.torch(line.seconds),
            "spot": wording.temperature(line.spot_c, inch),
        }
        for line, turn in zip(lines, turns, strict=True)
    ]


def _press(report: CorrectionReport, press: PressPlan, job: Job | None) -> Fields:
    """Words on pressing, and every push."""
    works = any(not one.refused for one in press.sets)
    return {
        "title": correction_words.way_title("press", report.recommended),
        "words": _sentences(press.words),
        "record": correction_words.outcome_rows(press.outcomes, report.inch) if works else [],
        "sets": [_push(report, one, k, job) for k, one in enumerate(press.sets, start=1)],
    }


def _push(report: CorrectionReport, one: PressSet, number: int, job: Job | None) -> Fields:
    """One push: drawing, figures, and the first row of its table."""
    facts = correction_words.press_facts(one, report.inch)
    where = correction_words.press_refused if one.refused else correction_words.press_where
    return {
        "number": str(number),
        "where": breakable(where(one, report.inch)),
        "drawing": "" if one.refused else _print_svg(draw_press(report, number, job)),
        "refused": _sentences(one.refused),
        "facts": [[name, breakable(value)] for name, value in facts],
        "first_push": next(value for name, value in facts if name == "first push"),
        "limit": correction_words.press_limit(one, report.inch),
    }
