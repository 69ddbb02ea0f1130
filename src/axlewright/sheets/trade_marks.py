"""How a plan is drawn on the trade-off picture, and the key that says so."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from matplotlib.axes import Axes
from matplotlib.colors import LinearSegmentedColormap, to_hex
from matplotlib.patches import Circle, Rectangle

from axlewright.plan.report import TradePoint
from axlewright.sheets import ink, wording
from axlewright.sheets.style import INK, NOW, PAPER, SOFT_INK, THICK, THIN

# From sand by way of the accent for heat to dark brown in equal steps of lightness (worked out in OKLab, Ottosson
# 2020), so that equal steps of heat look equal, in grey as well; darker is hotter, as ink on paper is read.
_HEAT_STEPS = (
    "#f8ecd6",
    "#ebcaae",
    "#dda987",
    "#ce8860",
    "#bd6637",
    "#a34a19",
    "#7f3812",
    "#5d260c",
    "#3d1606",
)
_HEAT = LinearSegmentedColormap.from_list("axlewright-heat", _HEAT_STEPS)

LARGEST = 2.9
"""Radius of a point whose tacks are loaded to their strength [mm]."""
_SMALLEST = 1.3
_RING_GAP = 1.1
_DASHED = (0, (2.0, 1.2))


@dataclass(frozen=True)
class HeatScale:
    """Colours from the coolest to the hottest of the hottest spots [degC]."""

    low: float
    high: float

    def colour(self, celsius: float) -> str:
        """Colour of a temperature, as "#rrggbb"."""
        spread = self.high - self.low
        return to_hex(_HEAT((celsius - self.low) / spread if spread > 0.5 else 0.5))


@dataclass(frozen=True)
class Marks:
    """Draws points: colour for the hottest spot, size for the load of the tacks.

    Args:
        axes: the page in mm.
        heat: colours of temperatures.
        shrink: factor on all sizes, below one where many points share the paper.
        prefix: what names in the drawing begin with.
    """

    axes: Axes
    heat: HeatScale
    shrink: float = 1.0
    prefix: str = ""

    def radius(self, point: TradePoint) -> float:
        """Size of a point on paper [mm]: by the square of the load, because most plans load their tacks much alike."""
        return self.shrink * (_SMALLEST + (LARGEST - _SMALLEST) * min(point.tack_utilisation, 1.0) ** 2)

    def taken(self, point: TradePoint, ringed: bool) -> float:
        """Radius that words must stay clear of [mm]."""
        square = 1.3 if point.number == 0 else 1.0
        return square * self.radius(point) + (self.shrink * _RING_GAP + 0.5 if ringed else 0.0)

    def draw(self, point: TradePoint, x: float, y: float, ringed: bool = False, front: float = 4.0) -> None:
        """A point: solid if it keeps every limit, else a broken ring about a small core; crossed if it overloads.

        Common practice is a square; a recommended plan has a ring in the accent of what to do now.
        """
        radius, fill = self.radius(point), self.heat.colour(point.hottest_spot_c)
        solid: dict[str, Any] = {"facecolor": fill, "edgecolor": INK, "linewidth": THIN}
        # Common practice is the mark others are held against, so it is never drawn faintly.
        if not point.within and point.number:
            # The colour stays true in the core: a paler fill would read as a cooler plan.
            ring = {"facecolor": PAPER, "edgecolor": SOFT_INK, "linewidth": THIN, "linestyle": _DASHED}
            self._outline(point, x, y, radius, f"{self.prefix}point-{point.number}", zorder=front, **ring)
            self._outline(point, x, y, 0.55 * radius, None, zorder=front, facecolor=fill, edgecolor="none")
        else:
            self._outline(point, x, y, radius, f"{self.prefix}point-{point.number}", zorder=front, **solid)
        if ringed:
            ring_at = radius + self.shrink * _RING_GAP
            edge = {"facecolor": "none", "edgecolor": NOW, "linewidth": 1.3 * THICK}
            self.axes.add_patch(
                Circle((x, y), ring_at, gid=f"{self.prefix}recommended", zorder=front, **edge)
            )
        if point.tack_utilisation > 1.0:
            self._cross(x, y, radius, front)

    def _outline(
        self, point: TradePoint, x: float, y: float, radius: float, gid: str | None, **style: Any
    ) -> None:
        """A circle, or a square for common practice."""
        side = 1.8 * radius
        if point.number:
            self.axes.add_patch(Circle((x, y), radius, gid=gid, **style))
        else:
            self.axes.add_patch(Rectangle((x - side / 2, y - side / 2), side, side, gid=gid, **style))

    def _cross(self, x: float, y: float, radius: float, front: float) -> None:
        """Crossed, the tacks do not hold: four strokes that leave the colour in the middle to be seen."""
        near, far = 0.45 * radius, 1.05 * radius
        for across, up in ((1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0)):
            ends = ([x + across * near, x + across * far], [y + up * near, y + up * far])
            # A pale line under the dark one, to be seen on dark heat as well.
            self.axes.plot(*ends, color=PAPER, linewidth=2.6 * THICK, zorder=front + 0.1)
            self.axes.plot(
                *ends, color=INK, linewidth=1.2 * THICK, zorder=front + 0.2, gid=f"{self.prefix}cross"
            )


def draw_key(marks: Marks, corner: tuple[float, float], inch: bool, shown: dict[str, bool]) -> None:
    """What colour, size, ring, cross and square mean, from an upper left corner down [mm].

    Args:
        marks: how points are drawn.
        corner: upper left corner [mm].
        inch: whether temperatures are in degF.
        shown: which kinds of point are on the picture: "recommended", "light", "crossed".
    """
    x, top = corner
    _draw_heat_key(marks, x, top, inch)
    y = top - 38.0
    ink.label(marks.axes, x, y, "Size: load of the tacks", 8.5, ha="left", fontweight="bold")
    plain = TradePoint(1, 0.0, _middle(marks.heat), 0.0, 0.5, 0, True)
    rows = [(plain, "half their strength", False), (_loaded(plain, 1.0), "all their strength", False)]
    if shown["crossed"]:
        rows.append((_loaded(plain, 1.2, within=False), "crossed: overloaded", False))
    if shown["light"]:
        rows.append((_loaded(plain, 0.8, within=False), "broken ring: over a limit", False))
    if shown["recommended"]:
        rows.append((_loaded(plain, 0.8), "ring: recommended", True))
    rows.append((TradePoint(0, 0.0, _middle(marks.heat), 0.0, 0.8, 0, True), "common practice", False))
    sample = Marks(marks.axes, marks.heat, prefix="key-")
    for k, (point, words, ringed) in enumerate(rows):
        sample.draw(point, x + 3.5, y - 7.5 - 8.0 * k, ringed)
        ink.label(marks.axes, x + 8.6, y - 7.5 - 8.0 * k, words, 7.5, ha="left")


def _draw_heat_key(marks: Marks, x: float, top: float, inch: bool) -> None:
    """The colours of the hottest spot as a ladder with its temperatures."""
    ink.label(marks.axes, x, top, "Colour: hottest spot", 8.5, ha="left", fontweight="bold")
    spread = marks.heat.high - marks.heat.low
    rungs = 5 if spread > 0.5 else 1
    for k in range(rungs):
        celsius = marks.heat.high - spread * k / max(rungs - 1, 1)
        y = top - 9.5 - 5.6 * k
        ink.box(marks.axes, (x, y), (9.0, 5.6), facecolor=marks.heat.colour(celsius))
        ink.label(marks.axes, x + 11.0, y + 2.8, wording.temperature(celsius, inch), 9.0, ha="left")


def _middle(heat: HeatScale) -> float:
    return (heat.low + heat.high) / 2.0


def _loaded(point: TradePoint, load: float, *, within: bool = True) -> TradePoint:
    return TradePoint(1, 0.0, point.hottest_spot_c, 0.0, load, 0, within)
