"""Numbers as they stand on a sheet: value and unit together, in the shop's unit, with what a sign means."""

from __future__ import annotations

import math
from collections.abc import Iterable

from axlewright import units

_ZERO_ANGLE = 0.005
_WAIT_STEP = 5
_LIES = {0: "as on the vehicle", 90: "front side up", 180: "upside down", 270: "rear side up"}

_POSITIONS = {
    "PA": "flat",
    "PB": "horizontal vertical",
    "PC": "horizontal",
    "PD": "horizontal overhead",
    "PE": "flat overhead",
    "PF": "vertical up",
    "PG": "vertical down",
}
"""Names of the main welding positions (ISO 6947, written from memory of the standard)."""

DISTORTION = "distortion (bow, camber and toe together)"
"""What the one measure of all distortion is called."""


def typeset(text: str) -> str:
    """Unit names of `units` in print: degree signs and a true minus."""
    shown = text.replace(" degC", " °C").replace(" degF", " °F").replace(" deg", "°")
    return shown.replace("-", "−")


def sentence(text: str) -> str:
    """A sentence of the plan with degree signs; its hyphens stay."""
    return text.replace(" degC", " °C").replace(" degF", " °F")


def length(metres: float, inch: bool) -> str:
    """Length as on a tape."""
    return typeset(units.format_length(metres, inch))


def deflection(metres: float, inch: bool) -> str:
    """Small length as on a dial indicator, with its sign."""
    return _signed(units.format_deflection(metres, inch))


def angle(degrees: float) -> str:
    """Camber, toe or twist with its sign."""
    return _signed(units.format_angle(degrees))


def _signed(text: str) -> str:
    """A plus before what is above nought."""
    above = not text.startswith("-") and any(mark in "123456789" for mark in text)
    return typeset(("+" if above else "") + text)


def temperature(celsius: float, inch: bool) -> str:
    """Temperature to the degree."""
    return typeset(units.format_temperature(celsius, inch))


def weld_size(metres: float, inch: bool) -> str:
    """Leg or throat, finer than a tape shows: "3.5 mm" or "0.14 in"."""
    if inch:
        return f"{units.convert(metres, 'm', 'in'):.2f} in"
    return f"{metres * 1000.0:.1f} mm"


def wait(seconds: float) -> str:
    """A cool-down, rounded up to five seconds so that nobody starts early; empty where there is none."""
    whole = math.ceil(round(seconds / _WAIT_STEP, 6)) * _WAIT_STEP
    if whole <= 0:
        return ""
    minutes, rest = divmod(whole, 60)
    return " ".join(part for part, there in ((f"{minutes} min", minutes), (f"{rest} s", rest)) if there)


def clock(position: float) -> str:
    """Clock position on the guard: "5:30 o'clock"."""
    return units.format_clock(position) + " o'clock"


def turned(degrees: float) -> str:
    """How the housing lies on its stands: "front side up"; what is not a quarter turn is given by its angle."""
    known = _LIES.get(round(degrees) % 360)
    return known or f"turned {degrees:g}° (90° is front side up)"


def positions(symbols: Iterable[str]) -> str:
    """What the welding positions that occur are called: "PA flat, PB horizontal vertical"."""
    present = set(symbols)
    return ", ".join(f"{symbol} {name}" for symbol, name in _POSITIONS.items() if symbol in present)


def distortion(metres: float, inch: bool) -> str:
    """Bow, camber and toe as one measure, which has no sign."""
    return typeset(units.format_deflection(metres, inch))


def tack_load(utilisation: float) -> str:
    """Load of a tack as a share of its strength: "78 %"."""
    return f"{100.0 * utilisation:.0f} %"


def camber_meaning(degrees: float) -> str:
    """What the sign of camber means at the flange."""
    return _by_sign(degrees, "top leans out", "top leans in", "upright")


def toe_word(degrees: float) -> str:
    """The name of the sign of toe."""
    return _by_sign(degrees, "toe-in", "toe-out", "straight")


def toe_meaning(degrees: float) -> str:
    """What the sign of toe means at the flange."""
    return _by_sign(degrees, "toe-in, end forward", "toe-out, end back", "straight ahead")


def bow_meaning(metres: float, vertical: bool) -> str:
    """Which way the middle lies from the line between the flanges."""
    words = ("middle up", "middle down") if vertical else ("middle forward", "middle back")
    return _by_sign(metres * 1000.0, *words, "straight")


def _by_sign(value: float, above: str, below: str, nought: str) -> str:
    """One of three wordings; what rounds to nought is nought."""
    if abs(value) < _ZERO_ANGLE:
        return nought
    return above if value > 0.0 else below


def band(low: str, high: str) -> str:
    """A range in words: "−0.34 to −0.16 mm"; the unit stands once where both ends share it."""
    unit = high.rpartition(" ")[2]
    return f"{low.removesuffix(f' {unit}')} to {high}"
