"""How each kind of figure of plan.json is written in the shop's unit, and what its sign means."""

from __future__ import annotations

from collections.abc import Callable

from axlewright import units
from axlewright.tasks import wording

_SAID: dict[str, Callable[[float, bool], str]] = {
    "duration": lambda minutes, inch: units.format_duration(60.0 * minutes),
    "count": lambda number, inch: f"{number:.0f}",
    "temperature": wording.temperature,
    "load": lambda share, inch: wording.tack_load(share),
    "distortion": lambda mm, inch: wording.distortion(1e-3 * mm, inch),
    "camber": lambda degrees, inch: wording.angle(degrees),
    "toe": lambda degrees, inch: wording.angle(degrees),
    "twist": lambda degrees, inch: wording.angle(degrees),
    "bow_vertical": lambda mm, inch: wording.deflection(1e-3 * mm, inch),
    "bow_fore_aft": lambda mm, inch: wording.deflection(1e-3 * mm, inch),
}
_MEANS: dict[str, Callable[[float], str]] = {
    "camber": wording.camber_meaning,
    "toe": wording.toe_word,
    "bow_vertical": lambda mm: wording.bow_meaning(1e-3 * mm, True),
    "bow_fore_aft": lambda mm: wording.bow_meaning(1e-3 * mm, False),
}


def said(kind: str, value: float, inch: bool) -> str:
    """A figure of plan.json as the shop reads it."""
    return _SAID[kind](value, inch)


def meaning(kind: str, value: float) -> str:
    """What its sign means at the housing; "" where it has none."""
    return _MEANS[kind](value) if kind in _MEANS else ""


def of_a_hundred(share: float) -> str:
    """A share of the drawn cases; only always and never read 100 and 0."""
    whole = round(100.0 * (min(max(share, 0.01), 0.99) if 0.0 < share < 1.0 else share))
    return f"{whole} of 100 drawn cases"
