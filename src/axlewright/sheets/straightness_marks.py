"""Marks of the straightness picture: axis, band and points of a set, limits, and the scale of offsets."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np
from matplotlib.axes import Axes

from axlewright.sheets import ink
from axlewright.sheets import straightness_words as words
from axlewright.sheets.axle_frame import AxleFrame
from axlewright.sheets.style import BAND, INK, SOFT_INK, THICK, THIN
from axlewright.sheets.text import width_of
from axlewright.sheets.trade_labels import Sheet, Spot
from axlewright.straightness.axis import Plane
from axlewright.straightness.report import Figure, LimitCheck, ShapeReport, StraightnessReport

TALLEST = 15.0
"""Farthest an offset is drawn from the line between the flanges [mm]."""
_EDGE = TALLEST + 1.2
_FLANGE = 4.5
_DOT = 0.75
_TINIEST = 2e-5
"""Offset [m] that fills the picture at the least; below it a picture would show nothing but reading errors."""
_EMPTY = 1e-3
_FAR_POINT = 2.0
_STEPS = (1.0, 2.0, 5.0)
_TICK_GAP = 4.5
_THIN_DASH: tuple[int, tuple[float, ...]] = (0, (7.0, 2.0))


@dataclass(frozen=True)
class Drawn:
    """A set of readings on the picture.

    Args:
        name: "before" or "after".
        shape: what it tells.
        latest: whether the verdict is on it.
    """

    name: str
    shape: ShapeReport
    latest: bool

    @property
    def style(self) -> str | tuple[int, tuple[float, ...]]:
        """Line style: whole for the latest set."""
        return "-" if self.latest else _THIN_DASH

    def end(self, plane: Plane, end: str) -> Figure:
        """Camber, or toe, of the left or right flange."""
        ends = self.shape.camber if plane == "vertical" else self.shape.toe
        return ends.left if end == "left" else ends.right


@dataclass(frozen=True)
class Offsets:
    """How offsets from the line between the flanges are drawn.

    Args:
        factor: enlargement against the scale along the axle: 1, 2, 3 or 5 times a power of ten.
        per_metre: millimetres on paper for a metre of offset.
    """

    factor: float
    per_metre: float

    def holds(self, offset: float) -> bool:
        """Whether an offset [m] lies on the picture."""
        return abs(offset) * self.per_metre <= TALLEST + 1e-9


@dataclass(frozen=True)
class View:
    """One plane on the page: the axle along it, the line between the flanges at height `middle` [mm]."""

    plane: Plane
    frame: AxleFrame
    middle: float
    scale: Offsets

    def height(self, offset: float) -> float:
        """Height on paper of an offset [mm]; what lies beyond the picture is held at its edge."""
        return self.middle + min(max(offset * self.scale.per_metre, -_EDGE), _EDGE)


def offsets_for(report: StraightnessReport, frame: AxleFrame) -> Offsets:
    """The largest enlargement that keeps axes, bands and all but far-off points on the picture, in both planes."""
    shapes = [
        words.plane_of(shape, plane)
        for shape in (report.before, report.after)
        if shape is not None
        for plane in ("vertical", "fore-aft")  # type: tuple[Plane, ...]
    ]
    told = [shape for shape in shapes if shape.told]
    edges = [float(np.abs(edge).max()) for shape in told for edge in (shape.axis, shape.low, shape.high)]
    limits = [check.limit for check in report.verdict.checks if check.unit == "m"]
    reach = max([_TINIEST, *edges]) if told else max([_EMPTY, *limits])
    points = [abs(offset) for shape in told for _at, offset, _line in shape.points]
    reach = max([reach, *(offset for offset in points if offset <= _FAR_POINT * reach)])
    most = TALLEST / (reach * frame.per_metre)
    power = 10.0 ** math.floor(math.log10(most))
    factor = max(step * power for step in (1.0, 2.0, 3.0, 5.0) if step * power <= most * (1.0 + 1e-9))
    return Offsets(factor, factor * frame.per_metre)


def draw_shape(axes: Axes, view: View, drawn: Drawn) -> None:
    """Band, axis, flange faces and points of one set in one plane."""
    shape = words.plane_of(drawn.shape, view.plane)
    if not shape.told:
        return
    x = view.frame.left + shape.distances * view.frame.per_metre
    axis, low, high = (
        view.middle + edge * view.scale.per_metre for edge in (shape.axis, shape.low, shape.high)
    )
    gid = f"{view.plane}-{drawn.name}"
    edge: dict[str, Any] = {"edgecolor": SOFT_INK, "linewidth": 0.5 * THIN}
    edge["linestyle"] = "-" if drawn.latest else ":"
    fill = BAND if drawn.latest else "none"
    order = 1.0 if drawn.latest else 2.5
    axes.fill_between(x, low, high, facecolor=fill, gid=f"band-{gid}", zorder=order, **edge)
    weight, color = (1.3 * THICK, INK) if drawn.latest else (0.9 * THIN, SOFT_INK)
    axes.plot(x, axis, linewidth=weight, color=color, linestyle=drawn.style, gid=f"axis-{gid}", zorder=4)
    for end in ("left", "right"):
        _draw_flange(axes, view, drawn, "left" if end == "left" else "right")
    if drawn.latest and abs(shape.bow.value) * view.scale.per_metre > 1.0:
        foot = view.frame.paper(shape.bow_at)
        ink.line(axes, (foot, foot), (view.middle, view.height(shape.bow.value)), THIN, SOFT_INK)
    _draw_points(axes, view, drawn)


def _draw_flange(axes: Axes, view: View, drawn: Drawn, end: Literal["left", "right"]) -> None:
    """A short line for the flange's face, leaning as much larger than life as offsets are drawn."""
    figure = drawn.end(view.plane, end)
    if not figure.told:
        return
    # Camber leans the upper edge outward; toe-in leans the forward edge inward.
    outward = figure.value if view.plane == "vertical" else -figure.value
    lean = math.atan(math.tan(math.radians(outward)) * view.scale.factor)
    side = -1.0 if end == "left" else 1.0
    x = view.frame.left if end == "left" else view.frame.right
    dx, dy = side * _FLANGE * math.sin(lean), _FLANGE * math.cos(lean)
    weight, color = (1.3 * THICK, INK) if drawn.latest else (0.9 * THIN, SOFT_INK)
    gid = f"flange-{view.plane}-{end}-{drawn.name}"
    ends = ([x - dx, x + dx], [view.middle - dy, view.middle + dy])
    axes.plot(*ends, linewidth=weight, color=color, linestyle=drawn.style, gid=gid, zorder=4)


