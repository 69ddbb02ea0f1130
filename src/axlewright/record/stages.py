"""The stages of a job and their hold points, as `stages.toml` lists them."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Any


@dataclass(frozen=True)
class Need:
    """Something the record must show before a stage counts as done.

    Args:
        what: what it is, e.g. "readings before".
        words: what to do where it is missing.
    """

    what: str
    words: str


@dataclass(frozen=True)
class HoldPoint:
    """A step that must be signed before the next stage (ISO 3834-2:2021, inspection and testing).

    Args:
        name: e.g. "ready for the arc".
        covers: what may not be changed afterwards without a reason, by `record.kinds.subject`.
        items: what is looked at, line by line.
    """

    name: str
    covers: tuple[str, ...]
    items: tuple[str, ...]


@dataclass(frozen=True)
class StagePlan:
    """A stage: what is done in it, what it needs, and its hold point if it has one."""

    name: str
    does: str
    needs: tuple[Need, ...]
    hold_point: HoldPoint | None


@lru_cache(maxsize=1)
def stages() -> tuple[StagePlan, ...]:
    """All stages in order."""
    text = files("axlewright.record").joinpath("stages.toml").read_text(encoding="utf-8")
    return tuple(_stage(table) for table in tomllib.loads(text)["stage"])


def hold_points() -> dict[str, HoldPoint]:
    """All hold points by name, in order."""
    found = (stage.hold_point for stage in stages())
    return {point.name: point for point in found if point is not None}


def _stage(table: dict[str, Any]) -> StagePlan:
    needs = tuple(Need(**need) for need in table["needs"])
    point = table.get("hold_point")
    return StagePlan(table["name"], table["does"], needs, None if point is None else _hold_point(point))


def _hold_point(table: dict[str, Any]) -> HoldPoint:
    return HoldPoint(table["name"], tuple(table["covers"]), tuple(table["items"]))
