"""The text of a CSV file of readings as rows of named cells; nothing of housings is known here."""

from __future__ import annotations

import csv
import difflib
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from axlewright.errors import Fault, ReadingsError
from axlewright.straightness.readings.text import LARGEST_FILE, too_large
from axlewright.units import show

MEASURED = (
    *("gap", "height", "total", "clock", "at_12", "at_3", "at_6", "at_9", "angle", "front", "rear"),
    *("up", "forward"),
)
"""Columns that hold what was measured; a line in which all of them are empty is a form not filled in."""

COLUMNS = (
    *("kind", "setup", "at", "side", "end", "sense", *MEASURED[:3], "clock", "clock_error", *MEASURED[4:8]),
    *("block_left", "block_right", "angle", "front", "rear", "diameter", "distance", "up", "forward"),
    *("error", "note"),
)
"""Columns a file may have, in the order they are written; `kind` it must have, others as its kinds need them."""

MOST_ROWS = 3000
"""Readings above which it cannot be a check of one housing; a thorough one has a hundred."""

_HEADING = "The first line that is no comment names the columns, e.g. kind,at,side,gap"
_NAME = re.compile(r"#\s*name\s*[:=]\s*(.*)", re.IGNORECASE)
_WITH_UNIT = re.compile(r"(.*?)\s*[(\[]\s*(.*?)\s*[)\]]")
_QUOTED = re.compile(r'(^|[,;\t])\s*+"(?:[^"]|"")*+"(?=\s*(?:$|[,;\t]))')
_OPENING = re.compile(r'(?:^|[,;\t])\s*+"')
_LONGEST_CELL_LINES = 20


@dataclass(frozen=True)
class Row:
    """One reading as it was written.

    Args:
        source: name of the file.
        line: its line; 0 where that is not known.
        label: for messages, for example "after.csv line 7".
        cells: what stands in it by column, empty ones left out.
        decimal_comma: whether a comma in a number is its decimal mark.
        lines: lines of single cells, where they have their own.
    """

    source: str
    line: int
    label: str
    cells: Mapping[str, str]
    decimal_comma: bool = False
    lines: Mapping[str, int] = field(default_factory=dict)

    def get(self, column: str) -> str:
        """What stands in a column, or nothing."""
        return self.cells.get(column, "")

    def placed(self, fault: Fault) -> Fault:
        """A fault of this row with its line in front."""
        line = self.lines.get(fault.where, 0)
        label = f"{self.source} line {line}" if line else self.label
        return Fault(f"{label}: {fault.where}", fault.value, fault.allowed, fault.remedy)

    @property
    def blank(self) -> bool:
        """Whether nothing measured stands in it."""
        return not any(column in self.cells for column in MEASURED)


@dataclass(frozen=True)
class Table:
    """Rows of a file, what is wrong with it as a table, and the name it gives itself, if any."""

    rows: list[Row]
    faults: list[Fault]
    name: str = ""
    usual_error: Mapping[str, str] = field(default_factory=dict)
    inch: bool | None = None


@dataclass(frozen=True)
class _Columns:
    """Names of the columns, empty for those that are not read, and the unit some of them state."""

    names: list[str]
    units: list[str]


def table_of(text: str, source: str) -> Table:
    """The rows of a CSV text.

    Raises:
        ReadingsError: nothing of it can be used.
    """
    if len(text) > LARGEST_FILE:
        raise too_large(source)
    lines, name = _lines(text)
    if not lines:
        raise ReadingsError(
            Fault(source, "empty", "a file of readings begins with its columns", _HEADING + ".")
        )
    # Some spreadsheets write their separator on a line of its own, which the heading shows as well.
    if lines[0][1].strip().strip('"').casefold().startswith("sep=") and len(lines) > 1:
        lines = lines[1:]
    separator = _separator(lines[0][1])
    if len(lines) > MOST_ROWS + 1:
        allowed = f"a check of a housing has at most {MOST_ROWS}"
        raise ReadingsError(
            Fault(source, f"{len(lines) - 1} readings long", allowed, "Is it the right file?")
        )
    columns, faults = _columns(f"{source} line {lines[0][0]}", _cells(lines[0][1], separator))
    rows = []
    for number, line in lines[1:]:
        label = f"{source} line {number}"
        try:
            kept = _named(columns, _cells(line, separator))
        except ReadingsError as error:
            faults += [Fault(label, fault.value, fault.allowed, fault.remedy) for fault in error.faults]
            continue
        if kept:
            rows.append(Row(source, number, label, kept, separator != ","))
    return Table(rows, faults, name)


