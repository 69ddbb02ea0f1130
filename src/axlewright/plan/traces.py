"""Temperature against time while a plan is welded."""

from __future__ import annotations

import numpy as np

from axlewright.heat.state import cooled
from axlewright.plan.bench import OnTheBench, Trial
from axlewright.plan.report import Trace
from axlewright.plan.timeline import Clock
from axlewright.solid.mesh import Floats

AFTERWARDS = 1800.0
"""How long the cooling is followed after the last arc [s]."""

BETWEEN = 8
"""Moments between two beads at which temperatures are taken."""

HOTTEST_SPOTS = 2
"""How many of the hottest spots are followed."""


def traces(bench: OnTheBench, trial: Trial) -> tuple[Trace, ...]:
    """Skin temperature at the hottest spots and at the bearing seats and seals over the beads of a plan."""
    times, states = _states(bench, trial)
    names, rows = _places(bench, trial)
    temperatures = bench.job.ambient.temperature + rows @ states
    return tuple(Trace(name, times, row) for name, row in zip(names, temperatures, strict=True))


def _states(bench: OnTheBench, trial: Trial) -> tuple[Floats, Floats]:
    clock = Clock(bench.model, bench.heated, bench.tacks.end, bench.tacks.state)
    times, states = [clock.now], [clock.state]
    for step, start in zip(trial.timeline.steps, trial.timeline.starts, strict=True):
        _follow(clock, start - clock.now, times, states)
        clock.weld(step.bead, step.reverse)
        times.append(clock.now)
        states.append(clock.state)
    _follow(clock, AFTERWARDS, times, states)
    return np.array(times), np.array(states).T


def _follow(clock: Clock, seconds: float, times: list[float], states: list[Floats]) -> None:
    """Take moments close together at first, when the skin cools fastest."""
    for share in np.linspace(0.0, 1.0, BETWEEN + 1)[1:] ** 2:
        times.append(clock.now + share * seconds)
        states.append(cooled(clock.modes, clock.state, share * seconds))
    clock.pass_time(seconds)


def _places(bench: OnTheBench, trial: Trial) -> tuple[list[str], Floats]:
    model, line = bench.model, trial.timeline
    order = np.argsort(-line.spots, kind="stable")[:HOTTEST_SPOTS]
    names, rows = [], []
    for place in order:
        step = line.steps[place]
        seam = model.assembly.seams[model.assembly.beads[step.bead].seam]
        names.append(f"bead {place + 1}: {seam.attachment}, {seam.name}")
        rows.append(model.modes.spot[line.laying.stretches[line.laying.first[place]]])
    return names + list(model.modes.places), np.concatenate([np.array(rows), model.modes.watch])
