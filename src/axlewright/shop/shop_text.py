"""The text of a shop file: TOML with the results in SI units, and what they teach on top as a comment."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Sequence
from typing import Annotated, Any

import numpy as np
from pydantic import BaseModel, ConfigDict, Field, ValidationError

from axlewright.errors import Fault, ShopFileError
from axlewright.shop.evidence import Evidence, Form, Kind, Observation, Unit
from axlewright.shop.posterior import Learned
from axlewright.shop.telling import doubts, factor_table, stands_behind
from axlewright.toml_text import toml_tables
from axlewright.units import show

FORMAT = 1
"""What `axlewright_shop` says in files of this version."""

LARGEST = 5_000_000
"""Characters above which a text is not even parsed; a housing takes two thousand."""

_NESTED = 30
"""Dots between the parts of a key, above which it is noise that costs the parser time by the square of their number."""

_KEY = re.compile(r"[^=\"'#\[\n]*")
_REMEDY = "Mend the file, or take a copy of it from before."

_Text = Annotated[str, Field(min_length=1, max_length=120)]
_Number = Annotated[float, Field(gt=-1e9, lt=1e9)]
_Four = tuple[_Number, _Number, _Number, _Number]


class _Record(BaseModel):
    model_config = ConfigDict(extra="forbid", allow_inf_nan=False)


class _Figure(_Record):
    figure: _Text
    unit: Unit
    form: Form
    measured: _Number
    error: Annotated[float, Field(gt=0.0, lt=1e9)]
    predicted: _Number
    sensitivities: _Four
    scatter: Annotated[float, Field(ge=0.0, lt=1e9)] = 0.0


class _Result(_Record):
    name: _Text
    date: Annotated[str, Field(pattern=r"^(\d{4}-\d{2}-\d{2})?$")] = ""
    kind: Kind
    note: Annotated[str, Field(max_length=2000)] = ""
    at: _Four = (0.0, 0.0, 0.0, 0.0)
    figures: Annotated[list[_Figure], Field(min_length=1, max_length=200)]
    correlation: (
        Annotated[list[list[Annotated[float, Field(ge=-1.0, le=1.0)]]], Field(min_length=1)] | None
    ) = None


class _File(_Record):
    axlewright_shop: int
    result: list[_Result] = []


def shop_text(evidence: Sequence[Evidence], learned: Learned) -> str:
    """The text of a shop file; `parse_shop` gives the same results back.

    Args:
        evidence: the results.
        learned: what they teach, for the comment on top.
    """
    lines = [*_comment(learned), f"axlewright_shop = {FORMAT}"]
    for one in evidence:
        lines += ["", "[[result]]", f"name = {_quoted(one.name)}", f"date = {_quoted(one.date)}"]
        lines += [f"kind = {_quoted(one.kind)}"]
        lines += [f"note = {_quoted(one.note)}"] if one.note else []
        lines += [f"at = {_listed(one.at)}"] if any(one.at) else []
        lines += ["figures = [", *(f"    {{{_figure(seen)}}}," for seen in one.observations), "]"]
        if one.correlation is not None:
            lines += ["correlation = [", *(f"    {_listed(row)}," for row in one.correlation), "]"]
    return "\n".join(lines) + "\n"


def _comment(learned: Learned) -> list[str]:
    said = [
        "What this shop's own results have taught, kept by axlewright. Plain text: copy it to keep it, hand it on, or",
        "take a result out to forget it. This comment is worked out from the results below and is not read back.",
        "",
        f"Behind it: {stands_behind(learned.factors)}.",
        "Factors on formulas and settings for the next housing, with the edges eight of ten lie between:",
        *(
            f"    {line.words}: {_reach(line.after)}, without results {_reach(line.before)}"
            for line in factor_table(learned.factors)
        ),
        *(f"Doubted: {sentence}" for sentence in doubts(learned)),
    ]
    return [f"# {line}".rstrip() for line in said]


def _reach(edges: tuple[float, float, float]) -> str:
    low, middle, high = edges
    return f"{middle:.2f} ({low:.2f} to {high:.2f})"


def _figure(seen: Observation) -> str:
    fields = [(name, _quoted(getattr(seen, name))) for name in ("figure", "unit", "form")]
    fields += [(name, repr(float(getattr(seen, name)))) for name in ("measured", "error", "predicted")]
    fields += [("sensitivities", _listed(seen.sensitivities)), ("scatter", repr(float(seen.scatter)))]
    return ", ".join(f"{name} = {value}" for name, value in fields)


def _listed(numbers: Iterable[float]) -> str:
    return f"[{', '.join(repr(float(number)) for number in numbers)}]"


def _quoted(text: str) -> str:
    """A TOML string: it escapes as JSON does, but for the one control character JSON lets through."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def parse_shop(text: str, source: str) -> tuple[Evidence, ...]:
    """The results in the text of a shop file.

    Args:
        text: the text.
        source: stands for the file in messages.

    Raises:
        ShopFileError: it is no shop file, or a field of it is damaged; the field is named.
    """
    tree = _tree(text, source)
    version = tree.get("axlewright_shop")
    if version != FORMAT or isinstance(version, bool):
        found = "missing" if version is None else show(version)
        allowed = f"a shop file of this version says axlewright_shop = {FORMAT}"
        raise ShopFileError(Fault(f"{source}: axlewright_shop", found, allowed, "Is this the right file?"))
    try:
        read = _File.model_validate(tree, strict=False)
    except ValidationError as error:
        raise ShopFileError(*_faults(error, tree, source)) from error
    results = tuple(_evidence(one, source) for one in read.result)
    names = [one.name for one in results]
    for name in names:
        if names.count(name) > 1:
            remedy = "Take one of them out, or give it another name."
            raise ShopFileError(Fault(f"{source}: result", show(name), "is there twice", remedy))
    return results


