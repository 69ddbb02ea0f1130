"""Both plans side by side, figure by figure, each with its band on one scale."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Any

from axlewright.tasks import wording
from axlewright.web.plan_sheet.range_mark import RangeMark, Reach, range_mark
from axlewright.web.plan_sheet.saying import meaning, said


@dataclass(frozen=True)
class RowPlan:
    """A row as `figures.toml` has it."""

    figure: str
    label: str
    value: str
    kind: str
    band: str = ""
    limit: str = ""
    both_ways: bool = False
    from_air: bool = False
    small: bool = False


@dataclass(frozen=True)
class Side:
    """A figure of one plan: its text, what its sign means, and its band in words."""

    text: str
    meaning: str
    band: str


@dataclass(frozen=True)
class Row:
    """A figure of both plans.

    Args:
        plan: the row as `figures.toml` has it.
        ours: of the plan shown.
        common: of common practice.
        mark: both on one scale; None where nothing is to be drawn.
        low: what the scale begins at, in words.
        high: what it ends at.
        limit: what bounds the figure, in words, or "".
        beyond: whether the plan shown goes beyond it.
    """

    plan: RowPlan
    ours: Side
    common: Side
    mark: RangeMark | None
    low: str = ""
    high: str = ""
    limit: str = ""
    beyond: bool = False


@dataclass(frozen=True)
class Group:
    """Rows that belong together."""

    title: str
    rows: tuple[Row, ...]


@lru_cache(maxsize=1)
def _groups() -> tuple[tuple[str, tuple[RowPlan, ...]], ...]:
    text = files("axlewright.web.plan_sheet").joinpath("figures.toml").read_text(encoding="utf-8")
    return tuple(
        (group["title"], tuple(RowPlan(**row) for row in group["rows"]))
        for group in tomllib.loads(text)["group"]
    )


def compared(plan: Any, limits: Mapping[str, float], inch: bool) -> tuple[Group, ...]:
    """All figures of a plan beside those of common practice.

    Args:
        plan: plan.json.
        limits: of this job in the units of plan.json, by the words of `figures.toml`.
        inch: whether the shop works in inches.
    """
    found = []
    for title, rows in _groups():
        made = [_row(row, plan, limits, inch) for row in rows]
        found.append(Group(title, tuple(row for row in made if row is not None)))
    return tuple(found)


def reach_of(row: RowPlan, entry: Any) -> Reach | None:
    """Value and band of a figure of one plan; None where it has none."""
    value = _at(entry, row.value)
    if value is None:
        return None
    low, middle, high = (_edge(row, entry, edge) for edge in ("low", "middle", "high"))
    if low is None or middle is None or high is None:
        return Reach(float(value))
    low, high = min(low, high), max(low, high)
    return Reach(float(value), low, middle, high)


def _row(row: RowPlan, plan: Any, limits: Mapping[str, float], inch: bool) -> Row | None:
    both = [reach_of(row, entry) for entry in (plan, plan["common_practice"])]
    ours, common = both
    if ours is None or common is None or _nothing(row, ours, common):
        return None
    sides = _side(row, ours, inch), _side(row, common, inch)
    limit = limits.get(row.limit)
    least = float(plan["totals"]["ambient_c"]) if row.from_air else 0.0
    mark = None if row.small else range_mark(ours, common, least, limit, row.both_ways)
    if mark is None:
        return Row(row, *sides, None)
    words = ""
    if limit is not None:
        amount = said(row.kind, limit, inch).lstrip("+")
        words = f"limit {'±' if row.both_ways else ''}{amount}"
    size = abs(ours.value) if row.both_ways else ours.value
    beyond = limit is not None and size > limit * (1.0 + 1e-9)
    edges = (said(row.kind, mark.low, inch), said(row.kind, mark.high, inch))
    return Row(row, *sides, mark, *edges, words, beyond)


def _nothing(row: RowPlan, ours: Reach, common: Reach) -> bool:
    """Whether a row would only say that nothing is turned."""
    return row.figure in ("turns", "turn-time") and ours.value == common.value == 0.0


def _side(row: RowPlan, reach: Reach, inch: bool) -> Side:
    band = ""
    if reach.low is not None and reach.high is not None:
        band = wording.band(said(row.kind, reach.low, inch), said(row.kind, reach.high, inch))
    return Side(said(row.kind, reach.value, inch), meaning(row.kind, reach.value), band)


def _edge(row: RowPlan, entry: Any, edge: str) -> float | None:
    if not row.band:
        return None
    place = row.band.replace("{edge}", edge) if "{edge}" in row.band else f"{row.band}.{edge}"
    value = _at(entry, place)
    return None if value is None else float(value)


def _at(entry: Any, place: str) -> Any:
    for key in place.split("."):
        if entry is None:
            return None
        entry = entry[key]
    return entry
