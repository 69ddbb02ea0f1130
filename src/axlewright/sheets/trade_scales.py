"""Scales of the trade-off picture: where a value lies on paper, and the graduations that name it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from matplotlib.ticker import MaxNLocator

from axlewright import units
from axlewright.sheets import wording

_MINUTES = (1, 2, 3, 5, 8, 10, 15, 20, 30, 45, 60, 90, 120, 180, 240, 360, 480, 720, 1440, 2880, 5760, 11520)
_EVEN_SECONDS = (5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14400, 28800, 86400, 172800)
_MOST_EVEN = 2.2
"""Largest over smallest value beyond which an even scale would press the quicker plans together."""
_ROOM = 0.07
_LEAST_SPREAD = 0.04
_FROM_NOUGHT = 0.25
_TICK_GAP = 17.0


@dataclass(frozen=True)
class Scale:
    """Values from `low` to `high` laid from `start` to `end` on paper [mm], in even steps or in even ratios."""

    low: float
    high: float
    start: float
    end: float
    ratios: bool = False

    def at(self, value: float) -> float:
        """Place of a value on paper [mm]."""
        return self.start + self._share(value) * (self.end - self.start)

    def _share(self, value: float) -> float:
        if self.ratios:
            return math.log(value / self.low) / math.log(self.high / self.low)
        return (value - self.low) / (self.high - self.low)


def time_scale(seconds: list[float], start: float, end: float) -> Scale:
    """Bench times [s]: in even ratios where the longest is more than twice the shortest."""
    low, high = _spread(min(seconds), max(seconds))
    if low > 0.0 and high / low > _MOST_EVEN:
        room = (high / low) ** _ROOM
        return Scale(low / room, high * room, start, end, ratios=True)
    room = _ROOM * (high - low)
    return Scale(max(low - room, 0.0), high + room, start, end)


def distortion_scale(metres: list[float], start: float, end: float) -> Scale:
    """Distortions [m]: from nought where that wastes little of the paper."""
    low, high = _spread(min(metres), max(metres))
    if low < _FROM_NOUGHT * high:
        low = 0.0
    room = _ROOM * (high - low)
    return Scale(max(low - 1.6 * room, 0.0), high + 1.6 * room, start, end)


def _spread(low: float, high: float) -> tuple[float, float]:
    """The two ends, held apart where all values are nearly one."""
    least = _LEAST_SPREAD * max(abs(high), 1e-9)
    middle = (low + high) / 2.0
    return (low, high) if high - low >= least else (middle - least / 2.0, middle + least / 2.0)


def time_ticks(scale: Scale) -> list[tuple[float, str]]:
    """Bench times to write under the picture, in words, none nearer to the next than can be read."""
    if scale.ratios:
        wanted = [60.0 * minutes for minutes in _MINUTES]
    else:
        most = max(int((scale.end - scale.start) / _TICK_GAP), 1)
        step = next(
            (float(s) for s in _EVEN_SECONDS if (scale.high - scale.low) / s <= most),
            math.ceil((scale.high - scale.low) / most / 86400.0) * 86400.0,
        )
        wanted = [k * step for k in range(math.ceil(scale.low / step), math.floor(scale.high / step) + 1)]
    kept: list[float] = []
    for value in wanted:
        inside = scale.low <= value <= scale.high
        if inside and (not kept or scale.at(value) - scale.at(kept[-1]) >= _TICK_GAP):
            kept.append(value)
    return [(value, _time_words(value)) for value in kept]


def _time_words(seconds: float) -> str:
    """A bench time on the scale: to the second where minutes would not do."""
    if seconds % 60.0:
        return wording.wait(seconds)
    return wording.typeset(units.format_duration(seconds))


def distortion_ticks(scale: Scale, inch: bool) -> list[tuple[float, str]]:
    """Distortions to write beside the picture."""
    metres, unit, fewest = (0.0254, "in", 3) if inch else (0.001, "mm", 2)
    values = MaxNLocator(6, steps=[1, 2, 5, 10]).tick_values(scale.low / metres, scale.high / metres)
    step = float(values[1] - values[0])
    digits = max(fewest, -math.floor(math.log10(step) + 1e-9))
    inside = [float(v) for v in values if scale.low <= v * metres <= scale.high + 1e-12]
    return [(value * metres, f"{value:.{digits}f} {unit}") for value in inside]
