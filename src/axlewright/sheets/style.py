"""How our drawings look: ink on a workshop sheet, line weights of ISO 128-2, readable without colour.

Every figure is made from matplotlib's objects; no global state is touched beyond `drawing_style`, which
puts back what it found.
"""

from __future__ import annotations

from contextlib import AbstractContextManager
from io import BytesIO

import matplotlib
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

GROUND = "#faf7f0"
PAPER = "#ffffff"
INK = "#1b2126"
SOFT_INK = "#575f66"
BAND = "#d9d6cd"
HEAT = "#b3531c"
NOW = "#175a8a"

MM_PER_INCH = 25.4
POINTS_PER_MM = 72.0 / MM_PER_INCH
# ISO 128-2 line group 0.5: visible edges 0.5 mm, dimensions and hatching 0.25 mm.
THICK = 0.5 * POINTS_PER_MM
THIN = 0.25 * POINTS_PER_MM
PNG_DOTS_PER_INCH = 180

_STYLE = {
    "font.family": ["DejaVu Sans"],
    "text.parse_math": False,
    "text.usetex": False,
    "axes.unicode_minus": True,
    "svg.fonttype": "path",
    "svg.hashsalt": "axlewright",
    "svg.image_inline": True,
    "path.simplify": True,
}


def drawing_style() -> AbstractContextManager[None]:
    """Settings every drawing is made and saved under, whatever the user's own matplotlib settings are."""
    context: AbstractContextManager[None] = matplotlib.rc_context(_STYLE)
    return context


def blank_figure(width_mm: float, height_mm: float) -> Figure:
    """A figure of a given size [mm] on off-white ground, ready to be saved without a display."""
    figure = Figure(figsize=(width_mm / MM_PER_INCH, height_mm / MM_PER_INCH), facecolor=GROUND)
    FigureCanvasAgg(figure)
    return figure


def svg_bytes(figure: Figure, ground: str = GROUND) -> bytes:
    """The figure as SVG without a date, so the same plan gives the same bytes."""
    buffer = BytesIO()
    with drawing_style():
        figure.savefig(
            buffer, format="svg", facecolor=ground, metadata={"Date": None, "Creator": "axlewright"}
        )
    return buffer.getvalue()


def png_bytes(figure: Figure, ground: str = GROUND) -> bytes:
    """The figure as PNG at 180 dots per inch."""
    buffer = BytesIO()
    with drawing_style():
        figure.savefig(
            buffer,
            format="png",
            dpi=PNG_DOTS_PER_INCH,
            facecolor=ground,
            metadata={"Software": "axlewright"},
            pil_kwargs={"compress_level": 4},
        )
    return buffer.getvalue()
