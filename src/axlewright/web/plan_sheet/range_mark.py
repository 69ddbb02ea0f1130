"""A figure of two plans on one scale: each a mark on its band, limits as broken lines."""

from __future__ import annotations

from dataclasses import dataclass

from axlewright.web.plan_sheet.scale import Scale

WIDTH = 320.0
_MARGIN = 9.0
_ROOM = 0.06
_FAR = 3.0
"""A limit farther off than so many times the rest of the scale is told in words only."""


@dataclass(frozen=True)
class Reach:
    """A figure with what it stays below in 10, 50 and 90 of a hundred cases, where that was worked out."""

    value: float
    low: float | None = None
    middle: float | None = None
    high: float | None = None

    @property
    def every(self) -> tuple[float, ...]:
        """All that is to be drawn."""
        return tuple(edge for edge in (self.value, self.low, self.middle, self.high) if edge is not None)


@dataclass(frozen=True)
class Line:
    """One plan on the scale: places of its mark and of its band."""

    at: float
    low: float | None
    middle: float | None
    high: float | None


@dataclass(frozen=True)
class RangeMark:
    """The drawing: 320 wide, our plan above common practice.

    Args:
        low: value at the left end of the scale.
        high: value at its right end.
        start: place of the left end.
        end: place of the right end.
        ours: the plan shown.
        common: common practice.
        limits: places of limits, with 1 where what lies right of one is beyond it and -1 where left.
        nought: place of nought inside the scale, if it is there.
    """

    low: float
    high: float
    start: float
    end: float
    ours: Line
    common: Line
    limits: tuple[tuple[float, int], ...]
    nought: float | None


def range_mark(ours: Reach, common: Reach, least: float, limit: float | None, both_ways: bool) -> RangeMark:
    """Both plans on one scale.

    Args:
        ours: the plan shown.
        common: common practice.
        least: what the scale begins at or below: nought, or the air of the shop.
        limit: what bounds the figure, if anything does.
        both_ways: whether it bounds the figure on both sides of nought.
    """
    every = (*ours.every, *common.every, least)
    low, high = min(every), max(every)
    span = max(high - low, 1e-9)
    limits = [] if limit is None else [(limit, 1), (-limit, -1)] if both_ways else [(limit, 1)]
    near = [one for one in limits if low - _FAR * span <= one[0] <= high + _FAR * span]
    low, high = min([low, *(at for at, _ in near)]), max([high, *(at for at, _ in near)])
    room = _ROOM * max(high - low, 1e-9)
    low, high = (low - room if low < least else low), high + room
    scale = Scale(low, high, _MARGIN, WIDTH - _MARGIN)
    nought = round(scale.at(0.0), 1) if low < 0.0 < high else None
    places = tuple((round(scale.at(at), 1), way) for at, way in near)
    return RangeMark(
        low, high, _MARGIN, WIDTH - _MARGIN, _line(ours, scale), _line(common, scale), places, nought
    )


def _line(reach: Reach, scale: Scale) -> Line:
    edges = (
        None if edge is None else round(scale.at(edge), 1) for edge in (reach.low, reach.middle, reach.high)
    )
    return Line(round(scale.at(reach.value), 1), *edges)
