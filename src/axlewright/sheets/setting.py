"""Setting a sheet as PDF: one way for every sheet that is printed, fonts brought along."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable, Mapping
from importlib.resources import files
from os import PathLike
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Literal

import matplotlib
import typst

from axlewright.errors import Fault, OutputError
from axlewright.sheets.output import check_writable, named, write_whole
from axlewright.sheets.plain_text import breakable
from axlewright.sheets.style import INK, NOW, SOFT_INK
from axlewright.sheets.text import fitted
from axlewright.units import show

Paper = Literal["a4", "us-letter"]
PAPERS: tuple[Paper, ...] = ("a4", "us-letter")
Fields = dict[str, Any]

# DejaVu Sans comes with matplotlib, so a sheet looks the same on a system without any fonts.
_FONT_FILES = ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf")
_COMMON = "common.typ"
_HEADER_WIDTH = 120.0
_HEADER_TEXT = 8.0


def write_sheet(path: str | PathLike[str], paper: Paper, make: Callable[[], bytes]) -> Path:
    """Write a sheet as PDF; paper and path are looked at before it is made, so a typing error costs no wait.

    Args:
        path: file to write; it is replaced where it exists.
        paper: "a4" or "us-letter".
        make: gives the bytes of the PDF.

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
    return write_whole(place, make())


def set_sheet(template: str, data: Mapping[str, Any], paper: Paper = "a4") -> bytes:
    """A sheet as the bytes of a PDF; the same data give the same bytes.

    The template is read after `common.typ`, which holds head, foot, boxes and tables of every sheet. Words of the
    user reach it as JSON strings only, so no character of theirs is ever read as markup.

    Args:
        template: name of the template in this package, e.g. "work_sheet.typ".
        data: what it places; with the fields of `sheet_head`.
        paper: "a4" or "us-letter".

    Raises:
        OutputError: the page could not be set.
    """
    package = files("axlewright.sheets")
    source = b"".join((package / name).read_bytes() for name in (_COMMON, template))
    inputs = {"data": json.dumps(data, ensure_ascii=True), "paper": paper}
    # On Windows a font file may still be mapped into memory when the folder goes.
    with TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        fonts = fonts_in(Path(folder))
        try:
            pdf = typst.compile(source, sys_inputs=inputs, font_paths=fonts, format="pdf")
        except typst.TypstError as error:
            remedy = "Please report this with the job file."
            where = str(data.get("sheet", "Sheet"))
            raise OutputError(Fault(where, "", f"it could not be set ({error})", remedy)) from error
    return bytes(pdf)


def sheet_head(sheet: str, job_name: str, job_reference: str) -> Fields:
    """What `common.typ` asks of every sheet: its title, the job's name and number, the line on top of each page.

    Args:
        sheet: title of the sheet, e.g. "Work sheet".
        job_name: name of the job, in any characters.
        job_reference: the shop's number.
    """
    head = f"{job_name} · {job_reference}"
    return {
        "colours": {"ink": INK, "soft": SOFT_INK, "now": NOW},
        "sheet": sheet,
        "name": breakable(job_name),
        "reference": breakable(job_reference),
        "running_head": fitted(head, _HEADER_WIDTH, _HEADER_TEXT),
    }


def fonts_in(folder: Path, *, system: bool = True) -> typst.Fonts:
    """DejaVu Sans, copied into a folder, first; fonts of the system only lend characters it lacks."""
    source = Path(matplotlib.get_data_path()) / "fonts" / "ttf"
    for name in _FONT_FILES:
        shutil.copyfile(source / name, folder / name)
    return typst.Fonts(include_system_fonts=system, include_embedded_fonts=True, font_paths=[folder])


def _refuse_early(place: Path) -> None:
    """Refuse a path that can be seen to fail."""
    try:
        check_writable(place)
    except (OSError, ValueError) as error:
        fault = Fault(
            "Output file", named(place), f"this is no usable path ({error})", "Choose another name."
        )
        raise OutputError(fault) from error