def _draw_points(axes: Axes, view: View, drawn: Drawn) -> None:
    """Single readings: solid for the latest set, open for the earlier one; a wedge where one is off the picture."""
    odd = {doubt.line for doubt in drawn.shape.doubts}
    color, face = (INK, INK) if drawn.latest else (SOFT_INK, "white")
    for at, offset, line in words.plane_of(drawn.shape, view.plane).points:
        x, y = view.frame.paper(at), view.height(offset)
        beyond = abs(offset) * view.scale.per_metre > _EDGE
        mark = ("^" if offset > 0.0 else "v") if beyond else "o"
        style: dict[str, Any] = {"color": color, "markerfacecolor": face, "linestyle": "none"}
        gid = f"point-{view.plane}-{drawn.name}-{line}"
        axes.plot(
            [x], [y], marker=mark, markersize=5.0 if beyond else 3.4, mew=0.8, gid=gid, zorder=5, **style
        )
        if line in odd:
            axes.plot([x], [y], marker="s", markersize=8.0, mfc="none", mec=INK, mew=1.2, ls="none", zorder=5)


def draw_odd_lines(axes: Axes, view: View, sets: tuple[Drawn, ...]) -> None:
    """The line of the file beside each point that does not go with the rest, where there is room."""
    spots: list[Spot] = []
    odd: list[tuple[int, int]] = []
    for drawn in sets:
        lines = {doubt.line for doubt in drawn.shape.doubts}
        for at, offset, line in words.plane_of(drawn.shape, view.plane).points:
            if line in lines:
                odd.append((len(spots), line))
            spots.append(Spot(view.frame.paper(at), view.height(offset), 1.6 if line in lines else _DOT))
        spots += _along_axis(view, drawn)
    area = (view.frame.left, view.middle - _EDGE - 1.5, view.frame.right, view.middle + _EDGE + 1.5)
    sheet = Sheet(area, spots)
    for number, line in odd:
        said = f"line {line}"
        placed = sheet.place(number, [(width_of(said, 6.5) + 0.6, 2.8)])
        if placed is None:
            continue
        left, bottom, right, top = placed.box
        gid = f"odd-{view.plane}-{line}"
        ink.label(axes, (left + right) / 2.0, (bottom + top) / 2.0, said, 6.5, gid=gid, zorder=8)
        if placed.leader:
            x0, y0, x1, y1 = placed.leader
            ink.line(axes, (x0, x1), (y0, y1), 0.6 * THIN, SOFT_INK)


