"""The predicted cold shape, drawn larger than life, ours beside common practice with its band."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from axlewright.plan.report import PlanReport, Prediction, Shape, Sides
from axlewright.sheets import ink, wording
from axlewright.sheets.style import BAND, INK, SOFT_INK, THICK, THIN, drawing_style
from axlewright.solid.mesh import Floats

WIDTH = 182.0
HEIGHT = 107.0
_AXLE_LEFT, _AXLE_WIDTH = 12.0, WIDTH - 24.0
_TALLEST = 16.0
_NEAR_END = 0.1
_DASH = (0, (5.0, 2.0))


@dataclass(frozen=True)
class View:
    """One of the two views: its words, and which numbers of a prediction it shows."""

    title: str
    up: str
    vertical: bool
    angle_name: str
    offsets: Callable[[Prediction], Floats]
    bow: Callable[[Shape], float]
    sides: Callable[[Shape], Sides]
    meaning: Callable[[float], str]


_VIEWS = (
    View(
        "From behind, as the driver sits",
        "up",
        True,
        "camber",
        lambda prediction: prediction.axis.vertical,
        lambda shape: shape.bow_vertical,
        lambda shape: shape.camber_deg,
        wording.camber_meaning,
    ),
    View(
        "From above",
        "forward",
        False,
        "toe",
        lambda prediction: prediction.axis.fore_aft,
        lambda shape: shape.bow_fore_aft,
        lambda shape: shape.toe_deg,
        wording.toe_meaning,
    ),
)


def draw_cold_shape(report: PlanReport) -> Figure:
    """The cold shape in both planes, left flange at left, offsets enlarged by the factor written on it.

    The grey band runs between the low and the high edge of the bow: the predicted axis moved by the
    difference where the bow is largest, fading as a parabola to nought at the flanges.

    Args:
        report: the finished plan.
    """
    with drawing_style():
        figure, axes = ink.blank_page(WIDTH, HEIGHT)
        scale = _scale(report)
        for view, middle in zip(_VIEWS, (80.0, 30.0), strict=True):
            _draw_view(axes, report, view, middle, scale)
        _draw_key(axes, scale)
        return figure


def _band_offsets(prediction: Prediction, view: View) -> tuple[Floats, Floats]:
    """Lower and upper edge of the axis [m]."""
    offsets = view.offsets(prediction)
    bulge = _bulge(prediction.axis.along, offsets)
    bow = view.bow(prediction.shape)
    edges = sorted((view.bow(prediction.low), view.bow(prediction.high)))
    return offsets + (edges[0] - bow) * bulge, offsets + (edges[1] - bow) * bulge


def _bulge(along: Floats, offsets: Floats) -> Floats:
    """One where the bow is largest, falling as a parabola on either side to nought at the flanges."""
    share = (along - along.min()) / max(float(np.ptp(along)), 1e-9)
    largest = float(share[np.argmax(np.abs(offsets))])
    peak = largest if _NEAR_END < largest < 1.0 - _NEAR_END else 0.5
    reach = np.where(share < peak, peak, 1.0 - peak)
    bulge: Floats = 1.0 - ((share - peak) / reach) ** 2
    return bulge


def _scale(report: PlanReport) -> float:
    """Enlargement across the axle against the scale along it: 1, 2, 3 or 5 times a power of ten."""
    edges = [
        float(np.max(np.abs(edge)))
        for view in _VIEWS
        for prediction in (report.ours.prediction, report.common_practice.prediction)
        for edge in (*_band_offsets(prediction, view), view.offsets(prediction))
    ]
    paper_per_metre = _AXLE_WIDTH / report.length
    most = _TALLEST / (max(max(edges), 1e-6) * paper_per_metre)
    power = 10.0 ** math.floor(math.log10(most))
    return max(step * power for step in (1.0, 2.0, 3.0, 5.0) if step * power <= most * (1.0 + 1e-9))


def _draw_view(axes: Axes, report: PlanReport, view: View, middle: float, scale: float) -> None:
    """One view: line between the flanges, band, both axes, words at the ends and at mid-length."""
    paper = _AXLE_WIDTH / report.length
    ours, common = report.ours.prediction, report.common_practice.prediction
    _draw_frame(axes, view, middle)
    low, high = (middle + edge * paper * scale for edge in _band_offsets(ours, view))
    x = _AXLE_LEFT + ours.axis.along * paper
    axes.fill_between(x, low, high, facecolor=BAND, edgecolor=SOFT_INK, linewidth=0.5 * THIN, gid="band")
    for prediction, style in ((common, _DASH), (ours, "-")):
        _draw_axis(axes, prediction, view, (middle, paper, paper * scale), style)
    _draw_end_words(axes, report, view, middle)
    _draw_bow_words(axes, report, view, middle)


def _draw_frame(axes: Axes, view: View, middle: float) -> None:
    """Title of the view, the straight line between the flanges and which way is which."""
    right = _AXLE_LEFT + _AXLE_WIDTH
    dash = (0, (12.0, 2.0, 2.0, 2.0))
    axes.plot([_AXLE_LEFT, right], [middle, middle], linewidth=THIN, color=SOFT_INK, linestyle=dash)
    ink.label(axes, WIDTH / 2.0, middle + 22.5, view.title, 10.0, fontweight="bold")
    ink.label(axes, _AXLE_LEFT, middle + 22.5, "LEFT", 10.0, ha="left", fontweight="bold")
    ink.label(axes, right, middle + 22.5, "RIGHT", 10.0, ha="right", fontweight="bold")
    ink.label(
        axes, 2.0, middle, view.up, 7.0, ha="left", rotation=90 if len(view.up) > 4 else 0, color=SOFT_INK
    )
    ink.line(axes, (4.0, 4.0), (middle + 7.5, middle + 12.0))
    ink.label(axes, 4.0, middle + 12.0, "▲", 5.0)


def _draw_axis(
    axes: Axes,
    prediction: Prediction,
    view: View,
    place: tuple[float, float, float],
    style: str | tuple[int, tuple[float, ...]],
) -> None:
    """The axis of one plan with a short line square to it at each end for the flange face."""
    middle, along, across = place
    x = _AXLE_LEFT + prediction.axis.along * along
    y = middle + view.offsets(prediction) * across
    weight = 1.2 * THICK if style == "-" else 0.8 * THICK
    axes.plot(x, y, linewidth=weight, color=INK, linestyle=style, gid=f"axis-{view.angle_name}")
    for end, inner in ((0, 1), (-1, -2)):
        slope = (float(y[inner] - y[end]), float(x[inner] - x[end]))
        length = max(math.hypot(*slope), 1e-9)
        square = (-5.0 * slope[0] / length, 5.0 * slope[1] / length)
        ends_x = [x[end] - square[0], x[end] + square[0]]
        axes.plot(
            ends_x, [y[end] - square[1], y[end] + square[1]], linewidth=weight, color=INK, linestyle=style
        )


def _draw_end_words(axes: Axes, report: PlanReport, view: View, middle: float) -> None:
    """Camber or toe at both ends with band and meaning; common practice below it."""
    ours, common = report.ours.prediction, report.common_practice.prediction
    for name, x, align in (("left", _AXLE_LEFT, "left"), ("right", _AXLE_LEFT + _AXLE_WIDTH, "right")):
        value = float(getattr(view.sides(ours.shape), name))
        edges = sorted(float(getattr(view.sides(shape), name)) for shape in (ours.low, ours.high))
        theirs = float(getattr(view.sides(common.shape), name))
        words = f"{view.angle_name} {wording.angle(value)}: {view.meaning(value)}"
        spread = wording.band(wording.angle(edges[0]), wording.angle(edges[1]))
        ink.label(axes, x, middle + 18.3, words, 8.5, ha=align, gid=f"{view.angle_name}-{name}")
        rest = f"band {spread}; common practice {wording.angle(theirs)}"
        ink.label(axes, x, middle + 14.6, rest, 7.0, ha=align, color=SOFT_INK)


def _draw_bow_words(axes: Axes, report: PlanReport, view: View, middle: float) -> None:
    """Bow with band and meaning under the view."""
    ours, common = report.ours.prediction, report.common_practice.prediction
    bow, theirs = view.bow(ours.shape), view.bow(common.shape)
    edges = sorted((view.bow(ours.low), view.bow(ours.high)))
    spread = wording.band(*(wording.deflection(edge, report.inch) for edge in edges))
    words = (
        f"bow {wording.deflection(bow, report.inch)}: {wording.bow_meaning(bow, view.vertical)}  "
        f"(band {spread}; common practice {wording.deflection(theirs, report.inch)})"
    )
    ink.label(axes, WIDTH / 2.0, middle - _TALLEST - 3.5, words, 8.5, gid=f"bow-{view.angle_name}")


def _draw_key(axes: Axes, scale: float) -> None:
    """What the lines mean, and the scale."""
    y = 4.0
    ink.line(axes, (3.0, WIDTH - 3.0), (y + 3.6, y + 3.6))
    axes.plot([4.0, 14.0], [y, y], linewidth=1.2 * THICK, color=INK)
    ink.label(axes, 16.0, y, "our plan", 7.5, ha="left")
    ink.box(axes, (33.0, y - 1.4), (10.0, 2.8), facecolor=BAND, linewidth=0.5 * THIN)
    ink.label(axes, 45.0, y, "its band", 7.5, ha="left")
    axes.plot([61.0, 71.0], [y, y], linewidth=THICK, color=INK, linestyle=_DASH)
    ink.label(axes, 73.0, y, "common practice", 7.5, ha="left")
    words = f"offsets drawn {scale:g} times larger"
    ink.label(axes, WIDTH - 4.0, y, words, 8.5, ha="right", fontweight="bold")
