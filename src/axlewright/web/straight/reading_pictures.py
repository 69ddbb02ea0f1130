"""How each reading is taken, drawn in ink: the housing with its stations, and which way each angle is plus."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping

from axlewright.tasks.measuring_outline import HousingOutline
from axlewright.web.straight import ink
from axlewright.web.straight.ink import Point

_WIDTH, _MARGIN, _HEAD = 340.0, 14.0, 14.0
_LEAN = math.radians(15.0)
_LIFT = 12.0


def picture_of(group: str, outline: HousingOutline, places: Mapping[str, float]) -> str:
    """The drawing beside a group of lines; "" where there is none.

    Args:
        group: its name.
        outline: the housing.
        places: stations that the group reads [m], by the mark of their line.
    """
    if group in _ALONG:
        return _along(group, outline, places)
    drawn = _SKETCHES.get(group)
    return "" if drawn is None else drawn()


_ALONG = {
    "string-front": ("From above: string along the front, gap to the skin at each mark.", True, -1.0),
    "string-bottom": ("From behind: string along the bottom, gap to the skin at each mark.", False, 1.0),
    "runout": ("From behind: housing turned between centres, dial at each mark.", False, -1.0),
    "gap": ("From behind: straightedge along one tube, feelers under it.", False, -1.0),
    "height": ("From behind: height over a flat surface.", False, 1.0),
}
"""What is said, whether it is seen from above, and on which side of the tube it is read: -1 is up on the page."""


def _along(group: str, outline: HousingOutline, places: Mapping[str, float]) -> str:
    """The housing to scale with a string, straightedge, surface or dial beside it, and a mark at each station."""
    said, above, way = _ALONG[group]
    per_metre = (_WIDTH - 2.0 * _MARGIN) / outline.length
    half = outline.half_depths if above else outline.half_heights
    tall = max(*half, outline.flange[1] / 2.0) * per_metre
    middle = _HEAD + tall + (_LIFT + 8.0 if way < 0 else 0.0)
    height = middle + tall + (_LIFT + 8.0 if way > 0 else 0.0) + 6.0
    parts = [*_housing(outline, half, per_metre, middle)]
    level = middle + way * (tall + _LIFT if group != "gap" else outline.radius(0.0) * per_metre + 7.0)
    parts += _tool(group, outline, per_metre, middle, level)
    for token, at in places.items():
        x, skin = _MARGIN + at * per_metre, middle + way * outline.radius(at) * per_metre
        parts.append(_mark(group, x, skin, level, token))
    return ink.picture("how along", _WIDTH, height, said, parts)


def _housing(
    outline: HousingOutline, half: tuple[float, ...], per_metre: float, middle: float
) -> Iterator[str]:
    def x(distance: float) -> float:
        return _MARGIN + distance * per_metre

    up = [(x(d), middle - h * per_metre) for d, h in zip(outline.distances, half, strict=True)]
    yield ink.path("edge", [*up, *((a, 2.0 * middle - b) for a, b in reversed(up))], closed=True)
    thick, across = outline.flange[0] * per_metre, outline.flange[1] * per_metre
    for left in (x(0.0), x(outline.length) - thick):
        yield ink.box("edge", left, middle - across / 2.0, thick, across)
    yield ink.words("soft", (x(0.0), 10.0), "LEFT", "start")
    yield ink.words("soft", (x(outline.length), 10.0), "RIGHT", "end")


def _tool(
    group: str, outline: HousingOutline, per_metre: float, middle: float, level: float
) -> Iterator[str]:
    """String on its blocks, straightedge, surface, or centres."""
    left, right = _MARGIN, _MARGIN + outline.length * per_metre
    across = outline.flange[1] / 2.0 * per_metre
    if group == "runout":
        for x, way in ((left, -1.0), (right, 1.0)):
            yield ink.wedge("tool", (x - 5.0 * way, middle), (-way, 0.0), 16.0)
        return
    if group == "gap":
        begin, end = (outline.flange[0], outline.centre[0])
        yield ink.box("tool", left + begin * per_metre, level - 5.0, (end - begin) * per_metre, 5.0)
        return
    if group == "height":
        yield ink.line("tool thick", (left - 8.0, level), (right + 8.0, level))
        for n in range(16):
            x = left + n * (right - left) / 15.0
            yield ink.line("soft-line", (x, level), (x - 5.0, level + 6.0))
        return
    side = 1.0 if level > middle else -1.0
    for x in (left + 3.0, right - 3.0):
        edge = middle + side * across
        yield ink.box("tool", x - 4.0, min(edge, level), 8.0, abs(level - edge))
    yield ink.line("string", (left, level), (right, level))


def _mark(group: str, x: float, skin: float, level: float, token: str) -> str:
    """Where one reading is taken; it stands out while its line is typed."""
    if group == "runout":
        parts = [
            ink.line("reach", (x, skin), (x, skin - 13.0)),
            ink.ring("dial", (x, skin - 19.0), 6.0),
        ]
    elif group == "gap":
        parts = [ink.wedge("reach", (x, skin), (0.0, 1.0), 6.0)]
    else:
        parts = [ink.line("reach", (x, skin), (x, level)), ink.ring("dot", (x, skin), 2.4)]
    return ink.group("station", parts, data_row=token)


def _pair(title: str, *, outward_above: bool, marks: tuple[str, str]) -> str:
    """Both flanges leaning the way that is plus, from where they would be square."""
    middle, reach, tall = (160.0, 62.0), 96.0, 34.0
    x, y = middle
    parts = [ink.box("edge", x - reach, y - 9.0, 2.0 * reach, 18.0)]
    for side, name in ((-1.0, "LEFT"), (1.0, "RIGHT")):
        foot = x + side * reach
        lean = side * (1.0 if outward_above else -1.0) * _LEAN
        dx, dy = tall * math.sin(lean), tall * math.cos(lean)
        parts.append(ink.line("square", (foot, y - tall), (foot, y + tall)))
        parts.append(ink.line("face", (foot - dx, y + dy), (foot + dx, y - dy)))
        parts += _arrow((foot, y - dy - 5.0), (foot + 1.9 * dx, y - dy - 5.0))
        parts.append(ink.words("soft", (foot, y + tall + 16.0), name))
    parts.append(ink.words("soft", (x, y - 22.0), marks[0]))
    parts.append(ink.words("plus", (x, y + 32.0), marks[1]))
    return ink.picture("how", 320.0, 118.0, title, parts)


def _arrow(start: Point, end: Point) -> list[str]:
    way = (end[0] - start[0], end[1] - start[1])
    return [ink.line("way", start, end), ink.wedge("way", end, way, 8.0)]


def _camber() -> str:
    return _pair(
        "From behind: camber is plus with the top of the flange outward.",
        outward_above=True,
        marks=("from behind", "+ top outward"),
    )


def _toe() -> str:
    return _pair(
        "From above: toe is plus with the front edge of the flange inward.",
        outward_above=False,
        marks=("front", "+ front edge inward"),
    )


def _caster() -> str:
    """The flange from the driver's right end, front at right, its upright leaning rearward."""
    x, y, tall = 160.0, 60.0, 46.0
    dx, dy = tall * math.sin(_LEAN), tall * math.cos(_LEAN)
    parts = [
        ink.ring("edge", (x, y), 34.0),
        ink.ring("edge", (x, y), 15.0),
        ink.line("square", (x, y - tall - 4.0), (x, y + tall + 4.0)),
        ink.line("face", (x + dx, y + dy), (x - dx, y - dy)),
        *_arrow((x, y - dy - 5.0), (x - 1.9 * dx, y - dy - 5.0)),
        ink.words("soft", (x + 64.0, y + 4.0), "front"),
        ink.words("soft", (x - 64.0, y + 4.0), "rear"),
        ink.words("plus", (318.0, y + 50.0), "+ top rearward", "end"),
    ]
    return ink.picture(
        "how", 320.0, 118.0, "From the right end: caster is plus with the top rearward.", parts
    )


