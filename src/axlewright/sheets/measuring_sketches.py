"""Small sketches under the measuring drawing: the clock on the tube, and which way each angle is plus."""

from __future__ import annotations

import math

from matplotlib.axes import Axes

from axlewright.sheets import ink
from axlewright.sheets.style import BAND, INK, NOW, SOFT_INK, THICK, THIN

SKETCH_HEIGHT = 43.0
_MIDDLE = 21.0
_LEAN = math.radians(17.0)
_FACE = 11.0


def draw_sketches(axes: Axes, width: float, top: float) -> None:
    """The clock at left, then camber, toe, caster and the dial's reading.

    Args:
        axes: page in millimetres.
        width: of the page [mm].
        top: height the sketches may take [mm].
    """
    ink.line(axes, (3.0, width - 3.0), (top - 1.0, top - 1.0))
    share = width / 4.0
    _draw_clock(axes, share / 2.0, top)
    for k, (title, seen, plus, draw) in enumerate(
        (
            ("camber", "from behind", "plus: top outward", _camber),
            ("toe", "from above", "plus: front edge inward", _toe),
            ("caster", "from the right end", "plus: top rearward", _caster),
        ),
        start=1,
    ):
        x = share * (k + 0.5)
        ink.label(axes, x, top - 4.6, title, 9.0, fontweight="bold")
        ink.label(axes, x, top - 8.6, seen, 7.0, color=SOFT_INK)
        draw(axes, x)
        ink.label(axes, x, 2.6, plus, 8.0)


def _draw_clock(axes: Axes, x: float, top: float) -> None:
    """The tube from the driver's right end with its hours."""
    ink.label(axes, x, top - 4.6, "clock on the tube", 9.0, fontweight="bold")
    ink.label(axes, x, top - 8.6, "from the driver's right end", 7.0, color=SOFT_INK)
    radius, y = 6.2, _MIDDLE - 2.5
    ink.ring(axes, (x, y), radius, facecolor=BAND, linewidth=THICK)
    ink.ring(axes, (x, y), 0.72 * radius, linewidth=THIN)
    for hour in range(1, 13):
        angle = math.radians(90.0 - 30.0 * hour)
        inner = radius - (1.3 if hour % 3 else 2.2)
        dx, dy = math.cos(angle), math.sin(angle)
        ink.line(axes, (x + inner * dx, x + radius * dx), (y + inner * dy, y + radius * dy))
    for hour, said, dx, dy in (
        (12, "12 top", 0.0, 9.0),
        (3, "3 front", 13.0, 0.0),
        (6, "6 bottom", 0.0, -9.0),
        (9, "9 rear", -12.4, 0.0),
    ):
        ink.label(axes, x + dx, y + dy, said, 7.5, fontweight="bold", gid=f"clock-{hour}")


def _camber(axes: Axes, x: float) -> None:
    """Both flanges from behind, tops leaning out."""
    _pair(axes, x, outward_above=True)
    ink.label(axes, x, _MIDDLE - 13.0, "LEFT" + " " * 22 + "RIGHT", 6.5, color=SOFT_INK)


def _toe(axes: Axes, x: float) -> None:
    """Both flanges from above, front edges leaning in."""
    _pair(axes, x, outward_above=False)
    ink.label(axes, x, _MIDDLE + 9.3, "front", 6.5, color=SOFT_INK)
    ink.label(axes, x, _MIDDLE - 13.0, "LEFT" + " " * 22 + "RIGHT", 6.5, color=SOFT_INK)


def _pair(axes: Axes, x: float, *, outward_above: bool) -> None:
    """A tube with a flange leaning at either end, and an arrow from where it would be square."""
    y, reach = _MIDDLE - 2.0, 12.0
    ink.box(
        axes, (x - reach, y - 2.4), (2.0 * reach, 4.8), edgecolor=SOFT_INK, facecolor=BAND, linewidth=THIN
    )
    for side in (-1.0, 1.0):
        foot = x + side * reach
        lean = side * (1.0 if outward_above else -1.0) * _LEAN
        dx, dy = _FACE / 1.35 * math.sin(lean), _FACE / 1.35 * math.cos(lean)
        dash = (0, (3.0, 2.0))
        axes.plot([foot, foot], [y - 8.2, y + 8.2], linewidth=THIN, color=SOFT_INK, linestyle=dash, zorder=4)
        ink.line(axes, (foot - dx, foot + dx), (y - dy, y + dy), 1.6 * THICK, INK)
        way = math.copysign(1.0, dx)
        ink.line(axes, (foot, foot + 1.3 * dx), (y + dy, y + dy), THICK, NOW)
        ink.arrow_head(axes, (foot + way * 5.2, y + dy), (way, 0.0))


def _caster(axes: Axes, x: float) -> None:
    """The flange from the driver's right end, front at right, its upright line leaning rearward."""
    y = _MIDDLE - 2.0
    ink.ring(axes, (x, y), 7.0, facecolor=BAND, linewidth=THIN)
    ink.ring(axes, (x, y), 3.0, linewidth=THIN)
    dash = (0, (3.0, 2.0))
    axes.plot([x, x], [y - 9.0, y + 9.0], linewidth=THIN, color=SOFT_INK, linestyle=dash, zorder=4)
    dx, dy = 9.0 * math.sin(_LEAN), 9.0 * math.cos(_LEAN)
    ink.line(axes, (x + dx, x - dx), (y - dy, y + dy), 1.6 * THICK, INK)
    ink.line(axes, (x, x - dx), (y + dy, y + dy), THICK, NOW)
    ink.arrow_head(axes, (x - 5.6, y + dy), (-1.0, 0.0))
    ink.label(axes, x + 12.0, y, "front", 6.5, color=SOFT_INK)
    ink.label(axes, x - 12.0, y, "rear", 6.5, color=SOFT_INK)
