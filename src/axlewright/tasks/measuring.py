"""Straightness readings as a page asks for them: the blank form place by place, what was typed, and writing it down."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache

from axlewright.errors import Fault, JobFileError, ReadingsError
from axlewright.job.demo_jobs import demo_names, demo_readings, demo_text
from axlewright.job.reading import parse_job
from axlewright.job.schema import Job
from axlewright.record.events import Document, Event
from axlewright.record.store import Store
from axlewright.straightness.readings.file import parse_readings
from axlewright.straightness.readings.reading import ReadingSet
from axlewright.straightness.readings.table import COLUMNS, Row, Table, table_of
from axlewright.straightness.readings.text import decoded
from axlewright.straightness.readings.toml_table import toml_table_of
from axlewright.tasks.measuring_form import PlaceRow, columns
from axlewright.tasks.telling import Telling

TYPED = "readings.csv"
_DECIMAL = re.compile(r"(?<=\d),(?=\d)")
_LINE = re.compile(r" line ([0-9]+)(?:: (.*))?$")


@dataclass(frozen=True)
class Sheet:
    """Lines of a set: what it calls itself, the lines, and whether a form can show all that its text says."""

    name: str
    rows: tuple[PlaceRow, ...]
    whole: bool = True


@dataclass(frozen=True)
class Judged:
    """What of a text can be used.

    Args:
        readings: the readings; None where nothing can be used.
        faults: what is wrong, line by line.
        refused: how many filled lines are left out.
    """

    readings: ReadingSet | None
    faults: tuple[Fault, ...]
    refused: int = 0
    by_line: Mapping[int, tuple[Fault, ...]] = field(default_factory=dict)

    @property
    def general(self) -> tuple[Fault, ...]:
        """Faults that belong to no line."""
        return tuple(fault for fault in self.faults if _LINE.search(fault.where) is None)


def is_toml(text: str, source: str) -> bool:
    """Whether a text of readings is TOML, as `parse_readings` tells it."""
    return source.casefold().endswith(".toml") or re.search(r"(?m)^\s*\[\[reading\]\]", text) is not None


def sheet_of(text: str, source: str) -> Sheet:
    """The lines of a text of readings, for a form to go on from.

    Raises:
        ReadingsError: it is no table of readings.
    """
    table = _table(text, source)
    rows = tuple(_row(row) for row in table.rows)
    return Sheet(table.name, rows, whole=not table.usual_error and table.inch is None)


def _table(text: str, source: str) -> Table:
    text = text.removeprefix("\ufeff")
    return toml_table_of(text, source) if is_toml(text, source) else table_of(text, source)


def _row(row: Row) -> PlaceRow:
    """A line as it is typed again, with points for decimal commas."""
    cells = {
        name: _DECIMAL.sub(".", cell) if row.decimal_comma and name in columns() else cell
        for name, cell in row.cells.items()
    }
    return PlaceRow(cells, line=row.line)


def typed_text(name: str, rows: Sequence[PlaceRow]) -> tuple[str, tuple[PlaceRow, ...]]:
    """What was typed as CSV, and the filled lines with the line each got."""
    filled = [row for row in rows if row.filled]
    text = io.StringIO()
    if plain := " ".join(name.split())[:100]:
        text.write(f"# name: {plain}\n")
    used = [column for column in COLUMNS if any(row.cells.get(column) for row in filled)]
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(["kind", *(column for column in used if column != "kind")])
    first = text.getvalue().count("\n") + 1
    for row in filled:
        # A line that began with a hash or with nothing but separators would be taken for a comment.
        kind = " ".join(row.cells.get("kind", "").split()).lstrip('#",; ') or "-"
        writer.writerow([kind, *(" ".join(row.cells.get(c, "").split()) for c in used if c != "kind")])
    return text.getvalue(), tuple(replace(row, line=first + n) for n, row in enumerate(filled))


def judged(text: str, source: str, job: Job) -> Judged:
    """What of a text can be used, and what is wrong with the rest; nothing is raised for what was typed."""
    try:
        found = parse_readings(text, source, job)
    except ReadingsError as error:
        return Judged(None, error.faults, _filled_lines(text, source), _by_line(error.faults))
    refused = max(_filled_lines(text, source) - len(found.readings), 0)
    return Judged(found, found.faults, refused, _by_line(found.faults))


def _filled_lines(text: str, source: str) -> int:
    try:
        return sum(not row.blank for row in _table(text, source).rows)
    except ReadingsError:
        return 0


def _by_line(faults: Iterable[Fault]) -> dict[int, tuple[Fault, ...]]:
    """Faults by the line they are on, each with its column alone for a place."""
    found: dict[int, tuple[Fault, ...]] = {}
    for fault in faults:
        if match := _LINE.search(fault.where):
            number = int(match[1])
            found[number] = (*found.get(number, ()), replace(fault, where=match[2] or ""))
    return found


def with_faults(rows: Iterable[PlaceRow], verdict: Judged) -> tuple[PlaceRow, ...]:
    """Lines with what is wrong with each."""
    return tuple(replace(row, faults=verdict.by_line.get(row.line, ())) for row in rows)


def uploaded_text(data: bytes, source: str) -> str:
    """The text of an uploaded file of readings.

    Raises:
        ReadingsError: it is no text, or too large.
    """
    return decoded(data, source)


def write_readings(
    store: Store, job: str, which: str, text: str, verdict: Judged, telling: Telling, *, toml: bool = False
) -> Event:
    """Write a set of readings down as it was typed; lines that cannot be used are left out of every figure.

    Raises:
        RecordError: it cannot be written down.
        SignedOffError: the readings are signed off and no reason is given.
    """
    used = 0 if verdict.readings is None else len(verdict.readings.readings)
    document = Document(
        "readings.toml" if toml else TYPED, "application/toml" if toml else "text/csv", text.encode()
    )
    body = {"set": which, "used": used, "refused": verdict.refused}
    return store.append(job, telling.event("readings", body, (document,)))


def demo_of(job: Job) -> str:
    """Name of the demo job this is and that invented readings come with, or ""."""
    demos = _demos_with_readings()
    return next((name for name, demo in demos.items() if demo.job.name == job.job.name), "")


@cache
def _demos_with_readings() -> dict[str, Job]:
    found = {}
    for name in demo_names():
        try:
            demo_readings(name, "before")
        except JobFileError:
            continue
        found[name] = parse_job(demo_text(name), name)
    return found