def _lines(text: str) -> tuple[list[tuple[int, str]], str]:
    """Lines with their numbers, comments and blank ones left out, and the name a comment gives the set."""
    kept, name = [], ""
    for number, line in _joined(text.splitlines()):
        # A spreadsheet puts a comment in quotes and separators behind it.
        plain = line.strip().strip('",;\t ')
        if plain.startswith("#"):
            match = _NAME.fullmatch(plain.replace('""', '"'))
            name = name or (match[1].strip() if match else "")
        elif plain:
            kept.append((number, line))
    return kept, name


def _joined(lines: list[str]) -> Iterator[tuple[int, str]]:
    """Lines with their numbers, those put together that a quoted cell runs over."""
    at = 0
    while at < len(lines):
        count = 1
        if _open(lines[at]) and not lines[at].lstrip().startswith("#"):
            most = min(_LONGEST_CELL_LINES, len(lines) - at)
            count = next((n for n in range(2, most + 1) if not _open(" ".join(lines[at : at + n]))), 1)
        yield at + 1, " ".join(lines[at : at + count])
        at += count


def _open(line: str) -> bool:
    """Whether a quoted cell is begun and not ended; an inch mark behind a number begins none."""
    return _OPENING.search(_QUOTED.sub(r"\1", line)) is not None


def _separator(heading: str) -> str:
    """What parts the cells: the mark that finds most columns in the heading."""
    found = {mark: sum(_plain(cell)[0] in COLUMNS for cell in heading.split(mark)) for mark in ",;\t"}
    return max(found, key=lambda mark: (found[mark], heading.count(mark)))


def _cells(line: str, separator: str) -> list[str]:
    """Cells of a line.

    Raises:
        ReadingsError: its quotes do not match.
    """
    try:
        reader = csv.reader([line], delimiter=separator, skipinitialspace=True, strict=True)
        return [cell.strip() for cell in next(reader)]
    except csv.Error as error:
        remedy = 'A cell that holds the separator is written in double quotes: "12, front".'
        raise ReadingsError(Fault("", show(line), "cannot be split into cells", remedy)) from error


def _plain(cell: str) -> tuple[str, str]:
    """Name of a column as it is known, and the unit it states: "Gap (mm)" is gap in mm."""
    text = cell.strip().strip('"').strip().casefold()
    match = _WITH_UNIT.fullmatch(text)
    name, unit = (match[1], match[2]) if match else (text, "")
    return re.sub(r"[\s_-]+", "_", name), unit


def _columns(where: str, heading: list[str]) -> tuple[_Columns, list[Fault]]:
    """The columns, and those that are not known."""
    found = [_plain(cell) for cell in heading]
    if "kind" not in [name for name, _ in found]:
        shown = show(",".join(heading))
        raise ReadingsError(Fault(where, shown, "must name the columns, kind among them", _HEADING + "."))
    names: list[str] = []
    faults = []
    for name, _ in found:
        good = name in COLUMNS and name not in names
        if not good and name:
            faults.append(unknown_column(f"{where}: column {show(name)}", name, name in COLUMNS))
        names.append(name if good else "")
    return _Columns(names, ["" if name == "clock" else unit for name, unit in found]), faults


def unknown_column(where: str, name: str, twice: bool = False) -> Fault:
    """The fault for a column or key that is not read."""
    if twice:
        return Fault(where, "", "stands twice", "The first one is read.")
    near = difflib.get_close_matches(name, COLUMNS, n=1, cutoff=0.6)
    remedy = f'Did you mean "{near[0]}"?' if near else f"Known: {', '.join(COLUMNS)}."
    return Fault(where, "", "there is no such column, it is not read", remedy)


def _named(columns: _Columns, cells: list[str]) -> dict[str, str]:
    """Cells by column, empty ones left out; a bare number takes the unit of its column.

    Raises:
        ReadingsError: there are more cells than columns.
    """
    if extra := [cell for cell in cells[len(columns.names) :] if cell]:
        allowed = f"there are {len(columns.names)} columns"
        remedy = "Put a cell that holds the separator in double quotes, or check for a decimal comma."
        raise ReadingsError(Fault("", f"{len(extra)} cells too long", allowed, remedy))
    kept = {}
    for name, unit, cell in zip(columns.names, columns.units, cells, strict=False):
        if name and cell:
            kept[name] = f"{cell} {unit}" if unit and cell[-1].isdigit() else cell
    return kept
