"""The axis of the tubes before and after, from behind and from above, on one scale, as SVG without any library."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from axlewright.tasks.measuring_outline import HousingOutline
from axlewright.web.straight import ink, words
from axlewright.web.straight.axis_scale import PLANES, TITLES, AxisFrame, bow_limits, enlargement

Report = Mapping[str, Any]

_SIZES = {"wide": (940.0, 64.0, 92.0), "narrow": (340.0, 24.0, 56.0)}
"""Width, margin beside the axle, farthest an offset is drawn [px]."""
_HEAD, _RULER, _ENDS, _EDGE = 34.0, 34.0, 20.0, 8.0
_LABELS = {"wide": 78.0, "narrow": 66.0}
_FACE = 0.62
"""Half a drawn flange face over the farthest offset."""


@dataclass(frozen=True)
class AxisPicture:
    """One plane: its title, what is said of it, and its pictures for a wide and a narrow screen."""

    title: str
    wide: str
    narrow: str


@dataclass(frozen=True)
class Both:
    """Both planes, and how much larger than life offsets are drawn on either screen."""

    planes: tuple[AxisPicture, ...]
    wide: float
    narrow: float


def axis_pictures(report: Report, outline: HousingOutline) -> Both:
    """Both planes of a check.

    Args:
        report: straightness.json.
        outline: the bare housing.
    """
    frames = {name: _frame(report, outline, name) for name in _SIZES}
    planes = tuple(
        AxisPicture(TITLES[plane], *(_picture(report, outline, plane, frames[name], name) for name in _SIZES))
        for plane in PLANES
    )
    return Both(planes, frames["wide"].factor, frames["narrow"].factor)


def _frame(report: Report, outline: HousingOutline, size: str) -> AxisFrame:
    width, margin, reach = _SIZES[size]
    frame = AxisFrame(width, margin, reach, outline.length)
    # The housing is drawn to scale behind the axis; a high centre makes the picture higher.
    half = max(*outline.half_heights, *outline.half_depths, outline.flange[1] / 2.0) * frame.per_metre
    middle = _HEAD + max(half, reach) + _EDGE
    return replace(frame, factor=enlargement(report, frame), middle=middle)


def _picture(report: Report, outline: HousingOutline, plane: str, frame: AxisFrame, size: str) -> str:
    foot = 2.0 * frame.middle - _HEAD
    height = foot + _ENDS + _RULER
    sets = [name for name in ("before", "after") if report[name]]
    latest = sets[-1]
    parts = [
        *_housing(outline, plane, frame),
        *_limits(report, plane, frame),
        ink.line("middle", (frame.x(0.0) - 8.0, frame.middle), (frame.x(frame.length) + 8.0, frame.middle)),
    ]
    for name in sets:
        parts += _shape(report[name], plane, frame, name, name == latest)
    parts += _ends(report, plane, frame, foot + 14.0, latest)
    parts += _ruler(frame, foot + _ENDS, outline.inch, _LABELS[size])
    parts += _scale_bar(frame, outline.inch)
    return ink.picture(f"axis {size}", frame.width, height, _said(report, plane, outline.inch), parts)


def _housing(outline: HousingOutline, plane: str, frame: AxisFrame) -> Iterator[str]:
    """The bare housing to scale, and what stands on the tubes where it is seen from the side."""
    half = outline.half_heights if plane == "vertical" else outline.half_depths
    up = [
        (frame.x(d), frame.middle - h * frame.per_metre) for d, h in zip(outline.distances, half, strict=True)
    ]
    yield ink.path("housing", [*up, *((x, 2.0 * frame.middle - y) for x, y in reversed(up))], closed=True)
    thick, across = (size * frame.per_metre for size in outline.flange)
    for left in (frame.x(0.0), frame.x(frame.length) - thick):
        yield ink.box("housing", left, frame.middle - across / 2.0, thick, across)
    for at in outline.centre:
        reach = frame.reach + _EDGE - 2.0
        yield ink.line("bound", (frame.x(at), frame.middle - reach), (frame.x(at), frame.middle + reach))
    for foot in outline.feet:
        if foot.perch:
            skin = outline.radius(foot.begin) * frame.per_metre
            top = frame.middle - skin - 4.0 if plane == "vertical" else frame.middle - 4.0
            width = (foot.end - foot.begin) * frame.per_metre
            yield ink.box("perch", frame.x(foot.begin), top, width, 4.0 if plane == "vertical" else 8.0)
    yield ink.words("mark", (frame.x(0.0), 13.0), "LEFT", "start")
    yield ink.words("mark", (frame.x(frame.length), 13.0), "RIGHT", "end")
    yield ink.words("soft", (frame.x(sum(outline.centre) / 2.0), 13.0), "centre")


def _limits(report: Report, plane: str, frame: AxisFrame) -> Iterator[str]:
    """Dotted lines where the axis would leave its limit; a limit off the picture is told in words."""
    for check in bow_limits(report, plane):
        for edge in (check["wanted"] - check["limit"], check["wanted"] + check["limit"]):
            if not frame.beyond(edge):
                y = frame.y(edge)
                yield ink.line("limit", (frame.x(0.0), y), (frame.x(frame.length), y), data_limit=f"{edge:g}")


def _shape(shape: Report, plane: str, frame: AxisFrame, name: str, latest: bool) -> Iterator[str]:
    """Band, axis, flange faces and single readings of one set."""
    axis, weight = shape[plane], "latest" if latest else "earlier"
    if axis["told"]:
        places = [frame.x(distance) for distance in axis["distances"]]
        low, high, middle = (
            [(x, frame.y(y)) for x, y in zip(places, axis[key], strict=True)]
            for key in ("low", "high", "axis")
        )
        yield ink.path(f"band {weight}", [*high, *reversed(low)], closed=True, data_set=name)
        yield ink.path(f"line {weight}", middle, data_set=name)
    for end in ("left", "right"):
        yield from _face(shape, plane, frame, end, weight)
    if axis["told"]:
        yield from _points(shape, plane, frame, weight)


def _face(shape: Report, plane: str, frame: AxisFrame, end: str, weight: str) -> Iterator[str]:
    """The face of a flange, leaning as much larger than life as offsets are drawn."""
    figure = shape["camber" if plane == "vertical" else "toe"][end]
    if not figure["told"]:
        return
    # Camber leans the upper edge outward; toe-in leans the forward edge inward.
    outward = figure["value"] if plane == "vertical" else -figure["value"]
    lean = math.atan(math.tan(math.radians(outward)) * frame.factor)
    side, x = (-1.0, frame.x(0.0)) if end == "left" else (1.0, frame.x(frame.length))
    half = _FACE * frame.reach
    dx, dy = side * half * math.sin(lean), half * math.cos(lean)
    yield ink.line(f"face {weight}", (x - dx, frame.middle + dy), (x + dx, frame.middle - dy), data_end=end)


def _points(shape: Report, plane: str, frame: AxisFrame, weight: str) -> Iterator[str]:
    """Single readings: round; in a square where one is odd, crossed out where it is left out of the figures; a wedge
    where it lies off the picture."""
    odd = {doubt["line"]: doubt for doubt in shape["doubts"] if doubt["line"]}
    letters = doubt_letters(shape)
    for at, offset, line in shape[plane]["points"]:
        x, y = frame.x(at), frame.y(offset)
        if frame.beyond(offset):
            way = -1.0 if offset > 0.0 else 1.0
            yield ink.wedge(f"point {weight}", (x, y + 6.0 * way), (0.0, way), 9.0, data_line=line)
        else:
            yield ink.ring(f"point {weight}", (x, y), 3.2, data_line=line)
        if line in odd:
            yield ink.box(f"odd {weight}", x - 7.0, y - 7.0, 14.0, 14.0)
            if odd[line]["left_out"]:
                yield ink.line(f"odd {weight}", (x - 7.0, y + 7.0), (x + 7.0, y - 7.0))
            beside, anchor = (x + 11.0, "start") if x < frame.width - 80.0 else (x - 11.0, "end")
            yield ink.words("letter", (beside, y - 4.0), letters[line], anchor)


def doubt_letters(shape: Report) -> dict[int, str]:
    """A letter for each odd reading, by its line, the same in picture and list."""
    lines = [doubt["line"] for doubt in shape["doubts"] if doubt["line"]]
    return {line: _letter(n) for n, line in enumerate(dict.fromkeys(lines))}


def _letter(count: int) -> str:
    """A, B, ... Z, A2, B2, ..."""
    again, letter = divmod(count, 26)
    return "ABCDEFGHIJKLMNOPQRSTUVWXYZ"[letter] + (str(again + 1) if again else "")


def _ends(report: Report, plane: str, frame: AxisFrame, y: float, latest: str) -> Iterator[str]:
    """Camber, or toe, of the latest set under each flange, and which way is up."""
    name = "camber" if plane == "vertical" else "toe"
    left, right = (words.value(report[latest][name][end], "deg", False) for end in ("left", "right"))
    yield ink.words("end", (frame.x(0.0), y), f"{name} {left}", "start")
    yield ink.words("end", (frame.x(frame.length), y), f"{name} {right}", "end")


def _ruler(frame: AxisFrame, y: float, inch: bool, least: float) -> Iterator[str]:
    """The tape from the left flange."""
    step = ink.tape_step(frame.per_metre, inch, least)
    yield ink.line("ruler", (frame.x(0.0), y), (frame.x(frame.length), y))
    for small in ink.multiples(step / (4.0 if inch else 5.0), frame.length):
        yield ink.line("ruler", (frame.x(small), y), (frame.x(small), y + 3.0))
    for distance in ink.multiples(step, frame.length):
        x = frame.x(distance)
        yield ink.line("ruler", (x, y), (x, y + 6.0))
        anchor = "start" if distance == 0.0 and frame.margin < 30.0 else "middle"
        inside = x if x < frame.width - 24.0 else frame.width - 2.0
        yield ink.words(
            "soft",
            (inside, y + 20.0),
            words.length(distance, inch),
            anchor if inside == x else "end",
        )


def _scale_bar(frame: AxisFrame, inch: bool) -> Iterator[str]:
    """A bar as long as a round offset is drawn, beside the right flange."""
    unit = 0.0254 if inch else 0.001
    most = 0.7 * frame.reach / (frame.per_metre * frame.factor) / unit
    power = 10.0 ** math.floor(math.log10(most))
    size = max(step * power for step in (1.0, 2.0, 5.0) if step * power <= most) * unit
    tall = size * frame.per_metre * frame.factor
    x, y = frame.width - (12.0 if frame.margin > 30.0 else 6.0), frame.middle - frame.reach + tall
    yield ink.line("bar", (x, y - tall), (x, y), data_scale=f"{size:g}")
    for end in (y - tall, y):
        yield ink.line("bar", (x - 4.0, end), (x + 4.0, end))
    yield ink.words(
        "soft", (min(x + 14.0, frame.width - 2.0), y - tall - 6.0), words.small(size, inch), "end"
    )


def _said(report: Report, plane: str, inch: bool) -> str:
    """What the picture shows, for those who cannot see it."""
    said = [f"{TITLES[plane]}, left flange at left."]
    for name in ("before", "after"):
        if shape := report[name]:
            bow = shape[plane]["bow"]
            shown = f"{words.value(bow, 'm', inch)}, band {words.band(bow, 'm', inch)}"
            said.append(f"Bow {name} the work: {shown if bow['told'] else words.UNTOLD}.")
    return " ".join(said)
