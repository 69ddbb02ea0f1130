"""Why each bead is next, in a few words that can be checked.

The coolest spot is its own reason. Where another bead comes first, the plan with the two in each other's place
is tried, and what it costs is the reason.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from axlewright.plan.coolest_first import kind_groups
from axlewright.plan.search.archive import Found
from axlewright.plan.search.tries import Tries
from axlewright.plan.timeline import Step, Timeline
from axlewright.solid.mesh import Floats, Ints
from axlewright.units import format_deflection, format_duration, format_length, format_temperature_rise

AS_COOL = 1.0
"""Spots this close to the coolest count as the coolest [K]."""

WORTH_SAYING = np.array([10.0, 1.0, 1e-5, 0.01])
"""Least difference worth naming as a reason: bench time [s], spot [K], distortion [m], tack utilisation."""


@dataclass(frozen=True)
class _Moment:
    """What can be laid next at one moment of a plan.

    Args:
        place: of the bead in the order.
        left: beads of its kind that are left and can be reached as the housing lies.
        spots: rise of the cooler end of each over ambient [K].
        hot: whether the bead's own spot was too hot before the wait; if not, a seat or seal was.
    """

    place: int
    left: Ints
    spots: Floats
    hot: bool


def reasons(tries: Tries, found: Found, line: Timeline) -> tuple[str, ...]:
    """Why each bead of a plan is next.

    Args:
        tries: the search, on whose bench alternatives are tried.
        found: the plan.
        line: the plan in time.
    """
    limit = min(found.order.spot, tries.within.hottest if tries.bench.job.limits.spot else np.inf)
    hot = _hot_before_waiting(tries, line, limit)
    moments = [_moment(tries, line, place, hot[place]) for place in range(len(line.steps))]
    return tuple(_reason(tries, found, line, moment) for moment in moments)


def _hot_before_waiting(tries: Tries, line: Timeline, limit: float) -> list[bool]:
    """Whether the spot of each bead is above the limit before its wait."""
    clock, bench, hot = tries.clock(), tries.bench.job.bench, []
    for step in line.steps:
        clock.turn_to(step.turn, bench.turn_time)
        clock.pass_time(bench.between_beads)
        hot.append(clock.spot(step.bead, step.reverse) > limit)
        clock.pass_time(step.wait)
        clock.weld(step.bead, step.reverse)
    return hot


def _moment(tries: Tries, line: Timeline, place: int, hot: bool) -> _Moment:
    step, view = line.steps[place], tries.view
    groups = kind_groups(view.model, tries.bench.job.bench.order)
    group = next(group for group in groups if step.bead in group)
    laid = {earlier.bead for earlier in line.steps[:place]}
    column = view.positions.turns.index(step.turn)
    left = np.array([bead for bead in group if bead not in laid and view.positions.allowed[bead, column]])
    spots = (view.ends[:, left] @ line.laying.states[:, place]).min(axis=0)
    return _Moment(place, left, spots, hot)


def _reason(tries: Tries, found: Found, line: Timeline, moment: _Moment) -> str:
    step = line.steps[moment.place]
    said = [_choice(tries, found, step, moment), _from_last(tries, line, moment.place)]
    if step.wait:
        waited = "cool enough after" if moment.hot else "a seat or seal near it is cool enough after"
        said.append(f"{waited} {format_duration(step.wait)}")
    return ", ".join(filter(None, said))


def _choice(tries: Tries, found: Found, step: Step, moment: _Moment) -> str:
    if len(moment.left) == 1:
        return "the last one of its kind as the housing lies"
    own, coolest = float(moment.spots[moment.left == step.bead][0]), float(moment.spots.min())
    if own <= coolest + AS_COOL:
        return "coolest spot left"
    other = int(moment.left[np.argmin(moment.spots)])
    seams = tries.view.seam[moment.left]
    if own <= moment.spots[seams == tries.view.seam[step.bead]].min() + AS_COOL:
        name = tries.bench.model.assembly.seams[tries.view.seam[step.bead]].name
        said = f"coolest spot on the {name}"
    else:
        said = f"{format_temperature_rise(own - coolest, tries.bench.job.inch)} above the coolest spot"
    return f"{said}{_instead(tries, found, step.bead, other)}"


def _from_last(tries: Tries, line: Timeline, place: int) -> str:
    if place == 0:
        return ""
    here, last = line.steps[place].bead, line.steps[place - 1].bead
    return f"{format_length(float(tries.view.distance[here, last]), tries.bench.job.inch)} from the last"


def _instead(tries: Tries, found: Found, bead: int, other: int) -> str:
    """What it would cost to lay the coolest bead here, and this one in its place."""
    beads = list(found.order.beads)
    here, there = beads.index(bead), beads.index(other)
    beads[here], beads[there] = other, bead
    worse = tries.weigh(replace(found.order, beads=tuple(beads))) - found.counts
    costs = {
        0: f"{format_duration(float(worse[0]))} more",
        2: f"{format_deflection(float(worse[2]), tries.bench.job.inch)} more distortion",
        3: f"{100 * worse[3]:.0f} % more load on a tack",
    }
    matters = np.maximum(tries.archive.fine, WORTH_SAYING)
    worst = max(costs, key=lambda count: float(worse[count] / matters[count]))
    if worse[worst] <= matters[worst]:
        return ""
    return f" (the coolest one first: {costs[worst]})"
