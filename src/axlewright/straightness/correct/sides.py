"""Clock positions on the tube in words."""

from __future__ import annotations

from axlewright.units import format_clock

_QUARTERS = ("top", "front", "bottom", "rear")
_BESIDE = {
    "top": ("to the front", "to the rear"),
    "front": ("below", "above"),
    "bottom": ("to the rear", "to the front"),
    "rear": ("above", "below"),
}
"""What lies a little after and a little before a quarter on the clock as seen from the driver's right end."""


def side_in_words(clock: float) -> str:
    """A clock position as a place on the skin: "bottom, a little to the front".

    >>> side_in_words(6.0), side_in_words(5.0), side_in_words(2.0), side_in_words(10.5)
    ('bottom', 'bottom, a little to the front', 'front, a little above', 'halfway top to rear (10:30)')
    """
    quarter = round(clock / 3.0) % 4
    away = (clock - 3.0 * quarter + 6.0) % 12.0 - 6.0
    name = _QUARTERS[quarter]
    if abs(away) < 0.25:
        return name
    if abs(away) > 1.25:
        other = _QUARTERS[(quarter + (1 if away > 0 else -1)) % 4]
        return f"halfway {name} to {other} ({format_clock(clock % 12.0 or 12.0)})"
    return f"{name}, a little {_BESIDE[name][0 if away > 0 else 1]}"
