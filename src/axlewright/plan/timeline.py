"""A plan in time: when each tack and bead starts, and the thermal state it meets."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from axlewright.distortion.model import Model
from axlewright.distortion.walk import Laying
from axlewright.heat.state import cold, cooled, welded
from axlewright.job.schema import Bench
from axlewright.plan.settings import WeldSettings
from axlewright.solid.mesh import Floats, Ints

AFTERWARDS = 3600.0
"""How long watch places are followed after the last arc [s]."""

WATCHES = 8
"""Moments in every longer pause at which watch places are read."""

SHORT_PAUSE = 60.0
"""A pause no longer than this is read at both ends only [s]."""


@dataclass(frozen=True)
class Step:
    """One bead of a plan.

    Args:
        bead: its number.
        reverse: whether it is welded from its end to its start.
        wait: cool-down before it, besides the usual time between beads and any turning [s].
        turn: how the housing lies, 0 as on the vehicle, 90 front side up [deg].
    """

    bead: int
    reverse: bool
    wait: float
    turn: float = 0.0


@dataclass(frozen=True)
class TackStage:
    """The tacks in time.

    Args:
        stretches: the stretch each tack sits on, shape (T,).
        starts: when each arc starts, shape (T,) [s].
        states: thermal state then, shape (m, T).
        end: when the last tack is done [s].
        state: thermal state then, shape (m,).
    """

    stretches: Ints
    starts: Floats
    states: Floats
    end: float
    state: Floats


@dataclass(frozen=True)
class Timeline:
    """The beads in time.

    Args:
        steps: the beads in order.
        starts: when each arc starts, shape (B,) [s].
        arcs: how long each arc burns, shape (B,) [s].
        spots: rise of the spot temperature over ambient at each start, shape (B,) [K].
        laying: the beads as the mechanics sees them.
        warmest: highest rise over ambient at each watch place, up to an hour after the last arc, shape (W,) [K].
    """

    steps: tuple[Step, ...]
    starts: Floats
    arcs: Floats
    spots: Floats
    laying: Laying
    warmest: Floats

    @property
    def end(self) -> float:
        """When the last arc stops [s]."""
        return float(self.starts[-1] + self.arcs[-1])

    @property
    def turns(self) -> int:
        """How often the housing is turned; it is tacked up lying as on the vehicle."""
        lies = [0.0, *(step.turn for step in self.steps)]
        return sum(before != after for before, after in pairwise(lies))


def tack_stage(
    model: Model, settings: WeldSettings, bench: Bench, stretches: Ints, lengths: Floats
) -> TackStage:
    """Set tacks of given lengths [m] one after another from a cold start."""
    state, now = cold(model.modes), 0.0
    starts, states = [], []
    for stretch, arc in zip(stretches, lengths / settings.travel_speed, strict=True):
        starts.append(now)
        states.append(state)
        state = welded(model.modes, state, np.array([stretch]), settings.power, np.array([arc]))
        state = cooled(model.modes, state, bench.tack_seconds)
        now += arc + bench.tack_seconds
    return TackStage(stretches, np.array(starts), np.array(states).T, now, state)


class Clock:
    """The bench at a moment: the time, the thermal state, and what welding a bead does to them.

    It starts with the housing lying as on the vehicle.
    """

    def __init__(self, model: Model, settings: WeldSettings, start: float, state: Floats) -> None:
        self.model, self.modes, self.settings = model, model.modes, settings
        self.pieces, self.lengths = model.pieces, model.lengths
        self.now, self.state, self.turn = start, state, 0.0

    def pass_time(self, seconds: float) -> None:
        """Let time pass without an arc."""
        if seconds > 0:
            self.state = self.state * self.model.fading(seconds)
            self.now += seconds

    def turn_to(self, turn: float, seconds: float) -> None:
        """Turn the housing if it does not lie that way already, which takes some time [s]."""
        if turn != self.turn:
            self.pass_time(seconds)
            self.turn = turn

    def path(self, bead: int, reverse: bool) -> Ints:
        """Stretches of a bead in the order the arc passes them."""
        return self.pieces[bead][::-1] if reverse else self.pieces[bead]

    def spot(self, bead: int, reverse: bool) -> float:
        """Rise of the skin over ambient where a bead would start now [K]."""
        return float(self.modes.spot[self.path(bead, reverse)[0]] @ self.state)

    def weld(self, bead: int, reverse: bool) -> float:
        """Weld a bead now; the time its arc burns [s]."""
        settings = self.settings
        passed = self.model.bead_pass(bead, reverse, settings.power, settings.travel_speed)
        self.state = self.state * passed.kept + passed.gained
        seconds = self.model.assembly.beads[bead].length / settings.travel_speed
        self.now += seconds
        return seconds


def pause_before(bench: Bench, clock: Clock, turn: float) -> float:
    """Time from the end of an arc to the start of the next without a cool-down, turning included [s]."""
    return bench.between_beads + (0.0 if turn == clock.turn else bench.turn_time)


def timeline(
    model: Model, settings: WeldSettings, bench: Bench, tacks: TackStage, steps: tuple[Step, ...]
) -> Timeline:
    """Put a plan's beads in time, from the end of the tack stage on."""
    return in_time(Clock(model, settings, tacks.end, tacks.state), bench, steps)


