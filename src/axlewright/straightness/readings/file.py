"""Reading a file of straightness readings: from its text to readings in SI, and what is wrong with it line by line.

A line that cannot be used is told and left out; all others are kept. The file is never written to.
"""

from __future__ import annotations

import difflib
import os
import re
from dataclasses import replace
from pathlib import Path

from axlewright.errors import Fault, JobFileError, ReadingsError
from axlewright.job.faults import MOST_FAULTS
from axlewright.job.lines import line_of
from axlewright.job.schema import Job
from axlewright.straightness.readings.cells import Cells
from axlewright.straightness.readings.kinds import KINDS, reading_of
from axlewright.straightness.readings.reading import ReadingSet
from axlewright.straightness.readings.repeats import Entry, without_doubles
from axlewright.straightness.readings.table import Row, Table, table_of
from axlewright.straightness.readings.text import text_of
from axlewright.straightness.readings.toml_table import toml_table_of
from axlewright.straightness.readings.usual import Errors, errors_with
from axlewright.units import show

_LONGEST_NAME = 100

_STRIPPED = '",;\t '
"""Marks that a spreadsheet leaves at the ends of a comment."""

_MEANT = {
    **dict.fromkeys(("straightedge", "feeler", "feelers"), 'Did you mean "gap"?'),
    **dict.fromkeys(("line", "wire"), 'Did you mean "string"?'),
    **dict.fromkeys(("dial", "tir", "indicator"), 'Did you mean "runout", or "four-point"?'),
    **dict.fromkeys(("4-point", "four-points", "fourpoint"), 'Did you mean "four-point"?'),
    **dict.fromkeys(("camber", "caster", "level"), 'Write "angle" as kind and this word as sense.'),
    **dict.fromkeys(("laser", "lamp"), 'Did you mean "dot"?'),
    **dict.fromkeys(("tape", "toe-tape"), 'Did you mean "toe"?'),
}
"""Words of the trade that are no kind here, and what to write instead."""


def read_readings(path: str | os.PathLike[str], job: Job) -> ReadingSet:
    """The readings in a CSV or TOML file; docs/readings.md describes it.

    Args:
        path: the file; TOML where its name ends in .toml or it holds a line [[reading]], otherwise CSV.
        job: the job the readings belong to; its unit is that of bare numbers.

    Raises:
        ReadingsError: the file cannot be read, or nothing of it can be used.
    """
    return parse_readings(text_of(Path(path)), str(path), job)


def parse_readings(text: str, source: str, job: Job) -> ReadingSet:
    """The readings in a text.

    Args:
        text: the text of a CSV or TOML file.
        source: stands for the file in messages, and tells by its ending whether it is TOML.
        job: the job the readings belong to.

    Raises:
        ReadingsError: nothing of it can be used.
    """
    text = text.removeprefix("\ufeff")
    is_toml = source.casefold().endswith(".toml") or re.search(r"(?m)^\s*\[\[reading\]\]", text) is not None
    table = toml_table_of(text, source) if is_toml else table_of(text, source)
    inch = job.inch if table.inch is None else table.inch
    errors, wrong = errors_with(table.usual_error, inch)
    faults = [*table.faults, *(_of_usual(fault, text, source) for fault in wrong)]
    entries = _entries(table, job, inch, errors, faults)
    used, doubles = without_doubles(entries)
    faults = sorted([*faults, *doubles], key=_line)
    if not used:
        raise _nothing(source, table, faults)
    return ReadingSet(_name(table, source), tuple(entry.reading for entry in used), tuple(faults))


def _entries(table: Table, job: Job, inch: bool, errors: Errors, faults: list[Fault]) -> list[Entry]:
    """Readings of the rows that are filled in; what is wrong with others is added to the faults."""
    entries, setups = [], dict[str, str]()
    for row in table.rows:
        if row.blank:
            continue
        try:
            reading = reading_of(KINDS[_kind(row)], Cells(row, job, inch, errors))
        except (ReadingsError, JobFileError) as error:
            faults += [row.placed(fault) for fault in error.faults]
            continue
        # One set-up written "Front" and "front" is one.
        setup = setups.setdefault(reading.origin.setup.casefold(), reading.origin.setup)
        entries.append(Entry(row, replace(reading, origin=replace(reading.origin, setup=setup))))
    return entries


def _kind(row: Row) -> str:
    """The kind of a reading.

    Raises:
        ReadingsError: it is missing, or there is no such kind.
    """
    said = "-".join(row.get("kind").casefold().replace("_", " ").replace("-", " ").split())
    if said in KINDS:
        return said
    near = difflib.get_close_matches(said, KINDS, n=1, cutoff=0.5)
    remedy = _MEANT.get(said) or (f'Did you mean "{near[0]}"?' if near else "See docs/readings.md.")
    found = show(row.get("kind")) if said else "missing"
    raise ReadingsError(Fault("kind", found, f"a kind is one of {', '.join(KINDS)}", remedy))


def _nothing(source: str, table: Table, faults: list[Fault]) -> ReadingsError:
    """The error for a file none of whose lines can be used."""
    if not faults:
        allowed = "no reading is filled in"
        remedy = "Write what was measured on the lines of the form, as many as were read."
        found = "an empty form" if table.rows else "without readings"
        return ReadingsError(Fault(source, found, allowed, remedy))
    more = len(faults) - MOST_FAULTS
    rest = [Fault(source, "", f"{more} more faults follow", "Mend these first, then run again.")]
    return ReadingsError(*faults[:MOST_FAULTS], *(rest if more > 0 else ()))


def _of_usual(fault: Fault, text: str, source: str) -> Fault:
    """A fault of the table [usual_error] with its line."""
    line = line_of(text, ("usual_error", fault.where))
    return replace(fault, where=f"{source}{f' line {line}' if line else ''}: usual_error {show(fault.where)}")


def _line(fault: Fault) -> int:
    match = re.search(r" line ([0-9]+)", fault.where)
    return int(match[1]) if match else 0


def _name(table: Table, source: str) -> str:
    """What the set is called: what the file says, or the file's own name."""
    name = " ".join(table.name.split()).strip(_STRIPPED) or Path(source).stem
    return "".join(mark if mark.isprintable() else "?" for mark in name)[:_LONGEST_NAME]
