"""What is typed into the form: texts by dotted names such as "truss.0.top.2.1"."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from axlewright.tasks.describing import FieldSpec, TableSpec, described_job

LONGEST_TEXT = 4100
"""A text longer than the job file takes is cut one line past its limit, so that the message still shows."""


@dataclass(frozen=True)
class Place:
    """A field of the form: its name, the path it has in the job file, what stands in it, and its text."""

    name: str
    spec: FieldSpec
    text: str


@dataclass(frozen=True)
class Typed:
    """Everything typed.

    Args:
        texts: by dotted name; list entries are counted from 0 without gaps.
    """

    texts: Mapping[str, str] = field(default_factory=dict)

    def text(self, name: str) -> str:
        """What stands in a field, "" where nothing does."""
        return self.texts.get(name, "")

    @property
    def inch(self) -> bool:
        """Whether numbers without a unit are inches."""
        return self.text("units") == "inch"

    def count(self, prefix: str) -> int:
        """How many entries a list has, e.g. "truss" or "truss.0.top"."""
        return self._counts.get(prefix, 0)

    @cached_property
    def _counts(self) -> dict[str, int]:
        counts: dict[str, int] = {}
        for name in self.texts:
            parts = name.split(".")
            for n, part in enumerate(parts):
                if part.isdecimal():
                    prefix = ".".join(parts[:n])
                    counts[prefix] = max(counts.get(prefix, 0), int(part) + 1)
        return counts

    def places(self) -> Iterator[Place]:
        """Every field of the form, tables that stand several times as often as they do."""
        yield from _places(self, described_job(), "")


def _places(typed: Typed, table: TableSpec, prefix: str) -> Iterator[Place]:
    for part in table.parts:
        name = prefix + part.key
        if isinstance(part, FieldSpec):
            yield from _field_places(typed, part, name)
        elif part.many:
            for n in range(typed.count(name)):
                yield from _places(typed, part, f"{name}.{n}.")
        else:
            yield from _places(typed, part, f"{name}.")


def _field_places(typed: Typed, spec: FieldSpec, name: str) -> Iterator[Place]:
    if spec.what == "pairs":
        for n in range(typed.count(name)):
            for k, column in enumerate(spec.columns):
                inner = f"{name}.{n}.{k}"
                yield Place(inner, column, typed.text(inner))
    elif spec.what == "choices":
        for n in range(spec.most):
            yield Place(f"{name}.{n}", spec, typed.text(f"{name}.{n}"))
    else:
        yield Place(name, spec, typed.text(name))


def cleaned(raw: Mapping[str, str]) -> Typed:
    """What a browser sent, with only the names a form can have, entries counted without gaps, and plain line ends."""
    known = {}
    for name, text in raw.items():
        if len(name) <= 80 and _is_known(name.split("."), described_job()):
            known[name] = text.replace("\r\n", "\n")[:LONGEST_TEXT]
    return Typed(_closed_up(known))


def _is_known(parts: list[str], part: FieldSpec | TableSpec) -> bool:
    """Whether a name leads to a field of the form; entries are counted up to one more than a list may hold."""
    if isinstance(part, FieldSpec):
        tails = {"pairs": (part.most, 1), "choices": (part.most - 1,)}.get(part.what, ())
        return len(parts) == len(tails) and all(map(_is_number, parts, tails))
    inner = next((one for one in part.parts if parts and one.key == parts[0]), None)
    if inner is None:
        return False
    if isinstance(inner, FieldSpec) or not inner.many:
        return _is_known(parts[1:], inner)
    return len(parts) > 1 and _is_number(parts[1], inner.most) and _is_known(parts[2:], inner)


def _is_number(text: str, most: int) -> bool:
    return text.isascii() and text.isdecimal() and len(text) <= 2 and int(text) <= most


def _closed_up(texts: dict[str, str]) -> dict[str, str]:
    """Entries counted from 0 without gaps, list by list, the outer ones first."""
    depth = max((name.count(".") for name in texts), default=0)
    for level in range(depth + 1):
        found: dict[str, set[int]] = {}
        for name in texts:
            parts = name.split(".")
            if level < len(parts) and parts[level].isdecimal():
                found.setdefault(".".join(parts[:level]), set()).add(int(parts[level]))
        order = {prefix: {n: k for k, n in enumerate(sorted(numbers))} for prefix, numbers in found.items()}
        texts = {_renumbered(name, level, order): text for name, text in texts.items()}
    return texts


def _renumbered(name: str, level: int, order: Mapping[str, Mapping[int, int]]) -> str:
    parts = name.split(".")
    prefix = ".".join(parts[:level])
    if prefix in order and level < len(parts) and parts[level].isdecimal():
        parts[level] = str(order[prefix][int(parts[level])])
    return ".".join(parts)


def blank() -> Typed:
    """A form nobody has typed into: millimetres, a pressed housing, the usual process."""
    return Typed({"units": "mm", "housing.family": "pressed"})
