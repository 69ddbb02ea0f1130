"""Where counter-beads, heat lines and presses go: the tubes unrolled, the housing from behind, the press, as SVG."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from axlewright.tasks.measuring_outline import Foot, HousingOutline
from axlewright.web.straight import ink, words

Line = Mapping[str, Any]
_Place = tuple[float, float, float]
"""Where a line begins and ends across the picture, and its height [px]."""

_SIZES = {"wide": (940.0, 72.0, 26.0, 78.0), "narrow": (340.0, 72.0, 12.0, 66.0)}
"""Width, margins left and right of the axle, and how far apart words of the tape stand at least [px]."""
_HOUR, _HEAD, _RULER, _ROUND = 17.0, 22.0, 30.0, 12
_BADGE, _BAR = 8.0, 6.0
_SIDES = {0.0: "12 top", 3.0: "3 front", 6.0: "6 bottom", 9.0: "9 rear"}
_SEAMS = (6.0, 12.0, 3.0, 9.0)
"""Clock positions the skin may be cut open at."""


@dataclass(frozen=True)
class Along:
    """Where distances along the axle lie in a picture [px]: the left flange at `left`, then `per_metre`."""

    size: str
    width: float
    left: float
    right: float
    length: float

    @property
    def per_metre(self) -> float:
        """Pixels for a metre of axle."""
        return (self.right - self.left) / self.length

    def x(self, distance: float) -> float:
        """Place of a distance from the left flange."""
        return self.left + distance * self.per_metre


def along(size: str, length: float) -> Along:
    """How a picture of a size, "wide" or "narrow", lies along an axle [m]."""
    width, left, right, _ = _SIZES[size]
    return Along(size, width, left, width - right, length)


def unrolled(lines: Sequence[Line], outline: HousingOutline, size: str, way: str) -> str:
    """Both tubes unrolled, seen from outside, so that the clock counts upward; lines numbered in their order.

    Args:
        lines: lines of a plan of correction.json.
        outline: the housing, for what lines keep clear of.
        size: "wide" or "narrow".
        way: "counter-beads" or "heat lines".
    """
    at, seam = along(size, outline.length), seam_of(lines)
    foot = _HEAD + _ROUND * _HOUR
    parts = [*_skin(at, outline, seam, foot)]
    for one in lines:
        parts.append(_stroke(one, at, foot - height_of(one["clock"], seam), way, hidden=False))
    parts += _tape(at, foot, outline.inch)
    said = f"Tubes unrolled, seen from outside: {words.counted(len(lines), way.removesuffix('s'))}, "
    said += "numbered in their order; the table below tells each."
    return ink.picture(f"unrolled {size}", at.width, foot + _RULER, said, parts)


def seam_of(lines: Sequence[Line]) -> float:
    """Where the skin is cut open [h]: of top, front, bottom and rear the one farthest from any line."""

    def clear(seam: float) -> float:
        return min((abs((one["clock"] - seam + 6.0) % 12.0 - 6.0) for one in lines), default=6.0)

    return max(_SEAMS, key=clear)


def height_of(clock: float, seam: float) -> float:
    """Height of a clock position over the lower edge of the unrolled skin [px]."""
    return (clock - seam) % 12.0 * _HOUR


def _skin(at: Along, outline: HousingOutline, seam: float, foot: float) -> Iterator[str]:
    """The skin with its hours, and what lines keep clear of."""
    yield ink.words("mark", (at.left, 13.0), "LEFT", "start")
    yield ink.words("mark", (at.right, 13.0), "RIGHT", "end")
    yield ink.words("soft", (at.x(sum(outline.centre) / 2.0), 13.0), "centre")
    yield ink.box("skin", at.left, _HEAD, at.right - at.left, foot - _HEAD)
    for begin, end in _all_round(outline):
        yield ink.box("stands", at.x(begin), _HEAD, (end - begin) * at.per_metre, foot - _HEAD)
    for one in outline.feet:
        yield from _foot(one, at, seam, foot)
    for hour in range(_ROUND + 1):
        clock, y = (seam + hour) % 12.0, foot - hour * _HOUR
        named = clock in _SIDES
        yield ink.line("hour named" if named else "hour", (at.left, y), (at.right, y))
        said = _SIDES.get(clock, f"{clock or 12.0:.0f}")
        yield ink.words("mark" if named else "soft", (at.left - 5.0, y + 4.0), said, "end")


def _all_round(outline: HousingOutline) -> tuple[tuple[float, float], ...]:
    thick = outline.flange[0]
    return (outline.centre, (0.0, thick), (outline.length - thick, outline.length))


def _foot(one: Foot, at: Along, seam: float, foot: float) -> Iterator[str]:
    """The ground something welded on takes, in two pieces where the skin is cut there."""
    low = (one.clock - one.half_hours - seam) % 12.0
    high = low + 2.0 * one.half_hours
    pieces = [(low, high)] if high <= 12.0 else [(low, 12.0), (0.0, high - 12.0)]
    for begin, end in pieces:
        width = (one.end - one.begin) * at.per_metre
        yield ink.box("stands", at.x(one.begin), foot - end * _HOUR, width, (end - begin) * _HOUR)


def _stroke(one: Line, at: Along, y: float, way: str, *, hidden: bool) -> str:
    """A line from its number at the start to an arrow where the torch stops; open in stage 2, dashed where hidden."""
    start, end = at.x(one["start"]), at.x(one["end"])
    forth = 1.0 if end >= start else -1.0
    kind = "heat" if way == "heat lines" else "bead"
    stage = "first" if one["stage"] == 1 else "second"
    left = min(start, end)
    parts = [
        ink.box("bar", left, y - _BAR / 2.0, max(abs(end - start), 1.0), _BAR),
        ink.wedge("arrow", (end + 7.0 * forth, y), (forth, 0.0), 8.0),
        ink.ring("badge", (start, y), _BADGE),
        ink.words("count", (start, y + 4.0), str(one["number"])),
    ]
    said = f"stroke {kind} {stage}{' hidden' if hidden else ''}"
    return ink.group(said, parts, data_number=one["number"])


def _tape(at: Along, y: float, inch: bool) -> Iterator[str]:
    """The tape from the left flange, below the picture."""
    step = ink.tape_step(at.per_metre, inch, _SIZES[at.size][3])
    for small in ink.multiples(step / (4.0 if inch else 5.0), at.length):
        yield ink.line("ruler", (at.x(small), y), (at.x(small), y + 4.0))
    for distance in ink.multiples(step, at.length):
        x = at.x(distance)
        yield ink.line("ruler", (x, y), (x, y + 8.0))
        near_edge = x > at.width - 26.0
        anchor = "end" if near_edge else "middle"
        place = (min(x, at.width - 1.0) if near_edge else x, y + 22.0)
        yield ink.words("soft", place, words.length(distance, inch), anchor)


def from_behind(lines: Sequence[Line], outline: HousingOutline, size: str, way: str) -> str:
    """The housing from behind with the lines on it; those on the far side are dashed."""
    at = along(size, outline.length)
    half = max(*outline.half_heights, outline.flange[1] / 2.0) * at.per_metre
    middle = _HEAD + max(half, 5.0 * _BADGE) + 4.0
    parts = [*_housing(outline, at, middle)]
    lowest, taken = middle + half, list[_Place]()
    for one in sorted(lines, key=lambda one: (_far(one["clock"]), one["number"])):
        radius = outline.radius(one["start"]) * at.per_metre
        true = middle - radius * math.cos(one["clock"] * math.pi / 6.0)
        begin, end = sorted((at.x(one["start"]), at.x(one["end"])))
        y = _beside((begin, end, true), taken, 1.0 if true >= middle else -1.0)
        taken.append((begin, end, y))
        lowest = max(lowest, y + _BADGE)
        if y != true:
            parts.insert(0, ink.line("leader", (at.x(one["start"]), true), (at.x(one["start"]), y)))
        parts.append(_stroke(one, at, y, way, hidden=_far(one["clock"])))
    foot = lowest + 8.0
    parts += _tape(at, foot, outline.inch)
    said = "The housing from behind with the places on it; those on the front are dashed."
    return ink.picture(f"from-behind {size}", at.width, foot + _RULER, said, parts)


def _beside(true: _Place, taken: list[_Place], way: float) -> float:
    """Height of a line: its own, or farther from the axle until it covers no other."""
    begin, end, y = true
    room = 2.0 * _BADGE
    while any(
        begin < other[1] + room and other[0] < end + room and abs(y - other[2]) < room for other in taken
    ):
        y += way * 1.1 * room
    return y


def _far(clock: float) -> bool:
    """Whether a clock position lies on the front, which is hidden from behind."""
    return 0.0 < clock % 12.0 < 6.0


def _housing(outline: HousingOutline, at: Along, middle: float, *, depth: bool = False) -> Iterator[str]:
    """The bare housing to scale."""
    yield ink.words("mark", (at.left, 13.0), "LEFT", "start")
    yield ink.words("mark", (at.right, 13.0), "RIGHT", "end")
    half = outline.half_depths if depth else outline.half_heights
    up = [(at.x(d), middle - h * at.per_metre) for d, h in zip(outline.distances, half, strict=True)]
    yield ink.path("edge", [*up, *((x, 2.0 * middle - y) for x, y in reversed(up))], closed=True)
    thick, across = (one * at.per_metre for one in outline.flange)
    for left in (at.left, at.right - thick):
        yield ink.box("edge", left, middle - across / 2.0, thick, across)


def press_picture(one: Line, outline: HousingOutline, size: str) -> str:
    """One push: the pushed side up, two supports, saddle and ram."""
    at = along(size, outline.length)
    upright = abs((one["clock"] + 3.0) % 6.0 - 3.0) < 1.5
    half = outline.half_heights if upright else outline.half_depths
    tall = max(*half, outline.flange[1] / 2.0) * at.per_metre
    middle = _HEAD + tall + 44.0
    skin = outline.radius(one["push_at"]) * at.per_metre
    parts = [*_housing(outline, at, middle, depth=not upright), *_ram(one, at, middle - skin, outline.inch)]
    for support in one["supports"]:
        x, y = at.x(support), middle + skin
        parts.append(ink.path("support", [(x, y), (x - 7.0, y + 13.0), (x + 7.0, y + 13.0)], closed=True))
        parts.append(ink.words("mark", (x, y + 28.0), words.length(support, outline.inch)))
    foot = middle + max(tall, skin + 34.0) + 8.0
    parts += _tape(at, foot, outline.inch)
    said = f"Press: ram at {words.length(one['push_at'], outline.inch)} on the {one['side']}, turned up."
    return ink.picture(f"press {size}", at.width, foot + _RULER, said, parts)


def _ram(one: Line, at: Along, skin: float, inch: bool) -> Iterator[str]:
    """Saddle on the tube, and the ram's arrow on it."""
    x, width = at.x(one["push_at"]), max(one["saddle"] * at.per_metre, 8.0)
    yield ink.box("saddle", x - width / 2.0, skin - 5.0, width, 5.0)
    yield ink.line("ram", (x, skin - 38.0), (x, skin - 12.0))
    yield ink.wedge("ram", (x, skin - 5.0), (0.0, 1.0), 11.0)
    inside = min(max(x, at.left + 40.0), at.right - 40.0)
    yield ink.words("push", (inside, skin - 44.0), f"ram at {words.length(one['push_at'], inch)}")
