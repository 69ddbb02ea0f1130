"""Paper for a drawing: lines in the weights of ISO 128-2, dimensions as ISO 129-1 draws them, as SVG text.

Coordinates are in units of the picture, x to the right and y down; 360 of them are a phone's width. Colours and line
weights are in dimensions.css, by the classes used here.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from html import escape
from typing import Literal

Point = tuple[float, float]
Line = Literal["edge", "context", "hidden", "axis", "weld", "open", "hatched"]
"""A visible edge of what is measured, of what stands around it, a hidden edge, an axis, a seam, a gap in it, a cut."""

WIDTH = 360.0
_ARROW, _ARROW_HALF, _OVERRUN, _CHARACTER = 7.0, 2.2, 3.0, 6.4


@dataclass
class Paper:
    """A picture under way.

    Args:
        key: name of the picture, unique on the page.
        title: what it shows.
        height: of the picture, WIDTH wide.
    """

    key: str
    title: str
    height: float
    marks: list[str] = field(default_factory=list)
    told: list[str] = field(default_factory=list)

    def line(self, points: Iterable[Point], kind: Line = "edge", closed: bool = False) -> None:
        """A line through points."""
        path = "M" + "L".join(f"{x:.2f} {y:.2f}" for x, y in points) + ("Z" if closed else "")
        self.marks.append(f'<path class="{kind}" d="{path}"/>')

    def box(self, left: float, top: float, width: float, height: float, kind: Line = "edge") -> None:
        """A rectangle."""
        right, bottom = left + width, top + height
        self.line(((left, top), (right, top), (right, bottom), (left, bottom)), kind, closed=True)

    def circle(self, middle: Point, radius: float, kind: Line = "edge") -> None:
        """A circle."""
        x, y = middle
        self.marks.append(f'<circle class="{kind}" cx="{x:.2f}" cy="{y:.2f}" r="{max(radius, 0.0):.2f}"/>')

    def words(self, x: float, y: float, text: str, anchor: str = "middle", upright: bool = False) -> None:
        """Text that belongs to the drawing itself."""
        turned = f' transform="rotate(-90 {x:.2f} {y:.2f})"' if upright else ""
        self.marks.append(
            f'<text class="words" x="{x:.2f}" y="{y:.2f}" text-anchor="{anchor}"{turned}>{escape(text)}</text>'
        )

    def svg(self) -> str:
        """The finished picture, with its text alternative."""
        heading, told = escape(self.title), escape("; ".join(self.told))
        return (
            f'<svg class="drawing" role="img" viewBox="0 0 {WIDTH:g} {self.height:g}" '
            f'aria-labelledby="{self.key}-title {self.key}-told">'
            f'<title id="{self.key}-title">{heading}</title><desc id="{self.key}-told">{told}</desc>'
            f"{''.join(self.marks)}</svg>"
        )


@dataclass(frozen=True)
class Sized:
    """A dimension's field.

    Args:
        name: of the field.
        label: what it is called.
        text: the figure to write.
        assumed: whether nothing can be read there, so that a usual figure is drawn.
        left_out: whether nothing need be typed there, and nothing is.
    """

    name: str
    label: str
    text: str
    assumed: bool = False
    left_out: bool = False


def _group(paper: Paper, sized: Sized, scale: float | None, inner: Sequence[str]) -> None:
    known = (" assumed" if sized.assumed else "") + (" left-out" if sized.left_out else "")
    scaled = "" if scale is None else f' data-scale="{scale:.6g}"'
    marks = "".join(inner)
    name = escape(sized.name, quote=True)
    paper.marks.append(f'<g class="dimension{known}" data-field="{name}"{scaled}>{marks}</g>')
    if not sized.assumed:
        paper.told.append(f"{sized.label} {sized.text}")


def across(paper: Paper, sized: Sized, left: Point, right: Point, at: float, scale: float | None) -> None:
    """A dimension measured from left to right between two points, its line at height `at`.

    Args:
        paper: to draw on.
        sized: the field.
        left: where it begins.
        right: where it ends.
        at: height of the dimension line.
        scale: units of the picture for a metre, None where the drawing is not to scale.
    """
    (begin, end) = (left, right) if left[0] <= right[0] else (right, left)
    x1, x2 = begin[0], end[0]
    inner = [_extension(begin, (x1, _past(begin[1], at))), _extension(end, (x2, _past(end[1], at)))]
    inner += [_measure((left[0], at), (right[0], at))]
    room = x2 - x1 >= len(sized.text) * _CHARACTER + 4.0
    inner += _heads((x1, at), (x2, at), x2 - x1 >= 3.0 * _ARROW)
    if room:
        inner.append(_value((x1 + x2) / 2.0, at - 3.5, sized.text))
    else:
        # ISO 129-1, 5.5: where there is no room between them, the value stands beside the extension lines.
        beyond = x2 + _ARROW + 4.0
        fits = beyond + len(sized.text) * _CHARACTER <= WIDTH
        x, anchor = (beyond, "start") if fits else (x1 - _ARROW - 4.0, "end")
        inner.append(_value(x, at + 4.0, sized.text, anchor))
    _group(paper, sized, scale, inner)


def upright(paper: Paper, sized: Sized, low: Point, high: Point, at: float, scale: float | None) -> None:
    """A dimension measured upward between two points, its line at `at`; arguments as for `across`."""
    bottom, top = max(low[1], high[1]), min(low[1], high[1])
    inner = [_extension(point, (_past(point[0], at), point[1])) for point in (low, high)]
    inner += [_measure((at, low[1]), (at, high[1]))]
    inner += _heads((at, top), (at, bottom), bottom - top >= 3.0 * _ARROW)
    # Read from the right-hand side where there is room along the line, level beside it where there is none.
    if bottom - top >= len(sized.text) * _CHARACTER + 4.0:
        inner.append(_value(at - 3.5, (top + bottom) / 2.0, sized.text, upright=True))
    else:
        beyond = at + 5.0 + len(sized.text) * _CHARACTER > WIDTH
        x, anchor = (at - 5.0, "end") if beyond else (at + 5.0, "start")
        inner.append(_value(x, (top + bottom) / 2.0 + 4.0, sized.text, anchor))
    _group(paper, sized, scale, inner)


def running(paper: Paper, sized: Sized, origin: float, point: Point, at: float, scale: float | None) -> None:
    """A running dimension from a common origin along the axle (ISO 129-1, superimposed running dimensioning)."""
    x = point[0]
    inner = [_extension(point, (x, _past(point[1], at)))]
    inner += [f'<circle class="origin" cx="{origin:.2f}" cy="{at:.2f}" r="2.5"/>']
    inner += [_measure((origin, at), (x, at)), _head((x, at), math.copysign(1.0, x - origin), 0.0)]
    inner.append(_value(x + 4.0, at + 6.0, sized.text, "end", upright=True))
    _group(paper, sized, scale, inner)


def pointed(paper: Paper, sized: Sized, point: Point, elbow: Point) -> None:
    """A leader to a place with the value at its end, for what is no length: an angle, a clock position, a speed."""
    (x, y), (ex, ey) = point, elbow
    anchor = "start" if ex >= x else "end"
    inner = [f'<circle class="origin" cx="{x:.2f}" cy="{y:.2f}" r="2.5"/>']
    inner += [f'<path class="extension" d="M{x:.2f} {y:.2f}L{ex:.2f} {ey:.2f}"/>']
    inner += [_value(ex + (3.0 if anchor == "start" else -3.0), ey + 4.0, sized.text, anchor)]
    _group(paper, sized, None, inner)


def _past(start: float, line: float) -> float:
    return line + math.copysign(_OVERRUN, line - start)


def _extension(start: Point, end: Point) -> str:
    return f'<path class="extension" d="M{start[0]:.2f} {start[1]:.2f}L{end[0]:.2f} {end[1]:.2f}"/>'


def _measure(start: Point, end: Point) -> str:
    (x1, y1), (x2, y2) = start, end
    return f'<line class="measure" x1="{x1:.3f}" y1="{y1:.3f}" x2="{x2:.3f}" y2="{y2:.3f}"/>'


def _heads(start: Point, end: Point, inside: bool) -> list[str]:
    """Arrow heads at both ends, from inside where there is room and from outside where there is none."""
    across, down = (1.0, 0.0) if start[1] == end[1] else (0.0, 1.0)
    sign = 1.0 if inside else -1.0
    heads = [_head(start, -sign * across, -sign * down), _head(end, sign * across, sign * down)]
    if not inside:
        reach = 1.8 * _ARROW
        heads.append(_extension(start, (start[0] - reach * across, start[1] - reach * down)))
        heads.append(_extension(end, (end[0] + reach * across, end[1] + reach * down)))
    return heads


def _head(tip: Point, dx: float, dy: float) -> str:
    """A filled arrow head whose tip points along (dx, dy)."""
    (x, y), back, half = tip, _ARROW, _ARROW_HALF
    one = (x - back * dx - half * dy, y - back * dy + half * dx)
    other = (x - back * dx + half * dy, y - back * dy - half * dx)
    corners = "L".join(f"{a:.2f} {b:.2f}" for a, b in (tip, one, other))
    return f'<path class="arrow" d="M{corners}Z"/>'


def _value(x: float, y: float, text: str, anchor: str = "middle", upright: bool = False) -> str:
    turned = f' transform="rotate(-90 {x:.2f} {y:.2f})"' if upright else ""
    return f'<text class="value" x="{x:.2f}" y="{y:.2f}" text-anchor="{anchor}"{turned}>{escape(text)}</text>'
