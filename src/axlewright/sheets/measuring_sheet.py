"""The measuring sheet: where to measure a housing, how, and boxes for what is read before and after."""

from __future__ import annotations

from os import PathLike
from pathlib import Path

from axlewright.job.schema import Job
from axlewright.sheets import straightness_words as words
from axlewright.sheets.measuring_drawing import draw_measuring
from axlewright.sheets.measuring_rows import fill, flange_rows, station_rows
from axlewright.sheets.measuring_words import CAUTIONS, how_rows
from axlewright.sheets.plain_text import breakable
from axlewright.sheets.setting import Fields, Paper, set_sheet, sheet_head, write_sheet
from axlewright.sheets.straightness_drawing import draw_straightness
from axlewright.sheets.style import PAPER, svg_bytes
from axlewright.straightness.readings.reading import ReadingSet
from axlewright.straightness.report import ShapeReport, StraightnessReport


def write_measuring_sheet(
    job: Job,
    path: str | PathLike[str],
    paper: Paper = "a4",
    report: StraightnessReport | None = None,
    readings: ReadingSet | None = None,
) -> Path:
    """Write the measuring sheet as PDF, blank or filled.

    Args:
        job: the job.
        path: file to write; it is replaced where it exists.
        paper: "a4" or "us-letter".
        report: the check, for verdict, picture and marks on odd readings; None for a blank sheet.
        readings: the set the verdict is on, to be written in; None for empty boxes.

    Returns:
        The file written.

    Raises:
        OutputError: the paper is unknown, or the file cannot be written.
    """
    return write_sheet(path, paper, lambda: measuring_sheet_pdf(job, paper, report, readings))


def measuring_sheet_pdf(
    job: Job,
    paper: Paper = "a4",
    report: StraightnessReport | None = None,
    readings: ReadingSet | None = None,
) -> bytes:
    """The measuring sheet as the bytes of a PDF; the same check gives the same bytes.

    Raises:
        OutputError: the page could not be set.
    """
    return set_sheet("measuring_sheet.typ", _fields(job, report, readings), paper)


def _fields(job: Job, report: StraightnessReport | None, readings: ReadingSet | None) -> Fields:
    """Every word, number and drawing of the sheet, as JSON can carry it."""
    latest = report.latest if report else None
    odd = frozenset(doubt.line for doubt in latest.doubts if doubt.line) if latest else frozenset()
    boxes, others = fill(job, readings, odd)
    said = report.cautions if report else ()
    return {
        **sheet_head("Measuring sheet", job.job.name, job.job.reference),
        "drawing": svg_bytes(draw_measuring(job), PAPER).decode("utf-8"),
        "unit": "in" if job.inch else "mm",
        "filled": readings is not None,
        "is_before": report is not None and report.after is None,
        "set_name": breakable(readings.name) if readings else "",
        "stations": station_rows(job, boxes),
        "flanges": flange_rows(boxes),
        "others": others,
        "faults": [breakable(str(fault)) for fault in readings.faults] if readings else [],
        "how": how_rows(job.inch),
        "cautions": [_said(text) for text in (*CAUTIONS, *(t for t in said if t not in CAUTIONS))],
        "check": _check(report, job) if report else None,
    }


def _check(report: StraightnessReport, job: Job) -> Fields:
    """The verdict with its limits, what is odd or not told, and the picture."""
    return {
        "verdict": _said(report.verdict.words),
        "tolerance": _said(report.verdict.tolerance),
        "limits": words.limit_rows(report.verdict, report.inch),
        "tyre": words.tyre(report.verdict, report.inch),
        "doubts": _doubts(report.latest),
        "untold": [_said(text) for text in report.latest.untold],
        "advice": [_said(f"{advice.words} {advice.why}") for advice in report.latest.advice],
        "picture": svg_bytes(draw_straightness(report, job), PAPER).decode("utf-8"),
        "left_out": [_said(text) for text in report.left_out],
    }


def _doubts(shape: ShapeReport) -> list[str]:
    """Odd readings in words, and whether the figures are without them."""
    return [
        _said(
            (f"Line {doubt.line}: " if doubt.line else "")
            + doubt.words
            + (" It is left out of the figures." if doubt.left_out else "")
        )
        for doubt in shape.doubts
    ]


def _said(text: str) -> str:
    """A sentence of the report, safe to set."""
    return breakable(words.sentence(text))
