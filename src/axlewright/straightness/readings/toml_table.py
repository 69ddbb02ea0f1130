"""The text of a TOML file of readings as the same rows as a CSV file's."""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping
from typing import Any

from axlewright.errors import Fault, ReadingsError
from axlewright.job.lines import line_of
from axlewright.straightness.readings.table import COLUMNS, MOST_ROWS, Row, Table, unknown_column
from axlewright.straightness.readings.text import LARGEST_FILE, too_large
from axlewright.toml_text import toml_tables
from axlewright.units import show

_KEYS = ("units", "name", "reading", "usual_error")
_MOST_DOTS = 400
"""Dots on one line above which it is noise: a key of very many parts costs the parser time by their square."""


def toml_table_of(text: str, source: str) -> Table:
    """The rows of a TOML text.

    Raises:
        ReadingsError: nothing of it can be used.
    """
    tree = _tree(text, source)
    faults = [_unknown_key(text, source, key) for key in tree if key not in _KEYS]
    readings = tree.get("reading", [])
    if not isinstance(readings, list) or not all(isinstance(entry, dict) for entry in readings):
        remedy = "Head each reading with [[reading]]."
        raise ReadingsError(Fault(f"{source}: reading", show(readings), "must be tables", remedy))
    if len(readings) > MOST_ROWS:
        allowed = f"a check of a housing has at most {MOST_ROWS}"
        raise ReadingsError(Fault(source, f"{len(readings)} readings long", allowed, "Is it the right file?"))
    rows = [_row(text, source, n, entry, faults) for n, entry in enumerate(readings)]
    usual = _usual(text, source, tree.get("usual_error", {}), faults)
    return Table(
        [row for row in rows if row.cells], faults, _cell(tree.get("name", "")), usual, _inch(tree, source)
    )


def _tree(text: str, source: str) -> dict[str, Any]:
    """Tables of a text."""
    if len(text) > LARGEST_FILE:
        raise too_large(source)
    for number, line in enumerate(text.splitlines(), start=1):
        if line.count(".") > _MOST_DOTS:
            where = f"{source} line {number}"
            raise ReadingsError(Fault(where, "", "is very long", "Head each reading with [[reading]]."))
    remedy = 'A line reads key = 12.5 or key = "text"; a reading is headed [[reading]].'
    tree = toml_tables(text, source, ReadingsError, remedy)
    if not tree:
        remedy = "Head each reading with [[reading]]."
        raise ReadingsError(Fault(source, "empty", "a file of readings has at least one", remedy))
    return tree


def _inch(tree: Mapping[str, Any], source: str) -> bool | None:
    """Whether the file's bare numbers are inches; None where it does not say."""
    units = tree.get("units")
    if units not in (None, "mm", "inch"):
        remedy = 'Write units = "mm" or units = "inch", or leave it out for the unit of the job.'
        raise ReadingsError(Fault(f"{source}: units", show(units), 'must be "mm" or "inch"', remedy))
    return None if units is None else units == "inch"


def _row(text: str, source: str, number: int, entry: Mapping[str, Any], faults: list[Fault]) -> Row:
    """One [[reading]]; keys that are not known are told."""
    line = line_of(text, ("reading", number)) or 0
    label = f"{source} line {line}" if line else f"{source} reading no. {number + 1}"
    cells, lines = {}, {}
    for key, value in entry.items():
        name = re.sub(r"[\s_-]+", "_", key.strip().casefold())
        own = line_of(text, ("reading", number, key)) or line
        where = f"{source} line {own}: {show(name)}" if own else f"{label}: {show(name)}"
        cell = _cell(value)
        if name not in COLUMNS or name in cells:
            faults.append(unknown_column(where, name, name in cells))
        elif cell:
            cells[name], lines[name] = cell, own
    return Row(source, line, label, cells, lines=lines)


def _cell(value: object) -> str:
    """A value as it would stand in a cell; what is neither number nor text is named, and refused where it is read."""
    return " ".join(value.split()) if isinstance(value, str) else show(value)


def _usual(text: str, source: str, table: object, faults: list[Fault]) -> dict[str, str]:
    """What [usual_error] says."""
    if not isinstance(table, dict):
        remedy = 'Head it [usual_error] and write below it, for example, gap = "0.1 mm".'
        faults.append(Fault(f"{source}: usual_error", show(table), "must be a table", remedy))
        return {}
    return {key: _cell(value) for key, value in table.items()}


def _unknown_key(text: str, source: str, key: str) -> Fault:
    near = difflib.get_close_matches(key, _KEYS, n=1, cutoff=0.5)
    remedy = f'Did you mean "{near[0]}"?' if near else f"Known here: {', '.join(_KEYS)}."
    line = line_of(text, (key,))
    return Fault(f"{source} line {line}: {show(key)}", "", "no such key, it is not read", remedy)
