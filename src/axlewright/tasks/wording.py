"""How numbers are said, the same on pages as on sheets: value and unit together, in the shop's unit."""

from __future__ import annotations

from axlewright.sheets.wording import (
    angle,
    band,
    bow_meaning,
    camber_meaning,
    clock,
    deflection,
    distortion,
    length,
    positions,
    sentence,
    tack_load,
    temperature,
    toe_meaning,
    toe_word,
    turned,
    typeset,
    wait,
    weld_size,
)

__all__ = [
    "angle",
    "band",
    "bow_meaning",
    "camber_meaning",
    "clock",
    "deflection",
    "distortion",
    "length",
    "positions",
    "sentence",
    "tack_load",
    "temperature",
    "toe_meaning",
    "toe_word",
    "turned",
    "typeset",
    "wait",
    "weld_size",
]
