"""The moments at which a plan is pictured, and the thermal state at each."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from axlewright.heat.reduce import HeatModes
from axlewright.heat.state import cooled
from axlewright.plan.bench import OnTheBench, Trial
from axlewright.plan.timeline import Clock, tack_stage
from axlewright.solid.mesh import Floats, Ints

DOING = ("tacked up", "arc starts", "arc stops", "waiting", "cooling", "cold")
"""What goes on at a moment; moments tell it by its number here."""

TACKED, STARTS, STOPS, WAITING, COOLING, COLD = range(len(DOING))

AFTER_ARC = (5.0, 20.0, 60.0, 180.0, 600.0, 1800.0)
"""Moments in the pause after an arc, as long as it lasts: the skin cools fastest at first [s]."""

LONGER = 2.0
"""Each moment of the cooling at the end comes this many times later than the one before."""

AS_GOOD_AS_COLD = 1.0
"""The cooling is followed until the housing as a whole is this much above ambient [K]."""


@dataclass(frozen=True)
class Moments:
    """Moments of a plan in order.

    Args:
        time: since the first arc, shape (K,) [s].
        doing: what goes on, by number in `DOING`, shape (K,).
        bead: place in the order of the bead that burns or comes next; the count of beads after the last, shape (K,).
        laid: how many beads are laid, shape (K,).
        turn: how the housing lies, shape (K,) [deg].
        states: thermal state, shape (m, K).
    """

    time: Floats
    doing: Ints
    bead: Ints
    laid: Ints
    turn: Floats
    states: Floats


@dataclass
class _Told:
    """Moments told so far."""

    rows: list[tuple[float, int, int, int, float]]
    states: list[Floats]

    def tell(self, clock: Clock, doing: int, bead: int, laid: int, later: float = 0.0) -> None:
        """A moment some time after what the clock shows [s]."""
        self.rows.append((clock.now + later, doing, bead, laid, clock.turn))
        self.states.append(cooled(clock.modes, clock.state, later))


def moments_of(bench: OnTheBench, trial: Trial, modes: HeatModes) -> Moments:
    """The moments of a plan, from the last tack until all is cold.

    Args:
        bench: the job on the bench.
        trial: the plan, tried on it.
        modes: the modes in which states are told.
    """
    clock = _clock(bench, modes)
    told, beads = _Told([], []), len(trial.timeline.steps)
    told.tell(clock, TACKED, 0, 0)
    for number, (step, start) in enumerate(zip(trial.timeline.steps, trial.timeline.starts, strict=True)):
        if step.turn != clock.turn:
            clock.turn_to(step.turn, bench.job.bench.turn_time)
            told.tell(clock, WAITING, number, number)
        _wait(told, clock, start - clock.now, number)
        told.tell(clock, STARTS, number, number)
        clock.weld(step.bead, step.reverse)
        told.tell(clock, STOPS, number, number + 1)
    _cool(told, clock, beads, cold_after(bench, trial))
    time, doing, bead, laid, turn = (np.array(column) for column in zip(*told.rows, strict=True))
    return Moments(time, doing, bead, laid, turn, np.array(told.states).T)


def _clock(bench: OnTheBench, modes: HeatModes) -> Clock:
    """The bench when it is tacked up, its state told in some modes."""
    if modes is bench.model.modes:
        return Clock(bench.model, bench.heated, bench.tacks.end, bench.tacks.state)
    # Arc passes and pauses are remembered with the model; another copy of it begins with none.
    model = replace(bench.model, modes=modes)
    tacks = tack_stage(model, bench.heated, bench.job.bench, bench.tack_places, bench.tack_lengths)
    return Clock(model, bench.heated, tacks.end, tacks.state)


def _wait(told: _Told, clock: Clock, seconds: float, number: int) -> None:
    for later in AFTER_ARC:
        # A moment right before the next start would only be told twice.
        if later < 0.8 * seconds:
            told.tell(clock, WAITING, number, number, later)
    clock.pass_time(seconds)


def _cool(told: _Told, clock: Clock, beads: int, cold: float) -> None:
    """Moments farther and farther apart until all is cold, and the cold itself."""
    later = AFTER_ARC[0]
    while later < cold:
        told.tell(clock, COOLING, beads, beads, later)
        later *= LONGER
    clock.pass_time(later)
    clock.state = np.zeros_like(clock.state)
    told.tell(clock, COLD, beads, beads)


def cold_after(bench: OnTheBench, trial: Trial) -> float:
    """Time from the last arc until all is as good as cold: what is left last fades as the slowest mode does [s]."""
    hottest = max(trial.hottest, 2 * AS_GOOD_AS_COLD)
    return float(np.log(hottest / AS_GOOD_AS_COLD) / bench.model.modes.rate.min())
