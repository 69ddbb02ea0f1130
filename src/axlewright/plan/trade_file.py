"""The trade-off as plan.json has it."""

from __future__ import annotations

from pydantic import Field

from axlewright.plan.record import Record
from axlewright.plan.report import TradeOff, TradePoint


class TradePointEntry(Record):
    """One plan among those that no other beats in every respect."""

    number: int = Field(description="what it is chosen by, from 1; 0 for common practice")
    bench_min: float
    hottest_spot_c: float
    distortion_mm: float = Field(description="bow, camber and toe as one measure")
    tack_utilisation: float = Field(description="greatest load over design strength of any tack, EN 1993-1-8")
    turns: int
    within: bool = Field(description="whether it keeps every limit and overloads no tack")
    merit: str = Field(description="what it is best at, in words, or empty")


class TradeOffEntry(Record):
    """What bench time, heat, distortion and tack load can be had for one another."""

    points: list[TradePointEntry] = Field(description="by bench time")
    common_practice: TradePointEntry
    chosen: int = Field(description="number of the plan of this file")
    recommended: int | None = Field(
        description="number of the plan recommended; null where all overload tacks"
    )
    why: str
    tried: int = Field(description="how many plans were tried")
    stopped: bool = Field(description="whether the search was stopped early")


def trade_entry(trade: TradeOff | None) -> TradeOffEntry | None:
    """The trade-off in mm, degC and minutes; None where plans were not compared."""
    if trade is None:
        return None
    return TradeOffEntry(
        points=[_point(point) for point in trade.points],
        common_practice=_point(trade.common),
        chosen=trade.chosen,
        recommended=trade.recommended,
        why=trade.why,
        tried=trade.tried,
        stopped=trade.stopped,
    )


def _point(point: TradePoint) -> TradePointEntry:
    return TradePointEntry(
        number=point.number,
        bench_min=round(point.bench_s / 60, 2),
        hottest_spot_c=round(point.hottest_spot_c, 1),
        distortion_mm=round(1e3 * point.distortion, 3),
        tack_utilisation=round(point.tack_utilisation, 3),
        turns=point.turns,
        within=point.within,
        merit=point.merit,
    )
