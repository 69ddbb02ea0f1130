"""The form as its template shows it: sections, cards with their drawings, controls with their messages."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from axlewright.tasks.describing import FieldSpec, TableSpec
from axlewright.web.drawing.figures import figure
from axlewright.web.drawing.measures import Measures
from axlewright.web.form.figures import drawable
from axlewright.web.form.layout import (
    Section,
    choice_words,
    entry_name,
    hint,
    label,
    may_be_mirrored,
    schema_name,
    sections,
    table_of,
)
from axlewright.web.form.messages import Messages
from axlewright.web.form.typed import Typed

_UNIT_SIGNS = {"degC": "°C", "degF": "°F", "deg": "°"}


@dataclass(frozen=True)
class Field:
    """A control for one value; `anchor` names its message, `suggestions` a list of names to choose from."""

    name: str
    label: str
    control: Literal["line", "lines", "choice"]
    text: str
    unit: str
    hint: str
    plausible: str
    needed: bool
    choices: tuple[tuple[str, str], ...]
    messages: tuple[str, ...]
    suggestions: str = ""

    @property
    def id(self) -> str:
        """Its place in the page."""
        return "f-" + self.name.replace(".", "-")


@dataclass(frozen=True)
class Row:
    """A line of a list: its name, and its fields."""

    name: str
    fields: tuple[Field, ...]


@dataclass(frozen=True)
class Rows:
    """A list in a card: corners of a top edge, drain openings."""

    name: str
    label: str
    entry: str
    hint: str
    rows: tuple[Row, ...]
    messages: tuple[str, ...]

    @property
    def id(self) -> str:
        """Its place in the page."""
        return "f-" + self.name.replace(".", "-")


@dataclass(frozen=True)
class Card:
    """Fields beside their drawing; `entry` and `mirror` for tables that stand several times."""

    key: str
    title: str
    controls: tuple[Field | Rows, ...]
    figure: str | None
    messages: tuple[str, ...]
    entry: str = ""
    mirror: bool = False

    @property
    def id(self) -> str:
        """Its place in the page."""
        return "f-" + self.key.replace(".", "-")


@dataclass(frozen=True)
class Part:
    """A section with its cards, what can be added to it, and what is to be said of its tables as a whole."""

    section: Section
    cards: tuple[Card, ...]
    adds: tuple[tuple[str, str], ...]
    messages: tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True)
class Sheet:
    """The whole form; `last` is what the drawings were last made from."""

    parts: tuple[Part, ...]
    last: str
    perches: tuple[str, ...]


def dimension_sheet(typed: Typed, messages: Messages, last: str = "") -> Sheet:
    """The form for what is typed.

    Args:
        typed: everything typed.
        messages: those to be shown.
        last: what the drawings were last made from.
    """
    drawn = drawable(typed, last)
    making = _Making(typed, messages, drawn.measures)
    perches = tuple(typed.text(f"housing.perch.{n}.name") for n in range(typed.count("housing.perch")))
    return Sheet(tuple(making.part(one) for one in sections()), drawn.last, tuple(filter(None, perches)))


def redrawn(
    typed: Typed, last: str = "", sections_asked: frozenset[str] | None = None
) -> tuple[dict[str, str], str]:
    """The drawings by card, and what they were made from.

    Args:
        typed: everything typed.
        last: what they were made from before.
        sections_asked: only cards of these sections; None for all.
    """
    drawn, found = drawable(typed, last), dict[str, str]()
    for section in sections():
        if sections_asked is None or section.id in sections_asked:
            for key in _card_keys(section, typed):
                picture = figure(key, drawn.measures)
                found |= {} if picture is None else {key: picture}
    return found, drawn.last


def _card_keys(section: Section, typed: Typed) -> Iterator[str]:
    if any(not table_of(table).many for table in section.tables):
        yield section.id
    for table in section.tables:
        if table_of(table).many:
            yield from (f"{table}.{n}" for n in range(typed.count(table)))


@dataclass(frozen=True)
class _Making:
    typed: Typed
    messages: Messages
    measures: Measures

    def part(self, section: Section) -> Part:
        once = [table for table in section.tables if not table_of(table).many]
        several = [table for table in section.tables if table_of(table).many]
        cards = [self._card_once(section, once)] if once else []
        cards += [self._card(table, n) for table in several for n in range(self.typed.count(table))]
        adds = tuple((table, entry_name(table)) for table in several)
        said = tuple((table, self.messages.at(table)) for table in section.tables)
        return Part(section, tuple(cards), adds, said)

    def _card_once(self, section: Section, tables: list[str]) -> Card:
        controls = [one for table in tables for one in self._controls(table_of(table), f"{table}.")]
        return Card(section.id, "", tuple(controls), figure(section.id, self.measures), ())

    def _card(self, table: str, n: int) -> Card:
        key, entry = f"{table}.{n}", entry_name(table)
        title = f"{entry[:1].upper()}{entry[1:]} {n + 1}"
        controls = tuple(self._controls(table_of(table), f"{key}."))
        picture = figure(key, self.measures)
        return Card(key, title, controls, picture, self.messages.at(key), entry, may_be_mirrored(table))

    def _controls(self, table: TableSpec, prefix: str) -> Iterator[Field | Rows]:
        for part in table.parts:
            name = prefix + part.key
            if isinstance(part, FieldSpec):
                yield self._list(part, name) if part.what in ("pairs", "choices") else self.field(part, name)
            elif part.many and schema_name(name) not in _section_tables():
                yield self._inner_rows(part, name)

    def _list(self, spec: FieldSpec, name: str) -> Rows:
        if spec.what == "choices":
            rows = [Row(f"{name}.{n}", (self.field(spec, f"{name}.{n}"),)) for n in range(spec.most)]
        else:
            rows = [self._pair(spec, f"{name}.{n}") for n in range(self.typed.count(name))]
        return self._rows(name, spec.meaning, tuple(rows), spec.what == "pairs")

    def _pair(self, spec: FieldSpec, name: str) -> Row:
        return Row(name, tuple(self.field(one, f"{name}.{k}") for k, one in enumerate(spec.columns)))

    def _inner_rows(self, table: TableSpec, name: str) -> Rows:
        prefixes = [f"{name}.{n}" for n in range(self.typed.count(name))]
        rows = [
            Row(each, tuple(self.field(one, f"{each}.{one.key}") for one in table.fields))
            for each in prefixes
        ]
        return self._rows(name, table.meaning, tuple(rows), True)

    def _rows(self, name: str, meaning: str, rows: tuple[Row, ...], may_grow: bool) -> Rows:
        dotted = schema_name(name)
        said = self.messages.at(name) + (
            tuple(m for row in rows for m in self.messages.at(row.name)) if may_grow else ()
        )
        return Rows(
            name, label(dotted), entry_name(dotted) if may_grow else "", hint(dotted, meaning), rows, said
        )

    def field(self, spec: FieldSpec, name: str) -> Field:
        dotted = schema_name(name)
        quantity = spec.quantity
        unit = spec.own_unit or ("" if quantity is None else quantity.bare_unit(self.typed.inch))
        return Field(
            name=name,
            label=_field_label(spec, name, dotted),
            control="choice" if spec.what in ("choice", "choices", "yes or no") else _lines(spec),
            text=self.typed.text(name),
            unit=_UNIT_SIGNS.get(unit, unit),
            hint=hint(dotted, spec.meaning),
            plausible=spec.range_in(self.typed.inch),
            needed=spec.needed,
            choices=_choices(spec, dotted),
            messages=self.messages.at(name),
            suggestions="perch-names" if dotted == "spacer.perch" else "",
        )


def _section_tables() -> frozenset[str]:
    return frozenset(table for section in sections() for table in section.tables)


def _lines(spec: FieldSpec) -> Literal["line", "lines"]:
    return "lines" if spec.what == "text" else "line"


def _field_label(spec: FieldSpec, name: str, dotted: str) -> str:
    if spec.what == "choices":
        number = int(name.rpartition(".")[2])
        return ("First", "Then", "Then, third", "Then, fourth", "Last")[min(number, 4)]
    return label(dotted)


def _choices(spec: FieldSpec, dotted: str) -> tuple[tuple[str, str], ...]:
    values = ("true", "false") if spec.what == "yes or no" else tuple(map(str, spec.choices))
    return tuple((value, choice_words(dotted, value)) for value in values)
