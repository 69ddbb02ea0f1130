"""From what is typed to the tables of a job file, and back."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from axlewright.tasks.describing import FieldSpec, TableSpec, described_job
from axlewright.web.form.typed import Typed

_PLAIN_NUMBER = re.compile(r"[+-]?[0-9]{1,15}(\.[0-9]{1,15})?")


def tree_of(typed: Typed) -> dict[str, Any]:
    """The tables of a job file; what is empty is left out."""
    return _table(typed, described_job(), "")


def typed_of(tree: Mapping[str, Any]) -> Typed:
    """What has to be typed for the tables of a job file that is valid."""
    return Typed(dict(_texts(tree, described_job(), "")))


def as_typed(tree: Mapping[str, Any]) -> dict[str, Any]:
    """Tables of a valid job file as they would be if they were typed: 16 and "16" are one."""
    return tree_of(typed_of(tree))


def _table(typed: Typed, table: TableSpec, prefix: str) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for part in table.parts:
        name = prefix + part.key
        if isinstance(part, FieldSpec):
            value = _value(typed, part, name)
            found |= {} if value is None else {part.key: value}
        elif part.many:
            entries = [_table(typed, part, f"{name}.{n}.") for n in range(typed.count(name))]
            found |= {part.key: entries} if entries else {}
        else:
            inner = _table(typed, part, f"{name}.")
            found |= {part.key: inner} if inner or part.needed else {}
    return found


def _value(typed: Typed, spec: FieldSpec, name: str) -> Any:
    """What stands in a key, None where nothing is typed."""
    if spec.what == "pairs":
        rows = range(typed.count(name))
        return [
            [plain_value(c, typed.text(f"{name}.{n}.{k}")) for k, c in enumerate(spec.columns)] for n in rows
        ] or None
    if spec.what == "choices":
        return [text for n in range(spec.most) if (text := typed.text(f"{name}.{n}"))] or None
    text = typed.text(name)
    if not text.strip():
        return None
    if spec.what == "numbers":
        return [_number(one) for one in re.split(r"[,;\s]+", text.strip()) if one]
    return plain_value(spec, text)


def plain_value(spec: FieldSpec, text: str) -> Any:
    """What a text means in the job file: a plain number as a number, everything else as it is typed."""
    if spec.what == "text":
        return text
    text = text.strip()
    if spec.what == "name":
        return text
    if spec.what == "choice":
        return next((choice for choice in spec.choices if str(choice) == text), text)
    if spec.what == "yes or no":
        return {"true": True, "false": False}.get(text, text)
    if spec.own_unit and _PLAIN_NUMBER.fullmatch(text):
        return f"{text} {spec.own_unit}"
    return _number(text)


def _number(text: str) -> int | float | str:
    if not _PLAIN_NUMBER.fullmatch(text):
        return text
    return float(text) if "." in text else int(text)


def _texts(tree: Mapping[str, Any], table: TableSpec, prefix: str) -> Iterator[tuple[str, str]]:
    for part in table.parts:
        if part.key not in tree:
            continue
        value, name = tree[part.key], prefix + part.key
        if isinstance(part, FieldSpec):
            yield from _field_texts(part, value, name)
        elif part.many:
            for n, entry in enumerate(value):
                yield from _entry_texts(entry, part, f"{name}.{n}.")
        else:
            yield from _texts(value, part, f"{name}.")


def _entry_texts(entry: Mapping[str, Any], table: TableSpec, prefix: str) -> Iterator[tuple[str, str]]:
    """The fields of an entry, and at least one, so that an empty entry is still counted."""
    found = list(_texts(entry, table, prefix))
    yield from found or [(prefix + table.fields[0].key, "")]


def _field_texts(spec: FieldSpec, value: Any, name: str) -> Iterator[tuple[str, str]]:
    if spec.what == "pairs":
        for n, row in enumerate(value):
            yield from ((f"{name}.{n}.{k}", _text(spec.columns[k], one)) for k, one in enumerate(row))
    elif spec.what == "choices":
        yield from ((f"{name}.{n}", str(one)) for n, one in enumerate(value))
    elif spec.what == "numbers":
        yield name, ", ".join(_text(spec, one) for one in value)
    else:
        yield name, _text(spec, value)


def _text(spec: FieldSpec, value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        # A bare number of the file is in the system's unit, in the form in the key's own.
        return (
            f"{_shortest(value)} {spec.quantity.metric}"
            if spec.own_unit and spec.quantity
            else _shortest(value)
        )
    own = spec.own_unit and re.fullmatch(rf"({_PLAIN_NUMBER.pattern})\s*{spec.own_unit}", str(value).strip())
    return own[1] if own else str(value)


def _shortest(value: float) -> str:
    return repr(value).removesuffix(".0")
