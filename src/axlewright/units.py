"""Shop units at the edge: text and bare numbers in, SI out, and back to what a tape or a gauge shows.

Inside the package everything is SI (and degC). This module is the only one that knows millimetres,
inches and degF. Factors come from a pint registry that holds nothing but the units of `units.toml`.
"""

from __future__ import annotations

import math
import re
import tomllib
import unicodedata
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from importlib import import_module
from importlib.resources import files
from typing import Any

from axlewright.errors import Fault, JobFileError

_TABLES = tomllib.loads(files("axlewright").joinpath("units.toml").read_text(encoding="utf-8"))
_EXAMPLES: dict[str, str] = _TABLES["examples"]
_SPELLINGS: dict[str, str] = {
    text: name for name, spellings in _TABLES["spellings"].items() for text in spellings
}


@dataclass(frozen=True)
class Kind:
    """One kind of quantity: its SI unit, and the unit of a bare number in mm jobs and in inch jobs.

    `digits`: decimals kept of the SI value, finer than any gauge, coarse enough to survive inches and back.
    """

    name: str
    si: str
    metric: str
    inch: str
    digits: int = 9

    def bare_unit(self, inch: bool) -> str:
        """Unit of a number that stands alone."""
        return self.inch if inch else self.metric


LENGTH = Kind("length", "m", "mm", "in")
TEMPERATURE = Kind("temperature", "degC", "degC", "degF", 6)
SPEED = Kind("speed", "m/s", "mm/min", "in/min", 12)
WIRE_FEED = Kind("speed", "m/s", "m/min", "in/min", 12)
TIME = Kind("time", "s", "s", "s", 6)
ANGLE = Kind("angle", "deg", "deg", "deg")
FORCE = Kind("force", "N", "kN", "lbf", 6)
TORQUE = Kind("torque", "N*m", "N*m", "lbf*ft", 6)
HEAT_INPUT = Kind("heat input", "J/m", "kJ/mm", "kJ/in", 6)
STRESS = Kind("stress", "Pa", "MPa", "ksi", 3)
STIFFNESS = Kind("stiffness", "N/m", "kN/mm", "lbf/in", 3)
VOLTAGE = Kind("voltage", "V", "V", "V")
CURRENT = Kind("current", "A", "A", "A")
_NAMED = (
    LENGTH,
    TEMPERATURE,
    SPEED,
    TIME,
    ANGLE,
    FORCE,
    TORQUE,
    HEAT_INPUT,
    STRESS,
    STIFFNESS,
    VOLTAGE,
    CURRENT,
)


_UNSIGNED = r"(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
_FEET = re.compile(r"([0-9]+)\s*(?:ft\.?|feet|foot|['′])\s*(?=[0-9])")
_FRACTION = re.compile(r"(?:([0-9]+)(?:\s*-\s*|\s+))?([0-9]+)\s*[/⁄]\s*([0-9]+)\s*(.*)")
_DECIMAL = re.compile(rf"({_UNSIGNED})\s*(.*)")
_LONGEST_TEXT = 60


@lru_cache(maxsize=1)
def _registry() -> Any:
    """A registry of the units above; the full one takes 70 times longer to make."""
    # Fetched by name because it loads numpy and scipy, for which neither a list of jobs nor a version has to wait.
    registry = import_module("pint").UnitRegistry(None)
    for line in _TABLES["definitions"]:
        registry.define(line)
    return registry


def convert(value: float, source: str, target: str) -> float:
    """Value in unit `target` of `value` given in unit `source` (names of the registry)."""
    return float(_registry().Quantity(value, source).to(target).magnitude)


def to_si(value: float, kind: Kind, inch: bool) -> float:
    """SI value of a bare number, rounded to the resolution of its kind."""
    return round(convert(value, kind.bare_unit(inch), kind.si), kind.digits)


def from_si(value: float, kind: Kind, inch: bool) -> float:
    """Bare number, as a shop would write it, whose `to_si` is `value` again.

    The shortest such decimal is chosen, so that 0.0254 m comes back as 1 in and not as 0.99999999 in.
    """
    number = convert(value, kind.si, kind.bare_unit(inch))
    shorter = (round(number, digits) for digits in range(17))
    return next((short for short in shorter if to_si(short, kind, inch) == value), number)


def parse_quantity(value: object, kind: Kind, inch: bool) -> float:
    """SI value of a bare number or of text that may carry its own unit.

    Args:
        value: number, or text such as "12 3/4 in", "3.5 mm", "65 degC", "4 ft 3 1/2 in".
        kind: what is being measured.
        inch: True where bare numbers are in the inch system.

    Raises:
        JobFileError: neither a finite number nor text this kind can be read from.
    """
    if isinstance(value, str):
        return _parse_text(value, kind, inch)
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise _unreadable(kind, inch, show(value), f"a {kind.name} is a number, or text with a unit")
    number = float(value) if abs(value) < 1e300 or isinstance(value, float) else math.inf
    return to_si(_finite(number, kind, inch, show(value)), kind, inch)


