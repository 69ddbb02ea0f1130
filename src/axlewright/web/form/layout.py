"""How the form is laid out, as `sections.toml` lists it, and what its fields are called."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Any

from axlewright.tasks.describing import FieldSpec, TableSpec, described_job


@dataclass(frozen=True)
class Section:
    """A part of the form; `tables` are those of the job file it holds."""

    id: str
    title: str
    tables: tuple[str, ...]
    intro: str = ""


@lru_cache(maxsize=1)
def _words() -> dict[str, Any]:
    text = files("axlewright.web.form").joinpath("sections.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


@lru_cache(maxsize=1)
def sections() -> tuple[Section, ...]:
    """All sections, in the order in which a housing is measured."""
    return tuple(Section(**{**one, "tables": tuple(one["tables"])}) for one in _words()["section"])


def section_of(table: str) -> str:
    """Title of the section that a table stands in, "" where it stands in none."""
    return next((section.title for section in sections() if table in section.tables), "")


def schema_name(name: str) -> str:
    """A dotted name without the numbers of entries: "truss.0.from" as "truss.from", "truss.0.top.2.1" as
    "truss.top.height"."""
    part: FieldSpec | TableSpec = described_job()
    found, pieces = [], name.split(".")
    for piece in pieces:
        if piece.isdecimal():
            continue
        assert isinstance(part, TableSpec)
        part = part.part(piece)
        found.append(piece)
    # Two numbers one after the other are a row of a list of pairs, and a column in it.
    if isinstance(part, FieldSpec) and part.columns and all(piece.isdecimal() for piece in pieces[-2:]):
        found.append(part.columns[int(pieces[-1])].key)
    return ".".join(found)


def table_of(dotted: str) -> TableSpec:
    """The table of the job file at a dotted name without numbers."""
    table = described_job()
    for key in dotted.split(".") if dotted else ():
        part = table.part(key)
        assert isinstance(part, TableSpec)
        table = part
    return table


def label(dotted: str) -> str:
    """What a field is called, by its name without numbers."""
    key = dotted.rpartition(".")[2].replace("_", " ")
    return str(_words()["labels"].get(dotted, key[:1].upper() + key[1:]))


def hint(dotted: str, meaning: str) -> str:
    """What a field means and where it is measured; nothing where that is no more than its label.

    Args:
        dotted: name without numbers.
        meaning: what the job file says of it.
    """
    own = str(_words()["meaning"].get(dotted, meaning))
    repeats = own.rstrip(".").lower() == label(dotted).lower() or own == "Name of your choice."
    return " ".join(filter(None, ("" if repeats else own, str(_words()["measure"].get(dotted, "")))))


def choice_words(dotted: str, choice: str) -> str:
    """A choice in words."""
    return str(_words()["choices"].get(f"{dotted}.{choice}", choice))


def entry_name(dotted: str) -> str:
    """What one entry of a list is called."""
    return str(_words()["entries"].get(dotted, "entry"))


def new_entry(dotted: str) -> dict[str, str]:
    """What a new entry of a table begins with."""
    return dict(_words()["new"].get(dotted, {}))


def may_be_mirrored(dotted: str) -> bool:
    """Whether the other side of the axle may have the same."""
    return dotted in _words()["mirrored"]["tables"]
