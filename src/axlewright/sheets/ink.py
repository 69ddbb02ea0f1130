"""Marks on a page measured in millimetres from its lower left corner."""

from __future__ import annotations

import math
from typing import Any

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Circle, Polygon, Rectangle

from axlewright.plan.pieces import PlannedBead
from axlewright.sheets.style import INK, NOW, PAPER, SOFT_INK, THICK, THIN, blank_figure
from axlewright.sheets.text import drawable, width_of

HATCH = "/////"
_ABOVE_BOXES = 3.5
_TAG_TEXT = 6.5
_HEAD_LENGTH = 2.6
_HEAD_HALF_WIDTH = 1.1


def blank_page(width: float, height: float) -> tuple[Figure, Axes]:
    """A figure whose one pair of axes counts millimetres on paper."""
    figure = blank_figure(width, height)
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    axes.set_xlim(0.0, width)
    axes.set_ylim(0.0, height)
    axes.set_axis_off()
    return figure, axes


def label(axes: Axes, x: float, y: float, text: str, size: float, **options: Any) -> None:
    """Text centred on a point; `options` as for matplotlib's Text, `gid` names it in the SVG."""
    style = {"ha": "center", "va": "center", "color": INK, **options}
    gid = style.pop("gid", None)
    made = axes.text(x, y, text, fontsize=size, **style)
    if gid:
        made.set_gid(gid)


def line(
    axes: Axes, x: tuple[float, ...], y: tuple[float, ...], weight: float = THIN, color: str = INK
) -> None:
    """A line through points, thin unless told otherwise."""
    axes.add_line(Line2D(x, y, linewidth=weight, color=color, solid_capstyle="butt", zorder=_ABOVE_BOXES))


def box(axes: Axes, corner: tuple[float, float], size: tuple[float, float], **options: Any) -> None:
    """A rectangle from its lower left corner; white with a thin edge unless told otherwise."""
    style = {"facecolor": PAPER, "edgecolor": INK, "linewidth": THIN, **options}
    axes.add_patch(Rectangle(corner, *size, **style))


def ring(axes: Axes, middle: tuple[float, float], radius: float, **options: Any) -> None:
    """A circle about a point; white with a thin edge unless told otherwise."""
    style = {"facecolor": PAPER, "edgecolor": INK, "linewidth": THIN, "zorder": _ABOVE_BOXES, **options}
    axes.add_patch(Circle(middle, radius, **style))


def hatched(axes: Axes, corner: tuple[float, float], size: tuple[float, float], gid: str) -> None:
    """A drain opening: hatched at 45 degrees in thin lines."""
    box(axes, corner, size, hatch=HATCH, gid=gid, hatch_linewidth=THIN, linewidth=THIN)


def arrow(axes: Axes, start: tuple[float, float], end: tuple[float, float], weight: float = THICK) -> None:
    """Hand of travel: a straight arrow in the accent of what to do now."""
    along = (end[0] - start[0], end[1] - start[1])
    length = max((along[0] ** 2 + along[1] ** 2) ** 0.5, 1e-9)
    unit = (along[0] / length, along[1] / length)
    neck = max(length - _HEAD_LENGTH, 0.0)
    line(
        axes,
        (start[0], start[0] + unit[0] * neck),
        (start[1], start[1] + unit[1] * neck),
        weight,
        NOW,
    )
    arrow_head(axes, end, unit)


def arrow_head(axes: Axes, tip: tuple[float, float], unit: tuple[float, float]) -> None:
    """A filled head whose tip is at a point and which looks along a unit vector."""
    foot = (tip[0] - unit[0] * _HEAD_LENGTH, tip[1] - unit[1] * _HEAD_LENGTH)
    side = (-unit[1] * _HEAD_HALF_WIDTH, unit[0] * _HEAD_HALF_WIDTH)
    corners = [tip, (foot[0] + side[0], foot[1] + side[1]), (foot[0] - side[0], foot[1] - side[1])]
    axes.add_patch(Polygon(corners, closed=True, facecolor=NOW, edgecolor="none", zorder=_ABOVE_BOXES))


def tack_mark(axes: Axes, x: float, y: float, unit: tuple[float, float] = (0.0, -1.0)) -> None:
    """A tack: a small solid wedge whose point touches the seam, looking along a unit vector."""
    side = (-unit[1] * 0.9, unit[0] * 0.9)
    foot = (x - unit[0] * 2.0, y - unit[1] * 2.0)
    corners = [(x, y), (foot[0] + side[0], foot[1] + side[1]), (foot[0] - side[0], foot[1] - side[1])]
    axes.add_patch(Polygon(corners, closed=True, facecolor=INK, edgecolor="none"))


def bead_tag(axes: Axes, middle: tuple[float, float], bead: PlannedBead, width: float) -> None:
    """The bead's name in small letters that fit a width [mm]."""
    size = min(_TAG_TEXT, _TAG_TEXT * width / max(width_of(bead.tag, _TAG_TEXT), 1e-9))
    label(axes, *middle, drawable(bead.tag), size, color=SOFT_INK, gid=f"tag-{bead.number}", zorder=4)


def ruler_ticks(axes: Axes, places: list[float], y: float, length: float) -> None:
    """Graduations hanging from height `y`, drawn as one broken line because there are hundreds."""
    gap = math.nan
    x = tuple(value for place in places for value in (place, place, gap))
    line(axes, x, (y, y - length, gap) * len(places), THIN, SOFT_INK)
