"""Lines, marks and words of a picture as SVG text; colours and line weights are classes of the style sheet."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from html import escape

Point = tuple[float, float]

_TAPE_M = {False: (0.05, 0.1, 0.2, 0.5), True: (0.0508, 0.1016, 0.1524, 0.3048, 0.6096)}
"""Steps a tape can be read at without counting, in millimetres or (`inch` true) inches [m]."""


def number(value: float) -> str:
    """A coordinate to a hundredth of a pixel."""
    return f"{value:.2f}".rstrip("0").rstrip(".") if abs(value) >= 0.005 else "0"


def attributes(kind: str, **more: object) -> str:
    """Attributes of an element; underscores of names stand for hyphens."""
    named = ({"class": kind} if kind else {}) | {key.rstrip("_"): value for key, value in more.items()}
    return "".join(f' {key.replace("_", "-")}="{escape(str(value))}"' for key, value in named.items())


def line(kind: str, start: Point, end: Point, **more: object) -> str:
    """A straight line."""
    (x1, y1), (x2, y2) = start, end
    place = f'x1="{number(x1)}" y1="{number(y1)}" x2="{number(x2)}" y2="{number(y2)}"'
    return f"<line {place}{attributes(kind, **more)}/>"


def path(kind: str, points: Iterable[Point], closed: bool = False, **more: object) -> str:
    """A line through points."""
    along = "L".join(f"{number(x)} {number(y)}" for x, y in points)
    return f'<path d="M{along}{"Z" if closed else ""}"{attributes(kind, **more)}/>'


def box(kind: str, left: float, top: float, width: float, height: float, **more: object) -> str:
    """A rectangle."""
    place = f'x="{number(left)}" y="{number(top)}" width="{number(width)}" height="{number(height)}"'
    return f"<rect {place}{attributes(kind, **more)}/>"


def ring(kind: str, middle: Point, radius: float, **more: object) -> str:
    """A circle."""
    place = f'cx="{number(middle[0])}" cy="{number(middle[1])}" r="{number(radius)}"'
    return f"<circle {place}{attributes(kind, **more)}/>"


def words(kind: str, at: Point, said: str, anchor: str = "middle", **more: object) -> str:
    """Words whose baseline begins, has its middle or ends at a point."""
    place = f'x="{number(at[0])}" y="{number(at[1])}" text-anchor="{anchor}"'
    return f"<text {place}{attributes(kind, **more)}>{escape(said)}</text>"


def wedge(kind: str, at: Point, way: Point, size: float, **more: object) -> str:
    """A filled triangle whose tip is at a point and looks along a direction."""
    length = math.hypot(*way) or 1.0
    ux, uy = way[0] / length, way[1] / length
    x, y = at
    back = (x - size * ux, y - size * uy)
    half = 0.5 * size
    corners = [at, (back[0] - half * uy, back[1] + half * ux), (back[0] + half * uy, back[1] - half * ux)]
    return path(kind, corners, closed=True, **more)


def group(kind: str, parts: Iterable[str], **more: object) -> str:
    """Parts together."""
    return f"<g{attributes(kind, **more)}>{''.join(parts)}</g>"


def picture(kind: str, width: float, height: float, said: str, parts: Sequence[str]) -> str:
    """A whole picture; `said` is read out instead of it."""
    size = f'viewBox="0 0 {number(width)} {number(height)}" width="{number(width)}" height="{number(height)}"'
    return f'<svg {size} role="img"{attributes(kind, aria_label=said)}>{"".join(parts)}</svg>'


def tape_step(per_metre: float, inch: bool, least: float) -> float:
    """The smallest step of a tape whose labels stand at least so far apart [m]."""
    steps = _TAPE_M[inch]
    return next((step for step in steps if step * per_metre >= least), steps[-1])


def multiples(step: float, most: float) -> list[float]:
    """Multiples of a step from nought up to a length."""
    return [n * step for n in range(math.floor(most / step + 1e-6) + 1)]