def _tree(text: str, source: str) -> dict[str, Any]:
    if len(text) > LARGEST:
        raise ShopFileError(Fault(source, "larger than 5 MB", "a shop file is a few pages", _REMEDY))
    for number, line in enumerate(text.splitlines(), start=1):
        key = _KEY.match(line.lstrip("[ \t"))
        if key is not None and key[0].count(".") > _NESTED and "=" in line + "=":
            raise ShopFileError(Fault(f"{source} line {number}", "", "keys have fewer parts", _REMEDY))
    return toml_tables(text, source, ShopFileError, _REMEDY, _REMEDY)


def _faults(error: ValidationError, tree: dict[str, Any], source: str) -> list[Fault]:
    """The first faults by their places: result, figure, field."""
    faults = []
    for one in error.errors(include_url=False, include_context=False)[:5]:
        value = "missing" if one["type"] == "missing" else show(one["input"])
        said = one["msg"][:1].lower() + one["msg"][1:]
        faults.append(Fault(f"{source}: {_place(one['loc'], tree)}", value, said, _REMEDY))
    return faults


def _place(path: tuple[int | str, ...], tree: dict[str, Any]) -> str:
    """Where in the file, in words: "result 2 ("4711"), figure 3 ("camber left"), error"."""
    words: list[str] = []
    here: Any = tree
    for part in path:
        here = _inside(here, part)
        if isinstance(part, int):
            name = here.get("name", here.get("figure")) if isinstance(here, dict) else None
            words[-1] += f" {part + 1}" + (f" ({show(name)})" if isinstance(name, str) else "")
        else:
            words.append({"figures": "figure"}.get(part, part))
    return ", ".join(words)


def _inside(tree: Any, part: int | str) -> Any:
    try:
        return tree[part]
    except (KeyError, IndexError, TypeError):
        return None


def _evidence(read: _Result, source: str) -> Evidence:
    """A result whose parts fit together."""
    where = f"{source}: result {show(read.name)}"
    texts = [("name", read.name), *(("figure", figure.figure) for figure in read.figures)]
    for field, text in texts:
        if not text.isprintable():
            raise ShopFileError(
                Fault(f"{where}, {field}", show(text), "must be plain text on one line", _REMEDY)
            )
    seen = tuple(Observation(**dict(figure)) for figure in read.figures)
    correlation = None if read.correlation is None else tuple(map(tuple, read.correlation))
    if correlation is not None and not _is_correlation(correlation, len(seen)):
        allowed = (
            f"must be {len(seen)} rows of {len(seen)} numbers, alike on both sides of a diagonal of ones"
        )
        raise ShopFileError(Fault(f"{where}, correlation", "", allowed, _REMEDY))
    return Evidence(read.name, read.date, read.kind, seen, correlation, read.at, read.note)


def _is_correlation(rows: tuple[tuple[float, ...], ...], count: int) -> bool:
    """Whether numbers can be the correlations of so many errors."""
    if [len(row) for row in rows] != [count] * count:
        return False
    table = np.array(rows)
    even = np.abs(table - table.T).max() < 1e-9 and np.abs(np.diag(table) - 1.0).max() < 1e-9
    return bool(even and np.linalg.eigvalsh(table).min() > -1e-9)
