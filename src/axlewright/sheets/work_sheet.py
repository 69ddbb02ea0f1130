"""The printed work sheet: everything needed at the bench with the computer shut."""

from __future__ import annotations

import json
import shutil
from importlib.resources import files
from os import PathLike
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Literal

import matplotlib
import typst

from axlewright.errors import Fault, OutputError
from axlewright.plan.report import PlanReport
from axlewright.sheets.output import check_writable, named, write_whole
from axlewright.sheets.sheet_data import sheet_data
from axlewright.units import show

Paper = Literal["a4", "us-letter"]
PAPERS: tuple[Paper, ...] = ("a4", "us-letter")
# DejaVu Sans comes with matplotlib, so the sheet looks the same on a system without any fonts.
_FONT_FILES = ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf")


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
    if paper not in PAPERS:
        allowed = "sheets are made for a4 and us-letter"
        raise OutputError(Fault("Paper", show(paper), allowed, 'Choose "a4" or "us-letter".'))
    place = Path(path)
    _refuse_early(place)
    return write_whole(place, work_sheet_pdf(report, paper))


def _refuse_early(place: Path) -> None:
    """Look at the path before the drawings are made, so that a typing error costs no wait."""
    try:
        check_writable(place)
    except (OSError, ValueError) as error:
        fault = Fault(
            "Output file", named(place), f"this is no usable path ({error})", "Choose another name."
        )
        raise OutputError(fault) from error


def work_sheet_pdf(report: PlanReport, paper: Paper = "a4") -> bytes:
    """The work sheet as the bytes of a PDF; the same plan gives the same bytes.

    Names from the job file reach the template as JSON strings only, so no character of theirs is
    ever read as markup.

    Raises:
        OutputError: the page could not be set.
    """
    data = json.dumps(sheet_data(report), ensure_ascii=True)
    template = (files("axlewright.sheets") / "work_sheet.typ").read_bytes()
    # On Windows a font file may still be mapped into memory when the folder goes.
    with TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        fonts = _fonts(Path(folder))
        try:
            pdf = typst.compile(
                template, sys_inputs={"data": data, "paper": paper}, font_paths=fonts, format="pdf"
            )
        except typst.TypstError as error:
            remedy = "Please report this with the job file."
            raise OutputError(Fault("Work sheet", "", f"it could not be set ({error})", remedy)) from error
    return bytes(pdf)


def _fonts(folder: Path, *, system: bool = True) -> typst.Fonts:
    """DejaVu Sans first; fonts of the system only lend characters it lacks."""
    source = Path(matplotlib.get_data_path()) / "fonts" / "ttf"
    for name in _FONT_FILES:
        shutil.copyfile(source / name, folder / name)
    return typst.Fonts(include_system_fonts=system, include_embedded_fonts=True, font_paths=[folder])
