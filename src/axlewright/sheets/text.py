"""Text that the drawing font can draw, and how wide it will be."""

from __future__ import annotations

from functools import cache

from matplotlib.font_manager import FontProperties, findfont, get_font
from matplotlib.ft2font import FT2Font
from matplotlib.textpath import text_to_path

from axlewright.sheets.plain_text import JOINERS, clean
from axlewright.sheets.style import POINTS_PER_MM


def drawable(text: str) -> str:
    """Clean text with an open box for each character the drawing font has no shape for."""
    font = _font(bold=False)
    seen = (mark for mark in clean(text) if mark not in JOINERS)
    return "".join(mark if font.get_char_index(ord(mark)) else "\u25a1" for mark in seen)


def fitted(text: str, width_mm: float, size: float, *, bold: bool = False) -> str:
    """Drawable text, cut with an ellipsis where it would be wider than `width_mm` at `size` points."""
    shown = drawable(text)[:400]
    if width_of(shown, size, bold=bold) <= width_mm:
        return shown
    while shown and width_of(shown + "…", size, bold=bold) > width_mm:
        shown = shown[:-1]
    return shown.rstrip() + "…"


def width_of(text: str, size: float, *, bold: bool = False) -> float:
    """Width of one line in the drawing font at `size` points [mm]."""
    properties = _properties(bold=bold).copy()
    properties.set_size(size)
    width, _height, _descent = text_to_path.get_text_width_height_descent(text, properties, ismath=False)
    return float(width) / POINTS_PER_MM


def wrapped(text: str, width_mm: float, size: float, most: int, *, bold: bool = False) -> list[str]:
    """Drawable text broken at blanks into at most `most` lines no wider than `width_mm` at `size` points."""
    lines = [""]
    for word in drawable(text).split(" "):
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and width_of(longer, size, bold=bold) > width_mm:
            lines.append(word)
        else:
            lines[-1] = longer
    if len(lines) > most:
        lines = [*lines[: most - 1], " ".join(lines[most - 1 :])]
    return [fitted(line, width_mm, size, bold=bold) for line in lines]


def number_size(number: str, width: float) -> float:
    """Type size at which a bead's number fits a width, between 7 and 15 points."""
    return min(max(10.0 * width / width_of(number, 10.0, bold=True), 7.0), 15.0)


@cache
def _properties(*, bold: bool) -> FontProperties:
    """DejaVu Sans, which comes with matplotlib and so is there on a bare system."""
    return FontProperties(family="DejaVu Sans", weight="bold" if bold else "normal")


@cache
def _font(*, bold: bool) -> FT2Font:
    """The font file behind `_properties`."""
    return get_font(findfont(_properties(bold=bold)))
