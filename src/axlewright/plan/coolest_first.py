"""Our plan: the coolest spot on the other side that is far enough away; wait only when no spot is cool enough."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from axlewright.distortion.model import Model
from axlewright.heat.state import cooled
from axlewright.job.schema import Bench
from axlewright.plan.places import bead_middles, distances
from axlewright.plan.settings import WeldSettings
from axlewright.plan.tacking import in_full
from axlewright.plan.timeline import Clock, Step, TackStage
from axlewright.solid.mesh import Floats, Ints

LONGEST_WAIT = 4 * 3600.0
"""A limit that no wait this long [s] can keep cannot be kept by waiting; then there is none."""

LAGS = np.array([0.0, 15.0, 30.0, 60.0, 120.0, 240.0, 480.0, 960.0, 1920.0, 3840.0])
"""Times after an arc starts at which its warmth at seats and seals is looked at [s]."""


@dataclass(frozen=True)
class Taste:
    """What a choice of the next bead is made by.

    Args:
        limit: highest rise of the spot temperature over ambient [K].
        per_metre: kelvin that a metre of distance from the last bead is worth [K/m].
        near_laid: kelvin that a metre of distance from the nearest bead laid is worth [K/m].
        change_side: whether the seam must change after each bead where it can.
        watch_limits: highest rise over ambient at each watch place, shape (W,) [K]; infinite where none is set.
        jitter: standard deviation of a chance addition to each bead's rating [K].
        seed: of the chance; the same seed gives the same order.
    """

    limit: float
    per_metre: float
    near_laid: float
    change_side: bool
    watch_limits: Floats
    jitter: float = 0.0
    seed: int = 0


def coolest_first(
    model: Model, settings: WeldSettings, bench: Bench, tacks: TackStage, taste: Taste
) -> tuple[Step, ...]:
    """Order all beads, kind by kind, by the given taste."""
    clock = Clock(model, settings, tacks.end, tacks.state)
    chooser = _Chooser(model, clock, taste)
    steps: list[Step] = []
    for group in _groups(model, bench.order):
        left = set(group)
        while left:
            clock.pass_time(bench.between_beads)
            step = chooser.next_step(sorted(left), steps)
            clock.pass_time(step.wait)
            clock.weld(step.bead, step.reverse)
            steps.append(step)
            left.remove(step.bead)
    return tuple(steps)


def in_order(
    model: Model, settings: WeldSettings, bench: Bench, tacks: TackStage, taste: Taste, order: list[int]
) -> tuple[Step, ...]:
    """Keep a given order, but wait by temperature instead of by the clock."""
    clock = Clock(model, settings, tacks.end, tacks.state)
    chooser = _Chooser(model, clock, taste)
    steps: list[Step] = []
    for bead in order:
        clock.pass_time(bench.between_beads)
        steps.append(chooser.next_step([bead], steps))
        clock.pass_time(steps[-1].wait)
        clock.weld(bead, steps[-1].reverse)
    return tuple(steps)


def _groups(model: Model, kinds: tuple[str, ...]) -> list[list[int]]:
    """Beads by kind of attachment, in the order of the trade."""
    kind_of = np.array([model.assembly.seams[bead.seam].kind for bead in model.assembly.beads])
    return [np.flatnonzero(kind_of == kind).tolist() for kind in in_full(kinds)]


class _Chooser:
    def __init__(self, model: Model, clock: Clock, taste: Taste) -> None:
        self.clock, self.taste = clock, taste
        self.chance = np.random.default_rng(taste.seed)
        self.seam = np.array([bead.seam for bead in model.assembly.beads])
        self.distance = distances(bead_middles(model.assembly))
        ends = [(pieces[0], pieces[-1]) for pieces in clock.pieces]
        # Rows that read both ends of every bead, (2, B, m): a bead may start at either.
        self.ends = model.modes.spot[np.array(ends).T]
        self.fading = np.exp(-np.outer(model.modes.rate, LAGS))
        self.warming = self._warming(model)

    def _warming(self, model: Model) -> Floats:
        """Rise at the watch places at each lag after a bead's arc starts, from that bead alone, (B, W, lags) [K]."""
        settings = self.clock.settings
        heat = [settings.heat_input * model.lengths[pieces] for pieces in self.clock.pieces]
        inlets = [model.modes.inlet[:, p] @ h for p, h in zip(self.clock.pieces, heat, strict=True)]
        return np.array([(model.modes.watch * inlet) @ self.fading for inlet in inlets])

    def next_step(self, left: list[int], steps: list[Step]) -> Step:
        """The bead to lay next, which way, and how long to wait for it."""
        choice = np.array(self._other_side(left, steps))
        wait = self._wait(choice)
        rise = self.ends[:, choice] @ cooled(self.clock.modes, self.clock.state, wait)
        allowed = self._excess(choice, wait) <= 1e-6
        start_end, coolest = rise.argmin(axis=0), rise.min(axis=0)
        score = np.where(allowed, self._score(choice, coolest, steps), np.inf)
        best = int(np.argmin(np.round(score, 6))) if allowed.any() else int(np.argmin(coolest))
        return Step(int(choice[best]), bool(start_end[best]), wait)

    def _excess(self, choice: Ints, wait: float) -> Floats:
        """How far each bead would go beyond a limit if it were laid after a wait [K]."""
        state = cooled(self.clock.modes, self.clock.state, wait)
        spot = (self.ends[:, choice] @ state).min(axis=0) - self.taste.limit
        if np.isinf(self.taste.watch_limits).all():
            return spot
        warm = (self.clock.modes.watch * state) @ self.fading + self.warming[choice]
        return np.maximum(spot, (warm.max(axis=2) - self.taste.watch_limits).max(axis=1))

    def _other_side(self, left: list[int], steps: list[Step]) -> list[int]:
        if not steps or not self.taste.change_side:
            return left
        return [bead for bead in left if self.seam[bead] != self.seam[steps[-1].bead]] or left

    def _score(self, choice: Ints, coolest: Floats, steps: list[Step]) -> Floats:
        if self.taste.jitter:
            coolest = coolest + self.chance.normal(0.0, self.taste.jitter, len(coolest))
        if not steps:
            return coolest
        laid = np.array([step.bead for step in steps])
        nearest = self.distance[np.ix_(choice, laid)].min(axis=1)
        from_last = self.distance[choice, laid[-1]]
        return coolest - self.taste.per_metre * from_last - self.taste.near_laid * nearest

    def _wait(self, choice: Ints) -> float:
        """Shortest wait after which some bead breaks no limit [s]."""

        def excess(seconds: float) -> float:
            return float(self._excess(choice, seconds).min())

        if excess(0.0) <= 0:
            return 0.0
        # Heat on its way from a hotter place may pass the spot first, so the first crossing is looked for.
        times = np.concatenate([[0.0], np.geomspace(5.0, LONGEST_WAIT, 40)])
        below = next((n for n, t in enumerate(times) if excess(t) <= 0), None)
        if below is None:
            return 0.0
        return float(np.ceil(brentq(excess, times[below - 1], times[below], xtol=0.5)))