def _along_axis(view: View, drawn: Drawn) -> list[Spot]:
    """The drawn axis as points that words keep clear of."""
    shape = words.plane_of(drawn.shape, view.plane)
    if not shape.told:
        return []
    at = np.linspace(shape.distances[0], shape.distances[-1], 75)
    offsets = np.interp(at, shape.distances, shape.axis)
    return [
        Spot(view.frame.paper(float(d)), view.height(float(w)), 0.4) for d, w in zip(at, offsets, strict=True)
    ]


def draw_limits(axes: Axes, view: View, limits: tuple[LimitCheck, ...]) -> None:
    """Light dotted lines for the limits of the bow that lie on the picture."""
    for check in limits:
        for edge in (check.wanted - check.limit, check.wanted + check.limit):
            if not view.scale.holds(edge):
                continue
            y = view.middle + edge * view.scale.per_metre
            ends = [view.frame.left, view.frame.right]
            gid = f"limit-{view.plane}"
            dash = (0, (1.5, 1.5))
            axes.plot(ends, [y, y], lw=THIN, color=SOFT_INK, ls=dash, gid=gid, zorder=1.5)


def draw_dial_scale(axes: Axes, view: View, inch: bool) -> None:
    """Offsets as a dial shows them, beside the left flange."""
    unit, name, fewest = (0.0254, "in", 3) if inch else (0.001, "mm", 2)
    step = _dial_step(view.scale.per_metre * unit)
    digits = max(min(fewest, -math.floor(math.log10(step) + 1e-9)), 0)
    x, most = view.frame.left - 7.0, math.floor(TALLEST / (step * unit * view.scale.per_metre) + 1e-9)
    ink.line(axes, (x, x), (view.middle - TALLEST, view.middle + TALLEST), 0.7 * THIN, SOFT_INK)
    for k in range(-most, most + 1):
        y = view.middle + k * step * unit * view.scale.per_metre
        ink.line(axes, (x - 1.2, x), (y, y), 0.7 * THIN, SOFT_INK)
        sign = "+" if k > 0 else "−" if k < 0 else ""
        said = f"{sign}{abs(k) * step:.{digits}f}"
        ink.label(axes, x - 1.8, y, said, 6.5, ha="right", color=SOFT_INK, gid=f"offset-{view.plane}")
    ink.label(axes, x - 0.5, view.middle + TALLEST + 2.4, name, 6.5, ha="right", color=SOFT_INK)


def _dial_step(paper_per_unit: float) -> float:
    """The smallest of 1, 2, 5 times a power of ten whose graduations stand far enough apart."""
    power = 10.0 ** math.floor(math.log10(_TICK_GAP / paper_per_unit))
    sizes = [step * power for step in (*_STEPS, 10.0)]
    return next(size for size in sizes if size * paper_per_unit >= _TICK_GAP)