def _parse_text(text: str, kind: Kind, inch: bool) -> float:
    """SI value of text; see parse_quantity."""
    if len(text) > _LONGEST_TEXT:
        raise _unreadable(kind, inch, show(text), f"a {kind.name} has at most {_LONGEST_TEXT} characters")
    rest = _plain_fractions(text).strip()
    sign = -1.0 if rest[:1] in ("-", "−") else 1.0
    rest = rest[1:].lstrip() if rest[:1] in ("-", "−", "+") else rest
    feet = _FEET.match(rest)
    number, unit, is_fraction = _number_and_unit(rest[feet.end() :] if feet else rest)
    if math.isnan(number):
        raise _unreadable(kind, inch, show(text), f"a {kind.name} is a number followed by its unit")
    bare_unit = "in" if feet else kind.bare_unit(inch)
    if not unit and is_fraction and bare_unit != "in":
        raise _unreadable(kind, inch, show(text), "a fraction needs its unit")
    name = _unit_name(unit, kind, inch, text) if unit else bare_unit
    if feet and name != "in":
        raise _unreadable(kind, inch, show(text), "feet are followed by inches")
    total = sign * (number + (12.0 * int(feet.group(1)) if feet else 0.0))
    si = convert(total, name, kind.si) if math.isfinite(total) else total
    return round(_finite(si, kind, inch, show(text)), kind.digits)


def _plain_fractions(text: str) -> str:
    """Text with characters such as ¾ spelled out as ' 3/4'."""
    spelled = (
        " " + unicodedata.normalize("NFKC", mark).replace("⁄", "/") + " "
        if unicodedata.decomposition(mark).startswith("<fraction>")
        else mark
        for mark in text
    )
    return "".join(spelled)


def _number_and_unit(text: str) -> tuple[float, str, bool]:
    """Number (NaN if there is none), text of the unit, and whether the number was a fraction."""
    if match := _FRACTION.fullmatch(text):
        whole, top, bottom, unit = match.groups()
        readable = int(bottom) != 0 and (whole is None or int(top) < int(bottom))
        return (
            (float(int(whole or 0) + Fraction(int(top), int(bottom))) if readable else math.nan),
            unit,
            True,
        )
    if match := _DECIMAL.fullmatch(text):
        return float(match.group(1)), match.group(2), False
    return math.nan, "", False


def _unit_name(unit: str, kind: Kind, inch: bool, text: str) -> str:
    """Registry name of a spelled unit, provided it measures this kind."""
    name = _SPELLINGS.get("".join(unit.split()).lower())
    if name is None:
        raise _unreadable(kind, inch, show(text), f"unit {show(unit)} is not known")
    if not _measures(name, kind):
        other = next((k.name for k in _NAMED if _measures(name, k)), "something else")
        raise _unreadable(
            kind, inch, show(text), f"{unit.strip()} measures {other}, but this is a {kind.name}"
        )
    return name


def _measures(name: str, kind: Kind) -> bool:
    """Whether a unit measures a kind; J/m and N have one dimension and are told apart by the joule."""
    dimension = _registry().Quantity(1.0, kind.si).dimensionality
    same = bool(_registry().Quantity(1.0, name).dimensionality == dimension)
    return same and ("J" in name) == ("J" in kind.si)


def _finite(number: float, kind: Kind, inch: bool, shown: str) -> float:
    """The number itself, refused where it is infinite or not a number."""
    if not math.isfinite(number):
        raise _unreadable(kind, inch, shown, f"a {kind.name} is a finite number")
    return number


def _unreadable(kind: Kind, inch: bool, shown: str, allowed: str) -> JobFileError:
    """The error for a quantity that cannot be read."""
    unit = kind.bare_unit(inch)
    remedy = f'Write a plain number in {unit}, or text with the unit, e.g. "{_EXAMPLES.get(kind.name, "12")}"'
    return JobFileError(Fault(kind.name, shown, allowed, remedy + "."))


def show(value: object) -> str:
    """A value as it may stand in a message: short, on one line, whatever it is."""
    if isinstance(value, dict | list | tuple):
        return "a table" if isinstance(value, dict) else "a list"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int) and abs(value) >= 10**20:
        return "a number of more than 20 digits"
    text = f'"{value}"' if isinstance(value, str) else str(value)
    text = "".join(mark if mark.isprintable() else "?" for mark in text)
    return text if len(text) <= _LONGEST_TEXT else text[:_LONGEST_TEXT] + '..."'


