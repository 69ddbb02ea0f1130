"""Finding what a figure is worked out from, by the name of its place."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, get_args

from pydantic import BaseModel

from axlewright import units
from axlewright.job.fields import Quantity
from axlewright.sheets import wording
from axlewright.tasks.whence.facts import DOCUMENTS, Facts
from axlewright.tasks.whence.found import Found
from axlewright.tasks.whence.worked_out import WORKED_OUT

_ENDINGS = {
    "_mm": "mm",
    "_c": "degC",
    "_min": "min",
    "_s": "s",
    "_deg": "deg",
    "_kj": "kJ",
    "_kn": "kN",
    "_mpa": "MPa",
    "_kn_per_mm": "kN/mm",
}


def place_of(facts: Facts, place: str) -> Found:
    """What stands at a place other than a constant or another figure.

    Args:
        facts: the job and its results.
        place: e.g. "job.welder.volts", "this.totals.bench_min", "worked.bead_count".

    Raises:
        LookupError: there is no such place: a fault in an entry of ours.
        RecordError: a result is not in the record.
    """
    first, _, path = place.partition(".")
    path = path.replace("{piece}", facts.piece)
    if first == "job":
        return _in_job(facts, path)
    if first == "worked":
        return WORKED_OUT[path](facts)
    inside: dict[str, Callable[[], Any]] = {
        "this": lambda: facts.this,
        "piece": lambda: facts.bead_or_tack,
    }
    tree = inside[first]() if first in inside else facts.result(first)
    return _in_result(facts, first, path, tree)


def table_at(facts: Facts, place: str) -> Any:
    """The table or list at a place of a result; raises as `place_of` does."""
    first, _, path = place.partition(".")
    tree = facts.this if first == "this" else facts.result(first)
    for key in path.split("."):
        tree = _step(tree, key)
        if tree is None:
            return None
    return tree


def unit_at(path: str) -> str:
    """Unit of what stands at a path of plan.json and its like, by the ends of its keys."""
    for key in reversed(path.split(".")):
        for ending in sorted(_ENDINGS, key=len, reverse=True):
            if key.endswith(ending):
                return _ENDINGS[ending]
    return ""


def _in_result(facts: Facts, first: str, path: str, tree: Any) -> Found:
    for key in path.split("."):
        tree = _step(tree, key)
        if tree is None:
            break
    kind = "plan" if first in ("this", "piece") else first
    return Found(tree, unit_at(path), f"{DOCUMENTS[kind]}: {_full_path(facts, first, path)}")


def _full_path(facts: Facts, first: str, path: str) -> str:
    if first == "piece":
        return f"{facts.piece}, {path}"
    return f"common_practice.{path}" if first == "this" and facts.of == "common" else path


def _step(tree: Any, key: str) -> Any:
    if isinstance(tree, list):
        return tree[int(key)]
    if not isinstance(tree, dict) or key not in tree:
        raise LookupError(f"no {key!r} there")
    return tree[key]


def _in_job(facts: Facts, path: str) -> Found:
    """A field of the job file by the file's own keys."""
    value: Any = facts.job
    quantity: Quantity | None = None
    *tables, last = path.split(".")
    for key in (*tables, last):
        if isinstance(value, tuple):
            value = value[int(key)]
            continue
        name, quantity = _field(value, key)
        value = getattr(value, name)
        if value is None:
            break
    table = ".".join(key for key in tables if not key.isdigit())
    where = f"{last} in [{table}] of the job file" if table else f"{last} of the job file"
    if quantity is None or value is None:
        told = str(value) if isinstance(value, bool | str) else value
        return Found(told, "", where)
    return Found(value, quantity.kind.si, where, _as_in_file(quantity, value, facts.job.inch))


def _as_in_file(quantity: Quantity, value: float, inch: bool) -> str:
    """What stands in the job file, with its unit."""
    written = quantity.write(value, inch)
    if isinstance(written, str):
        return written
    return wording.typeset(f"{units.from_si(value, quantity.kind, inch):.6g} {quantity.kind.bare_unit(inch)}")


def _field(table: Any, key: str) -> tuple[str, Quantity | None]:
    """Attribute and quantity behind a key of the job file."""
    if not isinstance(table, BaseModel):
        raise LookupError(f"no {key!r} in the job file there")
    for name, field in type(table).model_fields.items():
        if key in (name, field.alias, field.validation_alias, field.serialization_alias):
            return name, _quantity((*field.metadata, field.annotation))
    raise LookupError(f"no {key!r} in {type(table).__name__}")


def _quantity(parts: tuple[Any, ...]) -> Quantity | None:
    for part in parts:
        if isinstance(part, Quantity):
            return part
        inner = _quantity(get_args(part))
        if inner is not None:
            return inner
    return None
