"""The trade-off picture: what bench time, heat, distortion and tack load can be had for one another."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from axlewright.plan.report import PlanReport, TradeOff, TradePoint
from axlewright.sheets import ink, wording
from axlewright.sheets.style import BAND, SOFT_INK, THICK, THIN, drawing_style
from axlewright.sheets.text import fitted, width_of, wrapped
from axlewright.sheets.trade_labels import Sheet, Spot
from axlewright.sheets.trade_marks import LARGEST, HeatScale, Marks, draw_key
from axlewright.sheets.trade_points import HEADINGS, HOW_TO_CHOOSE, how_many, named_points, reason, trade_rows
from axlewright.sheets.trade_scales import Scale, distortion_scale, distortion_ticks, time_scale, time_ticks
from axlewright.sheets.trade_words import write_labels

WIDTH = 182.0
_LEFT, _RIGHT = 20.0, 136.0
_PLOT_HEIGHT = 96.0
_BELOW_PLOT = 14.0
_KEY_LEFT = 139.5
_ROW = 6.6
_LINE = 4.6
_MANY = 20
_MOST_ROWS = 8
_CROWDED = 0.75
_COLUMNS = (2.0, 12.0, 74.0, 98.0, 122.0, 145.0, 165.0)
_NAMES = 1
_WHY_TEXT = 9.0


def draw_trade_off(report: PlanReport) -> Figure:
    """The plans of a trade-off on one picture: bench time across, distortion up, heat by colour, tack load by size.

    Every plan is drawn; each carries its number and its hottest spot where there is room for them without
    covering another.

    Args:
        report: the finished plan.

    Raises:
        ValueError: the report has no trade-off.
    """
    if report.trade_off is None:
        raise ValueError("this plan was made without a trade-off, so there is none to draw")
    with drawing_style():
        page = _Page(report.trade_off, report.inch)
        return page.draw()


@dataclass(frozen=True)
class _Page:
    """The picture of one trade-off, laid out from the top: reason, plot with its key, table of named plans."""

    trade: TradeOff
    inch: bool

    @cached_property
    def why(self) -> list[str]:
        """The reason, broken into lines."""
        bold = self.trade.recommended is None
        return wrapped(reason(self.trade), WIDTH - 12.0, _WHY_TEXT, most=5, bold=bold)

    @cached_property
    def rows(self) -> list[list[str]]:
        """The table of named plans, as many as a page holds; common practice is its last row."""
        rows = trade_rows(self.trade, self.inch)
        return [*rows[:-1][:_MOST_ROWS], rows[-1]]

    @property
    def height(self) -> float:
        """Height of the page [mm]."""
        return self._table_top + _PLOT_HEIGHT + _BELOW_PLOT + 9.0 + _LINE * len(self.why) + 6.0

    @property
    def _table_top(self) -> float:
        """Where the table begins, from the bottom [mm]."""
        return 8.0 + _ROW * (len(self.rows) + 1)

    @property
    def everyone(self) -> tuple[TradePoint, ...]:
        """All points, common practice last."""
        return (*self.trade.points, self.trade.common)

    def draw(self) -> Figure:
        """The whole page."""
        figure, axes = ink.blank_page(WIDTH, self.height)
        self._draw_head(axes)
        bottom = self._table_top + _BELOW_PLOT
        across = time_scale([point.bench_s for point in self.everyone], _LEFT, _RIGHT)
        up = distortion_scale([point.distortion for point in self.everyone], bottom, bottom + _PLOT_HEIGHT)
        _draw_frame(axes, across, up, self.inch)
        self._draw_points(axes, across, up)
        self._draw_table(axes)
        return figure

    def _draw_head(self, axes: Axes) -> None:
        """How many plans, and which is recommended and why; bold where none can be."""
        top = self.height - 5.0
        ink.label(axes, 2.0, top, how_many(self.trade), 8.0, ha="left", color=SOFT_INK)
        weight = "bold" if self.trade.recommended is None else "normal"
        for k, line in enumerate(self.why):
            at = top - 5.6 - _LINE * k
            ink.label(axes, 2.0, at, line, _WHY_TEXT, ha="left", fontweight=weight, gid=f"why-{k}")

    def _draw_points(self, axes: Axes, across: Scale, up: Scale) -> None:
        """Every point, the named ones in front, then the words beside them."""
        spots = [point.hottest_spot_c for point in self.everyone]
        shrink = _CROWDED if len(spots) > _MANY else 1.0
        marks = Marks(axes, HeatScale(min(spots), max(spots)), shrink)
        places = [(across.at(point.bench_s), up.at(point.distortion)) for point in self.everyone]
        for point, (x, y) in zip(self.everyone, places, strict=True):
            # Small points in front of large ones, so that none is hidden.
            front = 5.0 - marks.radius(point) / (2.0 * LARGEST) + 1.0 * self._ringed(point)
            marks.draw(point, x, y, self._ringed(point), front)
        self._draw_words(axes, marks, places, (across.start + 1.0, up.start + 1.0, across.end, up.end))
        shown = {
            "recommended": self.trade.recommended is not None,
            "light": any(not point.within for point in self.everyone),
            "crossed": any(point.tack_utilisation > 1.0 for point in self.everyone),
        }
        draw_key(marks, (_KEY_LEFT, up.end - 2.0), self.inch, shown)

    def _ringed(self, point: TradePoint) -> bool:
        return point.number == self.trade.recommended

    def _draw_words(
        self,
        axes: Axes,
        marks: Marks,
        places: list[tuple[float, float]],
        frame: tuple[float, float, float, float],
    ) -> None:
        """Number, hottest spot and names beside every point that has room for them; which have none."""
        spots = [
            Spot(x, y, marks.taken(point, self._ringed(point)))
            for point, (x, y) in zip(self.everyone, places, strict=True)
        ]
        names = {named.point.number: named.words for named in named_points(self.trade)}
        without = write_labels(axes, Sheet(frame, spots), self.everyone, names, self.inch)
        if without:
            words = f"no room for {', '.join(without)}: see plan.json"
            said = fitted(words, frame[2] - frame[0], 7.0)
            ink.label(axes, frame[2], frame[1] - 14.0, said, 7.0, ha="right", color=SOFT_INK)

    def _draw_table(self, axes: Axes) -> None:
        """The named plans with their figures."""
        top = self._table_top
        ink.line(axes, (2.0, WIDTH - 2.0), (top - 6.0, top - 6.0), THICK)
        for x, heading in zip(_COLUMNS, HEADINGS, strict=True):
            ink.label(axes, x, top - 3.0, heading, 7.5, ha="left", fontweight="bold")
        for k, row in enumerate(self.rows):
            y = top - 6.0 - _ROW * (k + 0.5)
            weight = "bold" if row[0] == str(self.trade.recommended) else "normal"
            for column, (x, cell) in enumerate(zip(_COLUMNS, row, strict=True)):
                if column == _NAMES:
                    _draw_names(axes, x, y, cell, weight)
                else:
                    ink.label(axes, x, y, cell, 10.0, ha="left", fontweight=weight)
            ink.line(axes, (2.0, WIDTH - 2.0), (y - _ROW / 2, y - _ROW / 2), 0.5 * THIN, SOFT_INK)
        ink.label(axes, 2.0, 3.5, HOW_TO_CHOOSE, 8.0, ha="left", color=SOFT_INK)


def _draw_names(axes: Axes, x: float, y: float, names: str, weight: str) -> None:
    """What a plan is called, on two lines where one is too short."""
    room = _COLUMNS[_NAMES + 1] - x - 2.0
    if width_of(names, 8.5, bold=weight == "bold") <= room:
        ink.label(axes, x, y, names, 8.5, ha="left", fontweight=weight)
        return
    lines = wrapped(names, room, 7.0, most=2, bold=weight == "bold")
    for k, line in enumerate(lines):
        ink.label(axes, x, y + 1.4 * (len(lines) - 1) - 2.8 * k, line, 7.0, ha="left", fontweight=weight)


def _draw_frame(axes: Axes, across: Scale, up: Scale, inch: bool) -> None:
    """Graduations with their units, thin lines across, and which way is better."""
    ink.box(axes, (across.start, up.start), (across.end - across.start, up.end - up.start), zorder=0)
    for value, words in time_ticks(across):
        x = across.at(value)
        axes.plot([x, x], [up.start, up.end], color=BAND, linewidth=0.7 * THIN, zorder=1)
        ink.line(axes, (x, x), (up.start, up.start - 1.2))
        ink.label(axes, x, up.start - 3.4, words, 9.0)
    for value, words in distortion_ticks(up, inch):
        y = up.at(value)
        axes.plot([across.start, across.end], [y, y], color=BAND, linewidth=0.7 * THIN, zorder=1)
        ink.line(axes, (across.start - 1.2, across.start), (y, y))
        ink.label(axes, across.start - 1.8, y, words, 9.0, ha="right")
    ink.line(axes, (across.start, across.start, across.end), (up.end, up.start, up.start), THICK)
    ink.label(axes, across.start, up.start - 8.4, "◀ less", 8.5, ha="left")
    ink.label(axes, (across.start + across.end) / 2.0, up.start - 8.4, "bench time", 10.0, fontweight="bold")
    ink.label(axes, across.start, up.end + 3.2, f"{wording.DISTORTION}, less is lower", 9.0, ha="left")
