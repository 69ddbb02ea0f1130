"""Straightness classes of ISO 13920, kept in `iso_13920.toml` with where each number was read."""

from __future__ import annotations

import tomllib
from bisect import bisect_left
from importlib.resources import files
from typing import Literal

_TABLE = tomllib.loads(
    files("axlewright.straightness.fit").joinpath("iso_13920.toml").read_text(encoding="utf-8")
)

StraightnessClass = Literal["E", "F", "G", "H"]


def straightness_tolerance(grade: StraightnessClass, length: float) -> float:
    """Tolerance t on straightness, flatness and parallelism [m].

    Source: ISO 13920:1996, table 3; see the file for which columns were read where. Valid for 0.03 m < length <= 8 m.

    Args:
        grade: class E, F, G or H.
        length: nominal length [m].

    Raises:
        ValueError: the length is outside the table.
    """
    millimetres = length * 1e3
    above: list[float] = _TABLE["above"]
    if not above[0] < millimetres <= _TABLE["up_to"]:
        raise ValueError(f"ISO 13920 has no straightness tolerance at {millimetres:g} mm")
    return float(_TABLE["classes"][grade][bisect_left(above, millimetres) - 1]) / 1e3
