"""The plans of a trade-off that have a name, and what is said of them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from axlewright import units
from axlewright.plan.report import TradeOff, TradePoint
from axlewright.sheets import wording

HEADINGS = ("no.", "plan", "bench time", "hottest spot", "distortion", "tack load", "turns")
"""Columns of `trade_rows`."""

NONE_HOLDS = "No plan found keeps every tack within its strength: none is recommended."

HOW_TO_CHOOSE = (
    "To follow another of these plans: axlewright plan JOB.toml --choose N, with its number for N."
)

_MERITS: tuple[tuple[str, Callable[[TradePoint], float]], ...] = (
    ("quickest", lambda point: point.bench_s),
    ("straightest", lambda point: point.distortion),
    ("coolest", lambda point: point.hottest_spot_c),
    ("easiest on the tacks", lambda point: point.tack_utilisation),
)


@dataclass(frozen=True)
class NamedPoint:
    """A plan with every name it has earned, the most telling first."""

    point: TradePoint
    names: tuple[str, ...]

    @property
    def words(self) -> str:
        """The names as one text."""
        return ", ".join(self.names)


def named_points(trade: TradeOff) -> tuple[NamedPoint, ...]:
    """The recommended plan, the one at hand, the best in each respect, common practice; one entry for each plan.

    Best are those called so by the search; where it called none, they are found among the plans that keep every
    limit, or among all where none does.
    """
    points = {point.number: point for point in trade.points}
    names: dict[int, list[str]] = {}
    # A dict keeps the order of what is put in first, so the most telling plan leads.
    for number, name in (*_roles(trade), *_merits(trade)):
        if number in points and name not in names.setdefault(number, []):
            names[number].append(name)
    named = [NamedPoint(points[number], tuple(own)) for number, own in names.items()]
    return (*named, NamedPoint(trade.common, ("common practice",)))


def _roles(trade: TradeOff) -> list[tuple[int, str]]:
    """The plan recommended, and the one at hand where it is another."""
    found = [] if trade.recommended is None else [(trade.recommended, "recommended")]
    return found if trade.chosen == trade.recommended else [*found, (trade.chosen, "this plan")]


def _merits(trade: TradeOff) -> list[tuple[int, str]]:
    """What each plan is best at, by its number."""
    given = [(point.number, point.merit) for point in trade.points if point.merit]
    contest = [point for point in trade.points if point.within] or list(trade.points)
    if given or not contest:
        return given
    return [(min(contest, key=measure).number, name) for name, measure in _MERITS]


def trade_rows(trade: TradeOff, inch: bool) -> list[list[str]]:
    """A row under `HEADINGS` for each named plan."""
    return [_row(named, inch) for named in named_points(trade)]


def _row(named: NamedPoint, inch: bool) -> list[str]:
    """One plan: number, names, figures; common practice has no number to choose it by."""
    point = named.point
    return [
        str(point.number) if point.number else "–",
        "; ".join(filter(None, (named.words, shortfall(point)))),
        wording.typeset(units.format_duration(point.bench_s)),
        wording.temperature(point.hottest_spot_c, inch),
        wording.distortion(point.distortion, inch),
        wording.tack_load(point.tack_utilisation),
        str(point.turns) if point.turns else "none",
    ]


def shortfall(point: TradePoint) -> str:
    """What speaks against a plan; empty where nothing does."""
    if point.tack_utilisation > 1.0:
        return "overloads tacks"
    return "" if point.within else "breaks a limit"


def reason(trade: TradeOff) -> str:
    """Why the recommended plan, or that there is none."""
    first = NONE_HOLDS if trade.recommended is None else f"Plan {trade.recommended} is recommended."
    return wording.sentence(f"{first} {trade.why}".strip())


def how_many(trade: TradeOff) -> str:
    """How many plans were tried and what those shown have in common."""
    count = len(trade.points)
    stopped = ", the search being stopped early" if trade.stopped else ""
    tried = f"{trade.tried} plans tried{stopped}; "
    if count == 1:
        return f"{tried}one of them is best in every respect."
    return f"{tried}{count} of them are shown: none of these beats another in every respect."
