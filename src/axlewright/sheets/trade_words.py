"""The words beside the points of the trade-off picture."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from matplotlib.axes import Axes

from axlewright.plan.report import TradePoint
from axlewright.sheets import ink, wording
from axlewright.sheets.style import INK, PAPER, SOFT_INK, THIN
from axlewright.sheets.text import width_of, wrapped
from axlewright.sheets.trade_labels import Box, Sheet, Words

_NUMBER, _HEAT, _NAME = 10.5, 8.0, 7.5
_SMALL = 0.85
_GAP = 1.4
_TALL, _LOW = 3.6, 2.9
_WIDEST_NAME = 36.0


@dataclass(frozen=True)
class Label:
    """A plan's number, with its hottest spot beside it and its names below where there is room."""

    number: str
    heat: str
    names: tuple[str, ...]
    strong: bool
    scale: float = 1.0

    @property
    def size(self) -> tuple[float, float]:
        """Width and height [mm]."""
        below = max((self._name_width(line) for line in self.names), default=0.0)
        tall = _TALL * self.scale if self.number or self.heat else 0.0
        return max(self._first_width, below), tall + _LOW * len(self.names)

    @property
    def _first_width(self) -> float:
        """Width of number and heat together [mm]."""
        heat = width_of(self.heat, _HEAT) if self.heat else 0.0
        return self._heat_from + heat if self.heat else self._number_width

    @property
    def _number_width(self) -> float:
        return width_of(self.number, self.scale * _NUMBER, bold=True) if self.number else 0.0

    @property
    def _heat_from(self) -> float:
        """Where the heat begins beside the number [mm]."""
        return self._number_width + (_GAP if self.number else 0.0)

    def _name_width(self, line: str) -> float:
        return width_of(line, _NAME, bold=self.strong)

    def draw(self, axes: Axes, words: Words, gid: str, color: str) -> None:
        """Write it where room was found for it; lines lean towards their point."""
        left, _bottom, right, top = words.box
        style: dict[str, Any] = {"ha": "left", "va": "center_baseline", "color": color, "zorder": 8}
        start = left + words.lean * (right - left - self._first_width)
        y = top - self.scale * _TALL / 2.0
        if self.number:
            size = self.scale * _NUMBER
            ink.label(axes, start, y, self.number, size, fontweight="bold", gid=f"label-{gid}", **style)
        if self.heat:
            ink.label(axes, start + self._heat_from, y, self.heat, _HEAT, gid=f"heat-{gid}", **style)
        first = top - (self.size[1] - _LOW * len(self.names))
        weight = "bold" if self.strong else "normal"
        for k, line in enumerate(self.names):
            x = left + words.lean * (right - left - self._name_width(line))
            at = first - _LOW * (k + 0.5)
            ink.label(axes, x, at, line, _NAME, fontweight=weight, gid=f"name-{gid}", **style)


def write_labels(
    axes: Axes, sheet: Sheet, points: Sequence[TradePoint], names: Mapping[int, str], inch: bool
) -> list[str]:
    """Write beside the points, those with a name first.

    Where not all find room, the heat is left to the colour; then the numbers are made smaller and the lines to them
    may run over other points.

    Args:
        axes: the page in mm.
        sheet: the paper with a spot for each point, in the order of `points`.
        points: the plans.
        names: what plans are called, by number; common practice has number 0.
        inch: whether temperatures are in degF.

    Returns:
        The numbers of those left without a word.
    """
    order = sorted(range(len(points)), key=lambda k: (_rank(points[k].number, names), k))
    offers = (
        _placed(
            sheet.clean(over_points=scale < 1.0),
            order,
            [_labels(p, names, inch, heat, scale) for p in points],
        )
        for heat, scale in ((True, 1.0), (False, 1.0), (False, _SMALL))
    )
    best: dict[int, tuple[Label, Words]] = {}
    for offer in offers:
        best = max(best, offer, key=len)
        if len(best) == len(points):
            break
    for k, (label, words) in best.items():
        color = INK if points[k].within or not points[k].number else SOFT_INK
        label.draw(axes, words, str(points[k].number), color)
        if words.leader is not None:
            _draw_leader(axes, words.leader)
    return [str(point.number) for k, point in enumerate(points) if k not in best]


def _draw_leader(axes: Axes, ends: Box) -> None:
    """A thin line in front of all points, edged in white to be seen on a dark one."""
    x, y = [ends[0], ends[2]], [ends[1], ends[3]]
    axes.plot(x, y, color=PAPER, linewidth=3.0 * THIN, zorder=6.8)
    axes.plot(x, y, color=SOFT_INK, linewidth=0.8 * THIN, zorder=6.9, gid="leader")


def _placed(sheet: Sheet, order: list[int], labels: list[list[Label]]) -> dict[int, tuple[Label, Words]]:
    """Labels with their places, by the place of their point in the list."""
    found = {}
    for k in order:
        words = sheet.place(k, [label.size for label in labels[k]])
        if words is not None:
            found[k] = (labels[k][words.choice], words)
    return found


def _rank(number: int, names: Mapping[int, str]) -> int:
    """The recommended plan, common practice, then the other plans with a name, then the rest."""
    if number not in names:
        return 3
    return 0 if names[number].startswith("recommended") else 1 if number == 0 else 2


def _labels(point: TradePoint, names: Mapping[int, str], inch: bool, heat: bool, scale: float) -> list[Label]:
    """Ways to write a label, the fullest first."""
    number = str(point.number) if point.number else ""
    degrees = wording.temperature(point.hottest_spot_c, inch)
    words = names.get(point.number, "")
    strong = words.startswith(("recommended", "this plan")) or not number
    lines = tuple(wrapped(words, _WIDEST_NAME, _NAME, most=3, bold=strong)) if words else ()
    found = [Label(number, degrees, lines, strong)] if lines else []
    if number and heat:
        found.append(Label(number, degrees, (), strong))
    return [*found, Label(number, "", () if number else lines, strong, scale)]
