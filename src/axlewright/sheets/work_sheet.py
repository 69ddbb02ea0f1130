"""The printed work sheet: everything needed at the bench with the computer shut."""

from __future__ import annotations

from os import PathLike
from pathlib import Path

from axlewright.plan.report import PlanReport
from axlewright.sheets.setting import PAPERS, Paper, set_sheet, write_sheet
from axlewright.sheets.sheet_data import sheet_data

__all__ = ["PAPERS", "Paper", "work_sheet_pdf", "write_work_sheet"]


def write_work_sheet(report: PlanReport, path: str | PathLike[str], paper: Paper = "a4") -> Path:
    """Write the work sheet as PDF.

    Args:
        report: the finished plan.
        path: file to write; it is replaced where it exists.
        paper: "a4" or "us-letter".

    Returns:
        The file written.

    Raises:
        OutputError: the paper is unknown, or the file cannot be written.
    """
    return write_sheet(path, paper, lambda: work_sheet_pdf(report, paper))


def work_sheet_pdf(report: PlanReport, paper: Paper = "a4") -> bytes:
    """The work sheet as the bytes of a PDF; the same plan gives the same bytes.

    Raises:
        OutputError: the page could not be set.
    """
    return set_sheet("work_sheet.typ", sheet_data(report), paper)