def format_length(metres: float, inch: bool) -> str:
    """Length as on a tape: "12 3/4 in" to the nearest 1/16, or whole millimetres "324 mm"."""
    if not inch:
        return f"{_rounded(metres * 1000.0, 0)} mm"
    sixteenths = round(abs(metres) / 0.0254 * 16.0)
    whole, part = divmod(sixteenths, 16)
    words = [str(whole)] if whole or not part else []
    words += [str(Fraction(part, 16))] if part else []
    return ("-" if metres < 0.0 and sixteenths else "") + " ".join(words) + " in"


def format_deflection(metres: float, inch: bool) -> str:
    """Small length as on a dial indicator: "0.25 mm" or "0.010 in"."""
    return _spelled(metres, "m", ("in", 3, "in") if inch else ("mm", 2, "mm"))


def format_temperature(celsius: float, inch: bool) -> str:
    """Temperature to the degree: "65 degC" or "149 degF"."""
    return _spelled(celsius, "degC", ("degF", 0, "degF") if inch else ("degC", 0, "degC"))


def format_temperature_rise(kelvins: float, inch: bool) -> str:
    """Difference of two temperatures, without the offset of the scales: "30 degC" or "54 degF"."""
    return f"{_rounded(kelvins * 1.8 if inch else kelvins, 0)} {'degF' if inch else 'degC'}"


def format_angle(degrees: float) -> str:
    """Angle as camber and toe are given: "0.31 deg"."""
    return f"{_rounded(degrees, 2)} deg"


def format_force(newtons: float, inch: bool) -> str:
    """Force: "9.3 kN" or "2090 lbf"."""
    return _spelled(newtons, "N", ("lbf", 0, "lbf") if inch else ("kN", 1, "kN"))


def format_torque(newton_metres: float, inch: bool) -> str:
    """Torque: "120 N.m" or "89 lbf.ft"."""
    return _spelled(newton_metres, "N*m", ("lbf*ft", 0, "lbf.ft") if inch else ("N*m", 0, "N.m"))


def format_travel_speed(metres_per_second: float, inch: bool) -> str:
    """Travel speed: "270 mm/min" or "10.6 in/min"."""
    return _spelled(metres_per_second, "m/s", ("in/min", 1, "in/min") if inch else ("mm/min", 0, "mm/min"))


def format_wire_feed(metres_per_second: float, inch: bool) -> str:
    """Wire feed: "7.5 m/min" or "295 in/min"."""
    return _spelled(metres_per_second, "m/s", ("in/min", 0, "in/min") if inch else ("m/min", 1, "m/min"))


def format_heat_input(joules_per_metre: float, inch: bool) -> str:
    """Heat input of an arc: "0.60 kJ/mm" or "15.2 kJ/in"."""
    return _spelled(joules_per_metre, "J/m", ("kJ/in", 1, "kJ/in") if inch else ("kJ/mm", 2, "kJ/mm"))


def format_stress(pascals: float, inch: bool) -> str:
    """Stress: "235 MPa" or "34.1 ksi"."""
    return _spelled(pascals, "Pa", ("ksi", 1, "ksi") if inch else ("MPa", 0, "MPa"))


def format_stiffness(newtons_per_metre: float, inch: bool) -> str:
    """Stiffness of a support: "50.0 kN/mm" or "285507 lbf/in"."""
    return _spelled(newtons_per_metre, "N/m", ("lbf/in", 0, "lbf/in") if inch else ("kN/mm", 1, "kN/mm"))


def format_duration(seconds: float) -> str:
    """Time at the bench, in seconds below two minutes: "25 s", "15 min", "2 h 05 min"."""
    if abs(seconds) < 119.5:
        return f"{_rounded(seconds, 0)} s"
    hours, minutes = divmod(round(abs(seconds) / 60.0), 60)
    sign = "-" if seconds < 0 else ""
    return sign + (f"{hours} h {minutes:02d} min" if hours else f"{minutes} min")


def format_clock(clock: float) -> str:
    """Clock position to the minute: 5.5 is "5:30"; 0 is written as 12."""
    hours, minutes = divmod(round(clock * 60.0) % 720, 60)
    return f"{hours or 12}:{minutes:02d}"


def _spelled(value: float, si: str, target: tuple[str, int, str]) -> str:
    """Value converted to (registry unit, decimals, spelling) and written out."""
    unit, decimals, spelling = target
    return f"{_rounded(convert(value, si, unit), decimals)} {spelling}"


def _rounded(value: float, decimals: int) -> str:
    """Number with fixed decimals and no "-0"."""
    text = f"{value:.{decimals}f}"
    return text.lstrip("-") if float(text) == 0.0 else text
