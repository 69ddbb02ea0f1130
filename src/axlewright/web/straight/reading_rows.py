"""Lines of readings between a form on a page and what is typed: names of its fields, what is said of a place."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from axlewright import units
from axlewright.tasks.measuring_form import Column, Group, Kind, PlaceRow, columns, kinds
from axlewright.web.straight import words

_FIELD = re.compile(r"r-([0-9a-z]{1,32})-([0-9a-z_]{1,20})")
_LONGEST_CELL = 400
_UNITS = {"angle": "°", "clock": "clock", "minutes": "min"}
_SENSES = {
    "camber": "camber",
    "toe": "toe",
    "caster": "caster",
    "level": "level, on a bar",
    "level on side": "level, bar, on its side",
}
_BESIDES = ("setup", "error", "note")


@dataclass(frozen=True)
class Cell:
    """A field of a line.

    Args:
        name: of the field.
        column: what it holds.
        value: what stands in it.
        unit: shown beside it.
        said: what it is, with its place, for those who cannot see the line.
        wrong: whether a fault names it.
    """

    name: str
    column: Column
    value: str
    unit: str
    said: str
    wrong: bool


@dataclass(frozen=True)
class RowView:
    """A line as the page shows it.

    Args:
        token: tells it from all other lines of the form.
        row: what stands in it.
        place: where it is read, in words; "" where that is typed.
        hidden: fields that are not typed, by name.
        where: fields that say where.
        measured: fields that are measured.
        besides: what it may say besides.
        at: distance from the left flange [m], where the line has one.
        said: what stands in `besides` that the form did not put there, in words.
        open: whether a fault is on one of them.
    """

    token: str
    row: PlaceRow
    place: str
    hidden: Mapping[str, str]
    where: tuple[Cell, ...]
    measured: tuple[Cell, ...]
    besides: tuple[Cell, ...]
    at: float | None
    said: str
    open: bool


@dataclass(frozen=True)
class GroupView:
    """A group as the page shows it."""

    group: Group
    rows: tuple[RowView, ...]
    usual_setup: str

    @property
    def filled(self) -> int:
        """Lines with something in them."""
        return sum(view.row.filled for view in self.rows)


def group_views(groups: Iterable[Group], inch: bool) -> tuple[GroupView, ...]:
    """Groups with their lines, each line with its own mark."""
    found, count = [], 0
    for group in groups:
        rows = []
        for row in group.rows:
            rows.append(row_view(row, str(count), inch))
            count += 1
        found.append(GroupView(group, tuple(rows), next((v.row.cells.get("setup", "") for v in rows), "")))
    return tuple(found)


def row_view(row: PlaceRow, token: str, inch: bool) -> RowView:
    """A line as the page shows it."""
    kind = kinds().get(row.cells.get("kind", ""))
    place = place_words(row.cells, inch) if row.given and kind else ""
    wrong = {fault.where for fault in row.faults}

    def cell(name: str) -> Cell:
        column = columns()[name]
        said = f"{column.says}, {place or kind_words(row.cells)}"
        unit = unit_of(column, inch)
        return Cell(f"r-{token}-{name}", column, row.cells.get(name, ""), unit, said, name in wrong)

    fixed = (kind.place if kind else ()) if row.given else ()
    hidden = {f"r-{token}-{name}": row.cells.get(name, "") for name in (*(("kind",) if kind else ()), *fixed)}
    where = () if row.given else _typed_place(kind, row)
    measured, besides = _typed_columns(kind, row)
    return RowView(
        token,
        row,
        place,
        hidden,
        tuple(cell(name) for name in where),
        tuple(cell(name) for name in measured),
        tuple(cell(name) for name in besides),
        _metres(row.cells.get("at", ""), inch),
        _besides_said(row, besides),
        bool(wrong & set(besides)),
    )


def _typed_place(kind: Kind | None, row: PlaceRow) -> tuple[str, ...]:
    """Columns that say where, for a line whose place the form does not give."""
    if kind is not None:
        return kind.place
    return ("kind", *(name for name in ("at", "side", "end", "sense", "distance") if row.cells.get(name)))


def _typed_columns(kind: Kind | None, row: PlaceRow) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Columns that are measured, and those that may be said besides; what stands where it does not belong stays."""
    own = set() if kind is None else {"kind", *kind.place, *kind.measured, *kind.also, *_BESIDES}
    if kind is None:
        own = {"kind", "at", "side", "end", "sense", "distance", *_BESIDES}
    stray = tuple(name for name in row.cells if name in columns() and name not in own)
    if kind is None:
        return stray, _BESIDES
    return (*kind.measured, *stray), (*kind.also, *_BESIDES)


def _besides_said(row: PlaceRow, besides: Iterable[str]) -> str:
    """What a line says besides, in a few words: "± 0.1, set-up front wire, read again"."""
    spelled = {"error": "± {}", "note": "{}", "setup": "{}"}
    names = [name for name in ("setup", "error", "note", *besides) if row.cells.get(name)]
    if row.cells.get("setup", "") == row.usual_setup:
        names = [name for name in names if name != "setup"]
    said = (
        spelled.get(name, f"{columns()[name].says} {{}}").format(row.cells[name])
        for name in dict.fromkeys(names)
    )
    return ", ".join(said)


def unit_of(column: Column, inch: bool) -> str:
    """What a bare number of a column is in."""
    return ("in" if inch else "mm") if column.quantity == "length" else _UNITS.get(column.quantity, "")


def place_words(cells: Mapping[str, str], inch: bool) -> str:
    """Where a line is read: "175 mm", "camber, left"."""
    if sense := cells.get("sense"):
        end = "" if cells.get("end") == "across" else f", {cells.get('end', '')}"
        return f"{_SENSES.get(sense, sense)}{end}"
    if at := cells.get("at"):
        metres = _metres(at, inch)
        return at if metres is None else words.length(metres, inch)
    return "tape" if cells.get("kind") == "toe" else ""


def kind_words(cells: Mapping[str, str]) -> str:
    """What a line is: "string, 1015 front"."""
    parts = [cells.get(name, "") for name in ("kind", "sense", "end", "at", "side", "distance")]
    return " ".join(part for part in parts if part) or "a line"


def _metres(cell: str, inch: bool) -> float | None:
    """A distance that is a bare number of a sensible size [m]."""
    try:
        value = float(cell)
    except ValueError:
        return None
    return units.to_si(value, units.LENGTH, inch) if 0.0 <= value < 1e6 else None


def typed_rows(fields: Iterable[tuple[str, str]]) -> tuple[PlaceRow, ...]:
    """The lines that a form sent, in its order; what is no field of a line is passed over."""
    found: dict[str, dict[str, str]] = {}
    for name, value in fields:
        match = _FIELD.fullmatch(name)
        if match is None or match[2] not in columns():
            continue
        cell = " ".join(value.split())[:_LONGEST_CELL]
        row = found.setdefault(match[1], {})
        if cell:
            row[match[2]] = cell
    return tuple(PlaceRow(cells) for cells in found.values())


def new_row(group: Group) -> PlaceRow:
    """An empty line of a group, its place to be typed."""
    like = group.rows[0].cells if group.rows else {}
    kept = {name: like[name] for name in ("setup", "side") if name in like}
    return PlaceRow({"kind": group.kind, **kept})


def placed(rows: Iterable[PlaceRow]) -> Iterator[str]:
    """What each line is, in words."""
    return (kind_words(row.cells) for row in rows)
