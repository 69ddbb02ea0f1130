"""Messages of the job file at the fields of the form."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from axlewright.errors import Fault
from axlewright.tasks.describing import FieldSpec, Refusal, TableSpec, described_job, refused
from axlewright.web.form.layout import entry_name, label, schema_name, section_of
from axlewright.web.form.tree import tree_of
from axlewright.web.form.typed import Typed

MOST_SHOWN = 20
"""More than a screen of messages helps nobody, as in the job file."""


@dataclass(frozen=True)
class Line:
    """A message in the summary: the place it links to, what that is called, and the message."""

    anchor: str
    label: str
    words: str
    missing: bool


@dataclass(frozen=True)
class Messages:
    """All messages of a form.

    Args:
        lines: in the order of the job file's checks.
    """

    lines: tuple[Line, ...] = ()

    def at(self, anchor: str) -> tuple[str, ...]:
        """What is to be said at a place of the form."""
        return tuple(line.words for line in self.lines if line.anchor == anchor)

    @property
    def missing(self) -> int:
        """How many values are still to be filled in."""
        return sum(line.missing for line in self.lines)

    @property
    def to_mend(self) -> tuple[Line, ...]:
        """Messages on what is there and wrong."""
        return tuple(line for line in self.lines if not line.missing)

    def only(self, touched: Iterable[str]) -> Messages:
        """Messages at fields that were touched, and at lists in which one was."""
        names = set(touched)
        if "*" in names:
            return self
        names |= {around for name in names for around in _around(name)}
        return Messages(tuple(line for line in self.lines if line.anchor in names))


def messages_for(typed: Typed) -> Messages:
    """The messages the job file would get for what is typed."""
    anchors = set(anchors_of(typed))
    return Messages(tuple(_line(one, anchors) for one in refused(tree_of(typed))))


def anchors_shown(typed: Typed, touched: Iterable[str]) -> tuple[str, ...]:
    """The places whose messages are shown, with or without one, once these fields were touched; "*" stands for all."""
    anchors, names = tuple(anchors_of(typed)), set(touched)
    if "*" in names:
        return anchors
    names |= {around for name in names for around in _around(name)}
    return tuple(anchor for anchor in anchors if anchor in names)


def _around(name: str) -> tuple[str, ...]:
    """The entries and lists a field stands in."""
    parts = name.split(".")
    numbers = [n for n, part in enumerate(parts) if part.isdecimal()]
    return tuple(".".join(parts[:end]) for n in numbers for end in (n, n + 1) if end < len(parts))


def anchors_of(typed: Typed) -> Iterable[str]:
    """Every place of the form that can show a message."""
    for place in typed.places():
        yield place.name
    yield from _lists(described_job(), "", typed)


def _lists(table: TableSpec, prefix: str, typed: Typed) -> Iterable[str]:
    """Lists, their entries, and tables."""
    for part in table.parts:
        name = prefix + part.key
        if isinstance(part, FieldSpec):
            if part.what in ("pairs", "choices"):
                yield name
            continue
        yield name
        prefixes = [f"{name}.{n}" for n in range(typed.count(name))] if part.many else [name]
        for each in prefixes:
            yield each
            yield from _lists(part, f"{each}.", typed)


def _line(refusal: Refusal, anchors: set[str]) -> Line:
    parts = [str(part) for part in refusal.path]
    anchor = next(
        (name for n in range(len(parts), 0, -1) if (name := ".".join(parts[:n])) in anchors), "units"
    )
    return Line(anchor, anchor_label(anchor), words_of(refusal.fault), refusal.fault.value == "missing")


def words_of(fault: Fault) -> str:
    """A message without its place, which the form shows."""
    found = f"{fault.value[:1].upper()}{fault.value[1:]}: " if fault.value else ""
    allowed = fault.allowed if found else f"{fault.allowed[:1].upper()}{fault.allowed[1:]}"
    return f"{found}{allowed}. {fault.remedy}"


def anchor_label(anchor: str) -> str:
    """What a place of the form is called, e.g. "Truss 1, height of corner 3"."""
    parts = anchor.split(".")
    # A number after a number is a column, no entry.
    entries = [n for n, part in enumerate(parts) if part.isdecimal() and not parts[n - 1].isdecimal()]
    own = label(schema_name(anchor))
    if not entries:
        section = section_of(anchor.rpartition(".")[0])
        return own if section in ("", "Tubes") else f"{section}: {own[:1].lower()}{own[1:]}"
    named = ", ".join(f"{entry_name(schema_name('.'.join(parts[:n])))} {int(parts[n]) + 1}" for n in entries)
    text = named if entries[-1] == len(parts) - 1 else f"{named}, {own[:1].lower()}{own[1:]}"
    return f"{text[:1].upper()}{text[1:]}"
