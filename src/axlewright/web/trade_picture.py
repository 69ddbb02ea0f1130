"""The trade-off as a picture: every plan a numbered mark that can be chosen, common practice among them.

Drawn like a small technical drawing: thick frame, thin scales, marks in ink. Lengths are units of the picture's own
view box, 340 wide, so that its letters stay readable on a phone.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from axlewright import units
from axlewright.tasks import wording
from axlewright.web.plan_sheet.scale import Scale, nice_ticks
from axlewright.web.voronoi import Point, cells

Box = tuple[float, float, float, float]

WIDTH, HEIGHT = 340.0, 340.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 62.0, 8.0, 26.0, 40.0
_RADIUS = 5.0
_REACH = 28.0
"""Half of the side of what can be touched round a mark: 48 px on a phone of 360 px at least."""
_LETTER = (8.4, 13.5)
"""Width and height that a figure of a number takes."""
_RINGS = (10.0, 13.0, 17.0, 22.0, 28.0, 34.0)
"""Clear distances between a mark and its number that are tried, the nearest first."""
_LEADS_FROM = 26.0
"""A number farther than this from its mark has a thin line to it."""
_RINGED = 8.0
"""Radius of the plan shown and the recommended one with the rings round them."""
_WAYS = tuple(math.radians(way) for way in (0, 180, 90, 270, 45, 135, 315, 225, 22, 158, 338, 202))
_FAR = 1.2
"""Common practice farther beyond the plans than this many times their spread stands at the edge, with an arrow."""


@dataclass(frozen=True)
class Axis:
    """One of the four counts a plan is chosen by.

    Args:
        key: of plan.json.
        words: its name.
        figure: id of what explains it.
    """

    key: str
    words: str
    figure: str


AXES = {
    "bench": Axis("bench_min", "bench time", "bench-time"),
    "distortion": Axis("distortion_mm", "distortion", "distortion"),
    "spot": Axis("hottest_spot_c", "hottest spot", "hottest-spot"),
    "tacks": Axis("tack_utilisation", "tack load", "tack-load"),
}
"""What can stand along and up the picture."""


@dataclass(frozen=True)
class Mark:
    """A plan in the picture.

    Args:
        number: of the plan; 0 for common practice.
        x: of the mark.
        y: likewise, downward.
        label_x: middle of its number.
        label_y: likewise.
        leader: from mark to number: x1, y1, x2, y2; None where the number is close by.
        target: corners of what can be touched, as SVG writes them.
        within: whether it keeps every limit and overloads no tack.
        recommended: whether it is the recommended one.
        chosen: whether it is the plan shown.
        says: all of it in words.
        beyond: "right", "left", "up", "down" where it lies outside the frame, or "".
    """

    number: int
    x: float
    y: float
    label_x: float
    label_y: float
    leader: tuple[float, float, float, float] | None
    target: str
    within: bool
    recommended: bool
    chosen: bool
    says: str
    beyond: str = ""


@dataclass(frozen=True)
class Tick:
    """A step of a scale: where, and what is written there."""

    at: float
    words: str


@dataclass(frozen=True)
class TradePicture:
    """The picture: its frame, both scales, the marks, common practice last."""

    across: Axis
    up: Axis
    across_ticks: tuple[Tick, ...]
    up_ticks: tuple[Tick, ...]
    marks: tuple[Mark, ...]
    common: Mark
    width: float = WIDTH
    height: float = HEIGHT
    left: float = _LEFT
    right: float = WIDTH - _RIGHT
    top: float = _TOP
    bottom: float = HEIGHT - _BOTTOM


def trade_picture(trade: Any, across: str, up: str, inch: bool) -> TradePicture:
    """The picture of a trade-off as plan.json has it.

    Args:
        trade: `trade_off` of plan.json.
        across: key of AXES for the level scale.
        up: likewise for the upright one.
        inch: whether it is written in inches and degF.
    """
    first, second = AXES[across], AXES[up]
    points, common = trade["points"], trade["common_practice"]
    level = _scale(first, points, common, (_LEFT + 12.0, WIDTH - _RIGHT - 14.0), inch)
    upright = _scale(second, points, common, (HEIGHT - _BOTTOM - 14.0, _TOP + 14.0), inch)
    spots = [(level.at(_shop(first, p, inch)), upright.at(_shop(second, p, inch))) for p in points]
    x, y, beyond = _kept_inside(level.at(_shop(first, common, inch)), upright.at(_shop(second, common, inch)))
    ringed = {trade["chosen"], trade["recommended"]}
    radii = [_RINGED if p["number"] in ringed else _RADIUS for p in points]
    labels = _labels([*spots, (x, y)], [str(p["number"]) for p in points], [*radii, _RADIUS])
    targets = cells([*spots, (x, y)], _REACH)
    marks = tuple(
        _mark(point, spot, label, target, trade, inch)
        for point, spot, label, target in zip(points, spots, labels, targets, strict=False)
    )
    place = ((x, y), (x, y), targets[-1])
    shown = _mark(common, *place, trade, inch, beyond)
    ticks = [_ticks(scale, axis, inch) for scale, axis in ((level, first), (upright, second))]
    return TradePicture(first, second, ticks[0], ticks[1], marks, shown)


def said(axis: Axis, point: Any, inch: bool) -> str:
    """A count of a plan as the shop reads it."""
    value = point[axis.key]
    if axis.key == "bench_min":
        return units.format_duration(60.0 * value)
    if axis.key == "distortion_mm":
        return wording.distortion(1e-3 * value, inch)
    return wording.temperature(value, inch) if axis.key == "hottest_spot_c" else wording.tack_load(value)


def _shop(axis: Axis, point: Any, inch: bool) -> float:
    """A count in the unit its scale is written in: min, mm or thousandths of an inch, degrees, per cent."""
    value = float(point[axis.key])
    if axis.key == "tack_utilisation":
        return 100.0 * value
    if inch and axis.key == "distortion_mm":
        return value / 0.0254
    return units.convert(value, "degC", "degF") if inch and axis.key == "hottest_spot_c" else value


def _scale(axis: Axis, points: Sequence[Any], common: Any, ends: tuple[float, float], inch: bool) -> Scale:
    """A scale over the plans, and over common practice where that is not far beyond them."""
    values = [_shop(axis, point, inch) for point in points]
    low, high = min(values), max(values)
    other, spread = _shop(axis, common, inch), max(high - low, 1e-6)
    if low - _FAR * spread <= other <= high + _FAR * spread:
        low, high = min(low, other), max(high, other)
    return Scale(low, max(high, low + 1e-6), *ends)


def _kept_inside(x: float, y: float) -> tuple[float, float, str]:
    """A place moved to the edge of the frame where it lies beyond, and which way it really lies."""
    left, right, top, bottom = _LEFT + 10.0, WIDTH - _RIGHT - 10.0, _TOP + 10.0, HEIGHT - _BOTTOM - 10.0
    way = "right" if x > right else "left" if x < left else "up" if y < top else "down" if y > bottom else ""
    return min(max(x, left), right), min(max(y, top), bottom), way


def _ticks(scale: Scale, axis: Axis, inch: bool) -> tuple[Tick, ...]:
    steps = (1.0, 2.0, 5.0) if axis.key != "bench_min" else (1.0, 2.0, 3.0)
    margin = 0.06 * (scale.high - scale.low)
    found = nice_ticks(scale.low - margin, scale.high + margin, 5, steps)
    return tuple(Tick(scale.at(value), _tick_words(axis, value, inch)) for value in found)


def _tick_words(axis: Axis, value: float, inch: bool) -> str:
    unit = {
        "bench_min": " min",
        "distortion_mm": " in" if inch else " mm",
        "hottest_spot_c": " °F" if inch else " °C",
        "tack_utilisation": " %",
    }[axis.key]
    if axis.key == "distortion_mm":
        return f"{value / 1000.0:.3f}{unit}" if inch else f"{value:.2f}{unit}"
    return f"{value:.0f}{unit}"


def _mark(
    point: Any,
    spot: Point,
    label: Point,
    target: str,
    trade: Any,
    inch: bool,
    beyond: str = "",
) -> Mark:
    number = point["number"]
    far = math.dist(spot, label)
    leader = None
    if far > _LEADS_FROM:
        ends = ((_RADIUS + 1.0) / far, (far - 8.0) / far)
        (x1, y1), (x2, y2) = (
            (spot[0] + t * (label[0] - spot[0]), spot[1] + t * (label[1] - spot[1])) for t in ends
        )
        leader = (round(x1, 1), round(y1, 1), round(x2, 1), round(y2, 1))
    return Mark(
        number,
        round(spot[0], 1),
        round(spot[1], 1),
        round(label[0], 1),
        round(label[1], 1),
        leader,
        target,
        point["within"],
        number != 0 and number == trade["recommended"],
        number != 0 and number == trade["chosen"],
        _in_words(point, trade, inch),
        beyond,
    )


def _in_words(point: Any, trade: Any, inch: bool) -> str:
    """A plan in a sentence, for who cannot see the picture."""
    number = point["number"]
    name = f"Plan {number}" if number else "Common practice"
    extra = [point["merit"]] if point["merit"] else []
    extra += ["recommended"] if number and number == trade["recommended"] else []
    extra += ["shown here"] if number and number == trade["chosen"] else []
    extra += [] if point["within"] else ["outside the limits"]
    counts = ", ".join(f"{axis.words} {said(axis, point, inch)}" for axis in AXES.values())
    return f"{name}{' (' + ', '.join(extra) + ')' if extra else ''}: {counts}"


def _labels(spots: Sequence[Point], numbers: Sequence[str], radii: Sequence[float]) -> list[Point]:
    """Middles of the numbers: as near to their marks as may be without covering a mark or another number."""
    boxes: list[Box] = []
    found = []
    for spot, number, radius in zip(spots, numbers, radii, strict=False):
        half = (_LETTER[0] * len(number) / 2.0, _LETTER[1] / 2.0 - 1.0)
        best = min(
            _places(spot, half, radius), key=lambda place: _crowding(_box(place, half), spots, radii, boxes)
        )
        boxes.append(_box(best, half))
        found.append(best)
    return found


def _places(spot: Point, half: tuple[float, float], radius: float) -> list[Point]:
    """Where a number may stand, the nearest first: right, left, above, below, then between."""
    places = []
    for ring in _RINGS:
        for way in _WAYS:
            c, s = math.cos(way), math.sin(way)
            far = radius - _RADIUS + ring + min(half[0] / max(abs(c), 1e-9), half[1] / max(abs(s), 1e-9))
            places.append((spot[0] + far * c, spot[1] - far * s))
    return places


def _box(place: Point, half: tuple[float, float]) -> Box:
    return place[0] - half[0], place[1] - half[1], place[0] + half[0], place[1] + half[1]


def _crowding(box: Box, spots: Sequence[Point], radii: Sequence[float], boxes: Sequence[Box]) -> float:
    """How much a number in this box would cover; the first of equal places is taken."""
    x1, y1, x2, y2 = box
    outside = x1 < _LEFT + 1.0 or x2 > WIDTH - _RIGHT - 1.0 or y1 < _TOP + 1.0 or y2 > HEIGHT - _BOTTOM - 1.0
    covered = sum(
        x1 - radius < x < x2 + radius and y1 - radius < y < y2 + radius
        for (x, y), radius in zip(spots, radii, strict=True)
    )
    met = sum(b[0] < x2 and b[2] > x1 and b[1] < y2 and b[3] > y1 for b in boxes)
    return 10.0 * outside + covered + met