def _tape() -> str:
    """Bars on both flanges from above, the tape in front and behind."""
    left, right, y, half = 70.0, 250.0, 60.0, 34.0
    parts = [ink.box("edge", left, y - 8.0, right - left, 16.0)]
    parts += [ink.box("tool", x - 4.0, y - half, 8.0, 2.0 * half) for x in (left, right)]
    for at, said in ((y - half + 4.0, "in front"), (y + half - 4.0, "behind")):
        parts += [
            *_arrow((left + 60.0, at), (left + 6.0, at)),
            *_arrow((right - 60.0, at), (right - 6.0, at)),
        ]
        parts.append(ink.words("soft", ((left + right) / 2.0, at + 4.0), said))
    parts += [*_arrow((32.0, y), (32.0, y - half)), *_arrow((32.0, y), (32.0, y + half))]
    parts.append(ink.words("soft", (32.0, y + half + 16.0), "diameter"))
    said = "From above: tape in front of the axle and behind it, between the same marks of two equal bars."
    return ink.picture("how", 320.0, 118.0, said, parts)


def _marks() -> str:
    """The tube from the right end with its clock, a dial over mark 12."""
    x, y, radius = 160.0, 66.0, 32.0
    parts = [ink.ring("edge", (x, y), radius), ink.ring("soft-line", (x, y), 0.72 * radius)]
    for said, dx, dy in (("12", 0.0, -18.0), ("3", 22.0, 4.0), ("6", 0.0, 22.0), ("9", -22.0, 4.0)):
        parts.append(ink.words("soft", (x + 0.72 * dx, y + 0.72 * dy + 1.0), said))
    parts += [
        ink.line("reach", (x, y - radius), (x, y - radius - 12.0)),
        ink.ring("dial", (x, y - radius - 20.0), 8.0),
        ink.words("soft", (x + 72.0, y + 4.0), "front"),
        ink.words("soft", (x - 72.0, y + 4.0), "rear"),
    ]
    return ink.picture(
        "how", 320.0, 112.0, "From the right end: marks 12, 3, 6, 9 under the dial in turn.", parts
    )


def _laser() -> str:
    """A laser square on the left flange, its dot on a target beyond the right one."""
    left, right, y = 60.0, 230.0, 60.0
    parts = [
        ink.box("edge", left, y - 8.0, right - left, 16.0),
        *(ink.box("edge", x - 4.0, y - 22.0, 8.0, 44.0) for x in (left, right)),
        ink.box("tool", left - 18.0, y - 5.0, 12.0, 10.0),
        ink.line("string", (left - 6.0, y), (292.0, y - 14.0)),
        ink.box("tool", 292.0, y - 34.0, 4.0, 68.0),
        ink.ring("dot", (292.0, y - 14.0), 3.6),
        ink.line("square", (280.0, y), (310.0, y)),
        ink.words("soft", (292.0, y + 50.0), "target"),
        ink.words("soft", (left - 12.0, y + 26.0), "laser"),
    ]
    return ink.picture(
        "how", 320.0, 118.0, "Laser square on one flange, target on the axle line beyond the other.", parts
    )


_SKETCHES: dict[str, Callable[[], str]] = {
    "angle-camber": _camber,
    "angle-toe": _toe,
    "angle-caster": _caster,
    "toe": _tape,
    "four-point": _marks,
    "dot": _laser,
}
