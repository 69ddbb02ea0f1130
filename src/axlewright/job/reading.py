"""Reading a job file: whatever stands in it, the answer is a job or one clear error."""

from __future__ import annotations

import os
import re
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from axlewright.errors import Fault, GeometryError, JobFileError, ProcedureError
from axlewright.file_text import utf8_text
from axlewright.job.faults import Misfit, faults_of, from_validation
from axlewright.job.fit import misfits
from axlewright.job.procedure import forbidden_welds
from axlewright.job.schema import Job
from axlewright.toml_text import SECTIONS, toml_tables
from axlewright.units import show

LARGEST_FILE = 1_000_000
"""Size in bytes above which a file is not even parsed; a long job file has ten thousand."""

# A key of very many parts costs the TOML reader time and memory by the square of their number. Possessive
# quantifiers keep this search itself linear.
_ENDLESS_KEY = re.compile(
    r"""(?<![A-Za-z0-9_-])(?:(?:[A-Za-z0-9_-]++|"(?:[^"\\\n]|\\.)*+"|'[^'\n]*+')[ \t]*+\.[ \t]*+){20}"""
)
_START = "Start from a demo job: `axlewright demo rescue-truck` prints one."


def read_job(path: str | os.PathLike[str]) -> Job:
    """The job in a TOML file.

    Raises:
        JobFileError: the file cannot be read, is not TOML, or breaks the rules of its keys.
        GeometryError: the dimensions do not fit together.
        ProcedureError: the work must not go ahead as described.
    """
    return parse_job(_content(Path(path)), str(path))


def parse_job(text: str, source_name: str) -> Job:
    """The job in the text of a TOML file; `source_name` stands for the file in messages.

    Raises:
        JobFileError: the text is not TOML or breaks the rules of its keys.
        GeometryError: the dimensions do not fit together.
        ProcedureError: the work must not go ahead as described.
    """
    job = _validated(_tree(text, source_name), source_name, text)
    if forbidden := tuple(forbidden_welds(job)):
        raise ProcedureError(*faults_of(forbidden, source_name, text))
    if unfit := tuple(misfits(job)):
        raise GeometryError(*faults_of(unfit, source_name, text))
    return job


def _content(path: Path) -> str:
    """Text of a file of reasonable size."""
    try:
        if path.is_dir():
            raise JobFileError(Fault(str(path), "a folder", "a job is a file", "Name the .toml file in it."))
        if path.exists() and not path.is_file():
            raise JobFileError(Fault(str(path), "no ordinary file", "a job is a text file", _START))
        with path.open("rb") as file:
            data = file.read(LARGEST_FILE + 1)
    except FileNotFoundError as error:
        raise JobFileError(
            Fault(str(path), "not there", "the job file must exist", f"Check the name. {_START}")
        ) from error
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise JobFileError(
            Fault(show(str(path)), "unreadable", reason, "Check the name and the rights to read it.")
        ) from error
    _refuse_large(len(data), str(path))
    return utf8_text(data, str(path), JobFileError, "a job file")


def _refuse_large(size: int, source: str) -> None:
    if size > LARGEST_FILE:
        raise JobFileError(
            Fault(
                source,
                "larger than 1 MB",
                "a job file is a page or two of text",
                f"Is it the right file? {_START}",
            )
        )


def _tree(text: str, source: str) -> dict[str, Any]:
    """TOML tables of a text."""
    _refuse_large(len(text), source)
    if not text.strip():
        raise JobFileError(Fault(source, "empty", "a job file describes a housing", _START))
    if endless := _ENDLESS_KEY.search(text):
        line = text.count("\n", 0, endless.start()) + 1
        raise JobFileError(
            Fault(f"{source} line {line}", "", "a key has at most three parts", "Check for a line of noise.")
        )
    tree = toml_tables(text, source, JobFileError, SECTIONS)
    if not tree:
        raise JobFileError(Fault(source, "nothing but comments", "a job file describes a housing", _START))
    return tree


def _validated(tree: dict[str, Any], source: str, text: str) -> Job:
    """The model of the tables; bare numbers are in the unit the file states."""
    units = tree.get("units")
    if units not in ("mm", "inch"):
        found = "missing" if units is None else show(units)
        misfit = Misfit(("units",), found, 'must be "mm" or "inch"', 'Write units = "mm" on the first line.')
        raise JobFileError(misfit.fault(source, text))
    try:
        return Job.model_validate(tree, context={"inch": units == "inch"}, by_alias=True, by_name=False)
    except ValidationError as error:
        raise from_validation(error, source, text) from error
