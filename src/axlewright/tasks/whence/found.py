"""A value with its unit and where it stands, and how it is written."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from axlewright import units
from axlewright.sheets import wording

_TAPE_FROM = 0.02
"""Lengths from here on are read off a tape, shorter ones off a dial indicator [m]."""
_SHORT = 10.0
"""Times below this are told to the tenth [s]."""
_RAISED = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")
_PLAIN = {"degC": "°C", "deg": "°", "J/m3K": "J/m³K", "mm2": "mm²", "m2": "m²"}


@dataclass(frozen=True)
class Found:
    """Something a figure is worked out from, as it was found.

    Args:
        value: number or words; None where it is left out.
        unit: of the number, a name of `units` or one that is only written; "" for a plain number.
        where: where it stands, in words.
        shop: the value as the shop writes it, where that is not in `unit`.
        figure: id of the figure that explains it further, if one does.
    """

    value: float | str | None
    unit: str = ""
    where: str = ""
    shop: str = ""
    figure: str = ""

    @property
    def number(self) -> float:
        """The value as a number.

        Raises:
            ValueError: it is none.
        """
        if isinstance(self.value, str) or self.value is None:
            raise ValueError(f"{self.where} is no number but {self.value!r}")
        return float(self.value)

    def into(self, unit: str) -> Found:
        """The same in another unit; what has none is taken to be in that unit."""
        if not unit or unit == self.unit or not isinstance(self.value, int | float):
            return self
        if unit == "%":
            return replace(self, value=100.0 * self.value, unit=unit)
        if not self.unit:
            return replace(self, unit=unit)
        return replace(self, value=units.convert(self.value, self.unit, unit), unit=unit)

    @property
    def shown(self) -> str:
        """The value with its unit, to four figures."""
        if self.value is None:
            return "left out"
        if isinstance(self.value, str):
            return wording.sentence(self.value)
        unit = _PLAIN.get(self.unit, self.unit)
        gap = "" if unit in ("", "°") else " "
        return f"{figures(float(self.value))}{gap}{unit}"


def figures(value: float) -> str:
    """A number to four figures, with a true minus and tens to a power where it is very large or small."""
    if value == 0.0 or not math.isfinite(value):
        return f"{value:g}"
    power = math.floor(math.log10(abs(value)))
    if -5 < power < 5:
        text = f"{value:.{max(0, 3 - power)}f}"
        text = text.rstrip("0").rstrip(".") if "." in text else text
    else:
        text = f"{value / 10.0**power:.4g} × 10{str(power).translate(_RAISED)}"
    return text.replace("-", "−")


def in_shop_words(found: Found, inch: bool) -> str:
    """A value as the shop reads it: tape or dial, degF in inch jobs, hours and minutes."""
    if not isinstance(found.value, int | float):
        return found.shown
    si = {"mm": "m", "min": "s", "kN": "N", "MPa": "Pa", "J/mm": "J/m", "kN/mm": "N/m"}.get(found.unit)
    value = found.value if si is None else units.convert(found.value, found.unit, si)
    written = {
        "mm": lambda: _length(value, inch),
        "m": lambda: _length(value, inch),
        "min": lambda: units.format_duration(value),
        "s": lambda: f"{value:.1f} s" if abs(value) < _SHORT else units.format_duration(value),
        "degC": lambda: units.format_temperature(value, inch),
        "deg": lambda: units.format_angle(value),
        "kN": lambda: units.format_force(value, inch),
        "MPa": lambda: units.format_stress(value, inch),
        "J/mm": lambda: units.format_heat_input(value, inch),
        "kN/mm": lambda: units.format_stiffness(value, inch),
        "%": lambda: f"{value:.0f} %",
    }.get(found.unit)
    return found.shown if written is None else wording.typeset(written())


def _length(metres: float, inch: bool) -> str:
    short = abs(metres) < _TAPE_FROM
    return units.format_deflection(metres, inch) if short else units.format_length(metres, inch)
