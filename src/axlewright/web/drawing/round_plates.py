"""Where to measure guards: face by the clock, and cut through."""

from __future__ import annotations

import math

from axlewright.web.drawing.axle import turn
from axlewright.web.drawing.measures import Measures
from axlewright.web.drawing.paper import Line, Paper, Point, across, pointed

_MIDDLE, _RADIUS = (112.0, 118.0), 70.0


def guard(m: Measures, n: int) -> str:
    """A guard as it is seen facing it, and cut through its middle."""
    name = f"guard.{n}"
    side = m.word(f"{name}.side", "front")
    paper = Paper(f"guard-{n}", f"Guard {n + 1}, facing the {side} of the centre, and cut through", 246.0)
    scale = 2.0 * _RADIUS / m.value(f"{name}.diameter")
    for hour in range(1, 13):
        x, y = _on(0.78 * _RADIUS, float(hour))
        paper.words(x, y + 4.0, str(hour))
    begin, end = m.value(f"{name}.from_clock"), m.value(f"{name}.to_clock")
    _stretch(paper, begin, end, "weld")
    for k in range(m.count(f"{name}.openings")):
        start, stop = (m.value(f"{name}.openings.{k}.{c}") for c in (0, 1))
        _stretch(paper, start, stop, "open", gap=True)
    _clock_positions(paper, m, name)
    left, right = (_MIDDLE[0] - _RADIUS, _MIDDLE[1]), (_MIDDLE[0] + _RADIUS, _MIDDLE[1])
    across(paper, m.sized(f"{name}.diameter"), left, right, _MIDDLE[1] + _RADIUS + 42.0, scale)
    _cut(paper, m, name, min(scale, 52.0 / max(m.value(f"{name}.dish") + m.value(f"{name}.thickness"), 1e-3)))
    return paper.svg()


def _on(radius: float, clock: float) -> Point:
    right, up = turn(clock)
    return _MIDDLE[0] + radius * right, _MIDDLE[1] - radius * up


def _stretch(paper: Paper, begin: float, end: float, kind: Line, gap: bool = False) -> None:
    """A stretch of the rim, clockwise; the same position twice is all round, for an opening nothing."""
    hours = (end - begin) % 12.0
    hours = 12.0 if hours < 1e-9 and not gap else hours
    steps = max(2, math.ceil(hours * 6.0))
    paper.line([_on(_RADIUS, begin + hours * k / steps) for k in range(steps + 1)], kind)


def _clock_positions(paper: Paper, m: Measures, name: str) -> None:
    """Leaders to where the rim and its openings begin and end."""
    fields = [f"{name}.from_clock", f"{name}.to_clock"]
    fields += [f"{name}.openings.{k}.{c}" for k in range(m.count(f"{name}.openings")) for c in (0, 1)]
    for k, each in enumerate(fields):
        clock = m.value(each)
        # Beginning and end of a full circle are one place; a little apart, both can be read.
        aside = (-0.16 if k == 0 else 0.16) if k < 2 else 0.0
        pointed(paper, m.sized(each), _on(_RADIUS, clock), _on(_RADIUS + 16.0, clock + aside))


def _cut(paper: Paper, m: Measures, name: str, scale: float) -> None:
    """Cut through the middle: a plate that stands proud of the plane of its rim."""
    half = m.value(f"{name}.diameter") / 2.0
    tall = _RADIUS / half
    dish, thickness = m.value(f"{name}.dish"), m.value(f"{name}.thickness")
    rim, middle = 272.0, _MIDDLE[1]
    flat = 0.55 * half
    outer = [(rim, half), (rim + dish * scale, flat), (rim + dish * scale, -flat), (rim, -half)]
    inner = [(x + thickness * scale, y) for x, y in reversed(outer)]
    paper.line([(x, middle - y * tall) for x, y in (*outer, *inner)], "hatched", closed=True)
    paper.line(((rim, middle - _RADIUS - 8.0), (rim, middle + _RADIUS + 8.0)), "axis")
    foot = middle + _RADIUS
    proud = (rim, foot), (rim + dish * scale, middle)
    across(paper, m.sized(f"{name}.dish"), *proud, foot + 18.0, scale)
    plate = (rim + dish * scale, middle - 10.0), (rim + (dish + thickness) * scale, middle - 10.0)
    across(paper, m.sized(f"{name}.thickness"), *plate, middle - 10.0, scale)
