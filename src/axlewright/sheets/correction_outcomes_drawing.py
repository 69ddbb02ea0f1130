"""Figures now, half done and all done, each with its band against its limit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from matplotlib.axes import Axes

from axlewright.sheets import ink
from axlewright.sheets import straightness_words as words
from axlewright.sheets.style import BAND, INK, SOFT_INK, THICK, THIN
from axlewright.sheets.text import fitted
from axlewright.straightness.correct.report import Outcome
from axlewright.straightness.report import Figure

_HEAD, _ROW = 9.0, 9.6
_NAME, _BAR, _HALF, _LIMIT = 4.0, 71.0, 24.0, 12.0
_COLUMNS = (111.0, 137.0, 163.0)
_MOMENTS = (("now", "none"), ("half done", "left"), ("all done", "full"))


@dataclass(frozen=True)
class OutcomesPanel:
    """A row for each figure: the limit as a grey box of one width, and up to three moments on its scale.

    Args:
        outcomes: figure by figure.
        inch: whether the shop works in inches.
        moments: 3 for now, half and done; 1 where nothing is done.
    """

    outcomes: Sequence[Outcome]
    inch: bool
    moments: int = 3

    @property
    def height(self) -> float:
        """Height on the page [mm]."""
        return _HEAD + _ROW * len(self.outcomes)

    def draw(self, axes: Axes, top: float) -> None:
        """Draw with its upper edge at `top` [mm]."""
        ink.label(axes, _BAR, top - 3.4, "inside the grey: allowed", 7.0, color=SOFT_INK)
        for (name, fill), x in zip(_MOMENTS[: self.moments], _COLUMNS, strict=False):
            ink.label(axes, x + 1.6, top - 3.4, name, 7.5, fontweight="bold")
            _mark(axes, x - 8.6, top - 3.4, fill)
        for k, outcome in enumerate(self.outcomes):
            self._row(axes, outcome, top - _HEAD - _ROW * (k + 0.5))

    def _row(self, axes: Axes, outcome: Outcome, y: float) -> None:
        """Name and limit, box, whiskers, numbers."""
        ink.line(axes, (_NAME, 178.0), (y + _ROW / 2.0, y + _ROW / 2.0), 0.5 * THIN, SOFT_INK)
        ink.label(axes, _NAME, y + 1.7, fitted(outcome.name, 38.0, 8.5), 8.5, ha="left", fontweight="bold")
        allowed = words.allowed(outcome.wanted, outcome.limit, outcome.unit, self.inch)
        ink.label(axes, _NAME, y - 2.1, f"may be {allowed}", 7.0, ha="left", color=SOFT_INK)
        box = {"facecolor": BAND, "edgecolor": SOFT_INK, "linewidth": 0.6 * THIN}
        ink.box(axes, (_BAR - _LIMIT, y - 4.0), (2.0 * _LIMIT, 8.0), **box)
        ink.line(axes, (_BAR, _BAR), (y - 4.0, y + 4.0), 0.6 * THIN, SOFT_INK)
        figures = (outcome.now, outcome.half, outcome.done)[: self.moments]
        heights = (2.5, 0.0, -2.5) if self.moments == 3 else (0.0,)
        for (moment, fill), figure, x, up in zip(_MOMENTS, figures, _COLUMNS, heights, strict=False):
            said = words.value(figure, outcome.unit, self.inch)
            weight = "bold" if moment == "all done" else "normal"
            gid = f"{outcome.name}-{moment}"
            ink.label(
                axes, x, y + 1.7, said if figure.told else "cannot be told", 7.5, fontweight=weight, gid=gid
            )
            if figure.told:
                ink.label(axes, x, y - 2.1, words.band(figure, outcome.unit, self.inch), 6.2, color=SOFT_INK)
                self._whisker(axes, outcome, figure, (y + up, fill))

    def _whisker(self, axes: Axes, outcome: Outcome, figure: Figure, place: tuple[float, str]) -> None:
        """Band and middle of one moment; what lies beyond the scale ends in a wedge at its edge."""
        y, fill = place

        def x_of(value: float) -> float:
            share = (value - outcome.wanted) / max(outcome.limit, 1e-12)
            return _BAR + min(max(share * _LIMIT, -_HALF), _HALF)

        low, middle, high = x_of(figure.low), x_of(figure.value), x_of(figure.high)
        ink.line(axes, (low, high), (y, y), 0.8 * THICK)
        for end in (low, high):
            ink.line(axes, (end, end), (y - 0.7, y + 0.7), THIN)
        beyond = abs(middle - _BAR) >= _HALF - 1e-9
        if beyond:
            axes.plot([middle], [y], marker="<" if middle < _BAR else ">", ms=5.0, color=INK, zorder=6)
        else:
            _mark(axes, middle, y, fill)


def _mark(axes: Axes, x: float, y: float, fill: str) -> None:
    """Open for now, half filled for half done, solid for all done."""
    face = "white" if fill == "none" else INK
    style: dict[str, Any] = {"mfc": face, "mfcalt": "white", "mec": INK, "mew": 0.8, "zorder": 6}
    style["fillstyle"] = "full" if fill == "none" else fill
    axes.plot([x], [y], marker="o", ms=4.4, color=INK, ls="none", **style)
