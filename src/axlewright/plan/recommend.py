"""Of the plans found: those to show, the one to recommend, and why."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axlewright.plan.bounds import HEAT_SLACK, STRENGTH
from axlewright.plan.report import TradeOff, TradePoint
from axlewright.plan.search.archive import Found
from axlewright.plan.search.chains import AIMS, RECOMMENDED, best
from axlewright.plan.search.tries import Tries
from axlewright.solid.mesh import Floats
from axlewright.units import format_deflection, format_duration, format_temperature_rise

SHOWN = 20
"""So many plans are shown to choose from."""

MERITS = ("quickest", "coolest", "straightest", "easiest on the tacks")
"""What a plan is called that is best in one count, in the order of the counts."""

NEXT = (2, 0, 1, 3)
"""Among plans as good in one count the best in these is preferred, so that no extreme is worse than it need be."""


@dataclass(frozen=True)
class Choice:
    """Plans to choose from.

    Args:
        tries: what was tried.
        plans: those shown, by bench time; a plan's number is its place, counted from 1.
        recommended: the number of the one to follow, or None where every plan overloads a tack.
        leading: the number of the best there is by the aim of a recommended plan.
    """

    tries: Tries
    plans: tuple[Found, ...]
    recommended: int | None
    leading: int

    def plan(self, number: int) -> Found:
        """A plan by its number."""
        return self.plans[number - 1]


def choice(tries: Tries) -> Choice:
    """The plans to show, and the one to recommend.

    The recommended one keeps every limit, loads no tack beyond what common practice does or its strength, and is
    neither hotter nor more distorted than common practice. Of all such plans it has the least sum of bench time and
    distortion, each as a share of common practice's, and a quarter of the tack load, as a share of its strength.
    Where no plan keeps all of that, the one that goes least beyond is taken; one that overloads a tack is never
    recommended.
    """
    leading = best(tries, RECOMMENDED)
    within_bounds = [best(tries, aim) for aim in AIMS if aim.bounded]
    shown = tries.archive.thinned(SHOWN, [leading, *within_bounds])
    number = next(n for n, plan in enumerate(shown, start=1) if plan is leading)
    holds = leading.counts[3] <= STRENGTH
    return Choice(tries, tuple(shown), number if holds else None, number)


def trade_off(found: Choice, chosen: int) -> TradeOff:
    """The choice as data for pictures and files.

    Args:
        found: the plans.
        chosen: number of the plan at hand.
    """
    tries = found.tries
    merits = _merits(found)
    points = tuple(
        _point(tries, number, plan.counts, plan.too_warm, _turns(tries, plan), merits.get(number, ""))
        for number, plan in enumerate(found.plans, start=1)
    )
    common = tries.common
    common_point = _point(tries, 0, tries.counts(common), 0.0, common.timeline.turns, "")
    why = _why(found)
    return TradeOff(points, common_point, chosen, found.recommended, why, tries.walked, tries.stopped)


def _turns(tries: Tries, plan: Found) -> int:
    return tries.bench.in_time(plan.steps).turns


def _point(tries: Tries, number: int, counts: Floats, too_warm: float, turns: int, merit: str) -> TradePoint:
    seconds, hottest, distortion, tack = (float(count) for count in counts)
    limit = tries.bench.job.limits.spot
    cool = limit is None or hottest <= tries.within.hottest + HEAT_SLACK
    within = cool and too_warm == 0 and tack <= STRENGTH
    ambient = tries.bench.job.ambient.temperature
    return TradePoint(number, seconds, ambient + hottest, distortion, tack, turns, within, merit)


def _merits(found: Choice) -> dict[int, str]:
    """What some plans are best at, by number; only plans that hold are praised, if there are any."""
    holding = [n for n, plan in enumerate(found.plans, start=1) if plan.counts[3] <= STRENGTH]
    contest = holding or list(range(1, len(found.plans) + 1))
    merits: dict[int, str] = {}
    for count, merit in enumerate(MERITS):
        ranks = {n: _rank(found, n, count) for n in contest}
        winner = min(contest, key=lambda n: ranks[n])
        merits[winner] = ", ".join(filter(None, (merits.get(winner, ""), merit)))
    return merits


def _rank(found: Choice, number: int, count: int) -> tuple[float, ...]:
    steps = np.round(found.plan(number).counts / found.tries.archive.fine)
    return tuple(float(steps[n]) for n in (count, *NEXT))


def _why(found: Choice) -> str:
    """Why the leading plan, in a sentence or three."""
    tries, plan, inch = found.tries, found.plan(found.leading), found.tries.bench.job.inch
    time, heat, bend, _ = plan.counts / tries.scale
    said = (
        f"It takes {100 * time:.0f} % of common practice's bench time and leaves {100 * bend:.0f} % of its distortion, "
        f"{_heat(heat)}, and its heaviest tack carries {100 * plan.counts[3]:.0f} % of its strength."
    )
    if found.recommended is None:
        return f"Every plan found overloads a tack. The best of them: {said[0].lower()}{said[1:]}"
    others = [_beside(found, n, plan, inch) for n in _rivals(found)]
    return " ".join([said, *others])


def _heat(share: float) -> str:
    if share > 1.005:
        return "gets hotter than it, as no wait keeps the limit"
    return "gets no hotter" if share > 0.97 else f"gets only {100 * share:.0f} % as hot over the air"


def _rivals(found: Choice) -> list[int]:
    """The quickest and the straightest plan that hold, where they are others."""
    merits = _merits(found)
    wanted = [n for merit in ("quickest", "straightest") for n, own in merits.items() if merit in own]
    return [n for n in dict.fromkeys(wanted) if n != found.leading]


def _beside(found: Choice, number: int, plan: Found, inch: bool) -> str:
    """What another plan gains and what that costs."""
    other = found.plan(number)
    seconds, heat, bend, _ = other.counts - plan.counts
    names = found.tries.archive.fine
    parts = [
        (seconds, names[0], format_duration(abs(seconds)), "quicker", "slower"),
        (heat, names[1], format_temperature_rise(abs(heat), inch), "cooler", "hotter"),
        (bend, names[2], format_deflection(abs(bend), inch), "straighter", "more out of true"),
    ]
    told = [
        (f"{size} {less if change < 0 else more}", change < 0)
        for change, fine, size, less, more in parts
        if abs(change) > fine
    ]
    gains, costs = [text for text, good in told if good], [text for text, good in told if not good]
    against = f", but {' and '.join(costs)}" if costs else ""
    return f"Plan {number} is {' and '.join(gains)}{against}." if gains else ""
