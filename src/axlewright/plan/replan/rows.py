"""The text of a bead log as rows with line numbers; nothing of welding is known here."""

from __future__ import annotations

import csv
import difflib
from dataclasses import dataclass

from axlewright.errors import Fault, LogError
from axlewright.units import show

COLUMNS = (
    "time",
    "event",
    "bead",
    "attachment",
    "seam",
    "from",
    "to",
    "what",
    "value",
    "error",
    "note",
)
"""Columns a log may have; `time` and `event` it must have."""

LARGEST_LOG = 1_000_000
"""Characters above which a log is not even looked at; a long job has ten thousand."""

_HEADING = "The first line that is no comment names the columns, e.g. time,event,bead,to,value"


@dataclass(frozen=True)
class Row:
    """One line of a log: where it stands, and its cells by column, empty ones left out.

    Args:
        where: for messages, for example "log.csv line 7".
        cells: what stands in it.
        decimal_comma: whether a comma in a number is its decimal mark.
    """

    where: str
    cells: dict[str, str]
    decimal_comma: bool

    def get(self, column: str) -> str:
        """What stands in a column, or nothing."""
        return self.cells.get(column, "")


def rows_of(text: str, source: str) -> tuple[list[Row], list[Fault]]:
    """The rows of a log, and what is wrong with its table.

    Raises:
        LogError: nothing of it can be used.
    """
    if len(text) > LARGEST_LOG:
        raise LogError(Fault(source, "larger than 1 MB", "a log is a few pages", "Is it the right file?"))
    lines = [
        (f"{source} line {number}", line)
        for number, line in enumerate(text.lstrip("\ufeff").splitlines(), start=1)
        if line.strip() and not line.lstrip().startswith("#")
    ]
    if not lines:
        raise LogError(Fault(source, "empty", "a log begins with the names of its columns", _HEADING + "."))
    separator = ";" if lines[0][1].count(";") > lines[0][1].count(",") else ","
    columns, faults = _columns(*lines[0], separator)
    rows = []
    for where, line in lines[1:]:
        try:
            cells = [cell.strip() for cell in next(csv.reader([line], delimiter=separator, strict=True))]
        except csv.Error:
            remedy = 'A cell that holds the separator is written in double quotes: "12, front".'
            faults.append(Fault(where, show(line), "cannot be split into cells", remedy))
            continue
        if extra := [cell for cell in cells[len(columns) :] if cell]:
            allowed = f"there are {len(columns)} columns"
            remedy = "Put a cell that holds the separator in double quotes."
            faults.append(Fault(where, f"{len(extra)} cells too long", allowed, remedy))
            continue
        named = zip(columns, cells, strict=False)
        kept = {name: cell for name, cell in named if name and cell}
        if kept:
            rows.append(Row(where, kept, separator == ";"))
    return rows, faults


def _columns(where: str, line: str, separator: str) -> tuple[list[str], list[Fault]]:
    """Names of the columns, empty for those that are not known."""
    found = [cell.strip().strip('"').strip().casefold() for cell in line.split(separator)]
    missing = [name for name in ("time", "event") if name not in found]
    if missing:
        allowed = f"must name the columns, {' and '.join(missing)} among them"
        raise LogError(Fault(where, show(line), allowed, _HEADING + "."))
    names, faults = [], []
    for name in found:
        good = name in COLUMNS and name not in names
        names.append(name if good else "")
        if not good and name:
            faults.append(_unknown(where, name, name in COLUMNS))
    return names, faults


def _unknown(where: str, name: str, twice: bool) -> Fault:
    if twice:
        return Fault(f"{where}: column {show(name)}", "", "stands twice", "The first one is read.")
    near = difflib.get_close_matches(name, COLUMNS, n=1, cutoff=0.6)
    remedy = f'Did you mean "{near[0]}"?' if near else f"Known columns: {', '.join(COLUMNS)}."
    return Fault(f"{where}: column {show(name)}", "", "there is no such column, it is not read", remedy)
