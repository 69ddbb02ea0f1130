"""Figures of checks and corrections as the pages say them: signs, degree marks, bands, and what a sign means."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from axlewright import units

Tree = Mapping[str, Any]
"""A table of straightness.json or correction.json."""

UNTOLD = "cannot be told"
_NEGATIVE = re.compile(r"(?<![\w-])-(?=\d)")


def sentence(text: str) -> str:
    """A sentence of a report as print has it: degree marks, a true minus before a number; hyphens stay."""
    shown = text.replace("`", "").replace(" degC", " °C").replace(" degF", " °F").replace("± ", "±")
    return _NEGATIVE.sub("−", re.sub(r" deg\b", "°", shown)).replace("90 % band", "90\u00a0%\u00a0band")


def _typeset(text: str) -> str:
    return text.replace(" degC", " °C").replace(" degF", " °F").replace(" deg", "°").replace("-", "−")


def signed(text: str) -> str:
    """A figure with a plus where it is above nought."""
    above = not text.startswith("-") and any(mark in "123456789" for mark in text)
    return _typeset(f"+{text}" if above else text)


def length(metres: float, inch: bool) -> str:
    """A length as on a tape."""
    return _typeset(units.format_length(metres, inch))


def small(metres: float, inch: bool) -> str:
    """A small length as on a dial, without a plus."""
    return _typeset(units.format_deflection(metres, inch))


def amount(value: float, unit: str, inch: bool) -> str:
    """An angle in degrees or a small length in metres, with its sign."""
    return signed(units.format_angle(value) if unit == "deg" else units.format_deflection(value, inch))


def value(figure: Tree, unit: str, inch: bool) -> str:
    """A figure without its band."""
    return amount(figure["value"], unit, inch) if figure["told"] else UNTOLD


def band(figure: Tree, unit: str, inch: bool) -> str:
    """Its band: "−0.26° to −0.11°"; empty where it is not told."""
    if not figure["told"]:
        return ""
    low, high = (amount(figure[edge], unit, inch) for edge in ("low", "high"))
    mark = high.rpartition(" ")[2] if " " in high else ""
    return f"{low.removesuffix(f' {mark}')} to {high}" if mark else f"{low} to {high}"


def allowed(wanted: float, limit: float, unit: str, inch: bool) -> str:
    """What a figure may be: "±0.50°", or "−0.25° to +0.75°" where other than nought is wanted."""
    if wanted == 0.0:
        return "±" + amount(limit, unit, inch).removeprefix("+")
    return band({"told": True, "low": wanted - limit, "high": wanted + limit}, unit, inch)


def clock(position: float) -> str:
    """A clock position: "5:30"."""
    return units.format_clock(position)


def force(newtons: float, inch: bool) -> str:
    """A force."""
    return _typeset(units.format_force(newtons, inch))


def duration(seconds: float) -> str:
    """A time at the bench."""
    return units.format_duration(seconds)


def chance(share: float) -> str:
    """How likely, in cases of a hundred."""
    return f"{100.0 * share:.0f} of 100 cases"


def counted(count: int, what: str) -> str:
    """A number of things: "1 set", "3 sets"."""
    return f"{count} {what}" + ("" if count == 1 else "s")


def amount_of_length(metres: float, inch: bool) -> str:
    """A small length as on a dial, with its sign."""
    return amount(metres, "m", inch)