def in_time(clock: Clock, bench: Bench, steps: Iterable[Step]) -> Timeline:
    """Lay beads one after another from where the clock stands.

    Args:
        clock: the bench at its start; it moves on to an hour after the last arc.
        bench: habits at the bench.
        steps: the beads; each is asked for when the one before is laid, so it may depend on the clock.
    """
    began = clock.now
    taken, starts, arcs, states, ends, paths = [], [], [], [], [clock.state], []
    for step in steps:
        clock.turn_to(step.turn, bench.turn_time)
        clock.pass_time(bench.between_beads + step.wait)
        taken.append(step)
        starts.append(clock.now)
        states.append(clock.state)
        arcs.append(clock.weld(step.bead, step.reverse))
        ends.append(clock.state)
        paths.append(clock.path(step.bead, step.reverse))
    stretches = np.concatenate(paths)
    first = np.concatenate([[0], np.cumsum([len(path) for path in paths])])
    met, arc_times = np.array(states), np.array(arcs)
    laying = Laying(stretches, first, clock.lengths[stretches], met.T)
    spots = np.einsum("bm,bm->b", clock.modes.spot[stretches[first[:-1]]], met)
    pauses = np.append(np.array(starts) - np.append(began, np.array(starts) + arc_times)[:-1], AFTERWARDS)
    warmest = _warmest(clock.model, np.array(ends), met, pauses)
    clock.pass_time(AFTERWARDS)
    return Timeline(tuple(taken), np.array(starts), arc_times, spots, laying, warmest)


def _warmest(model: Model, ends: Floats, met: Floats, pauses: Floats) -> Floats:
    """Highest rise at each watch place: a seat is warmest minutes after an arc near it.

    Args:
        model: the job's reduced model.
        ends: thermal state at the end of the tacks and of each arc, shape (B + 1, m).
        met: at the start of each arc, shape (B, m).
        pauses: time from each end to the next start, the last one followed for an hour, shape (B + 1,) [s].
    """
    watch, rate = model.modes.watch, model.modes.rate
    # In a short pause a seat or seal, away from any arc, is warmest at its beginning or its end.
    rises = [(np.concatenate([ends, met]) @ watch.T).max(axis=0)]
    for state, seconds in zip(ends[pauses > SHORT_PAUSE], pauses[pauses > SHORT_PAUSE], strict=True):
        moments = seconds * np.linspace(0.0, 1.0, WATCHES) ** 2
        rises.append(((watch * state) @ np.exp(-np.outer(rate, moments))).max(axis=1))
    return np.max(rises, axis=0)
