"""Our plan: the coolest spot on the other side that is far enough away; wait only when no spot is cool enough."""

from __future__ import annotations

from collections.abc import Collection
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


@dataclass(frozen=True)
class Outlook:
    """What every order of the same job looks at, worked out once.

    Args:
        model: the job's reduced model.
        settings: the welder's settings.
        seam: seam number of every bead, shape (B,).
        distance: between the middles of all beads, shape (B, B) [m].
        ends: rows that read both ends of every bead, shape (2, B, m): a bead may start at either.
        fading: what is left of each mode at each lag, shape (m, lags).
        warming: rise at the watch places at each lag after a bead's arc starts, from that bead alone,
            shape (B, W, lags) [K].
    """

    model: Model
    settings: WeldSettings
    seam: Ints
    distance: Floats
    ends: Floats
    fading: Floats
    warming: Floats


def outlook(model: Model, settings: WeldSettings) -> Outlook:
    """Look at a job once, before orders are tried on it."""
    modes, beads = model.modes, model.assembly.beads
    fading = np.exp(-np.outer(modes.rate, LAGS))
    inlets = [modes.inlet[:, p] @ (settings.heat_input * model.lengths[p]) for p in model.pieces]
    return Outlook(
        model,
        settings,
        np.array([bead.seam for bead in beads]),
        distances(bead_middles(model.assembly)),
        modes.spot[np.array([(pieces[0], pieces[-1]) for pieces in model.pieces]).T],
        fading,
        np.array([(modes.watch * inlet) @ fading for inlet in inlets]),
    )


def coolest_first(view: Outlook, bench: Bench, tacks: TackStage, taste: Taste) -> tuple[Step, ...]:
    """Order all beads, kind by kind, by the given taste."""
    clock = Clock(view.model, view.settings, tacks.end, tacks.state)
    return from_here(view, bench, clock, taste, (), range(len(view.seam)))


def in_order(
    view: Outlook, bench: Bench, tacks: TackStage, taste: Taste, order: list[int]
) -> tuple[Step, ...]:
    """Keep a given order, but wait by temperature instead of by the clock."""
    clock = Clock(view.model, view.settings, tacks.end, tacks.state)
    return _laid(view, bench, clock, taste, [], [[bead] for bead in order])


def from_here(
    view: Outlook, bench: Bench, clock: Clock, taste: Taste, laid: tuple[Step, ...], left: Collection[int]
) -> tuple[Step, ...]:
    """Order the beads that are left, from where the bench stands now.

    Args:
        view: the job as every order sees it.
        bench: habits at the bench.
        clock: time, thermal state and turn now; it moves on to the end of the last bead.
        taste: what a choice of the next bead is made by.
        laid: the beads already laid, in order.
        left: numbers of those to be laid.
    """
    groups = [[bead for bead in group if bead in left] for group in _groups(view.model, bench.order)]
    return _laid(view, bench, clock, taste, list(laid), groups)


def _laid(
    view: Outlook, bench: Bench, clock: Clock, taste: Taste, steps: list[Step], groups: list[list[int]]
) -> tuple[Step, ...]:
    """Lay group after group, within each the bead that rates best next; the steps added to those laid."""
    chooser, before = _Chooser(view, clock, taste), len(steps)
    for group in groups:
        left = set(group)
        while left:
            clock.pass_time(bench.between_beads)
            step = chooser.next_step(sorted(left), steps)
            clock.pass_time(step.wait)
            clock.weld(step.bead, step.reverse)
            steps.append(step)
            left.remove(step.bead)
    return tuple(steps[before:])


def _groups(model: Model, kinds: tuple[str, ...]) -> list[list[int]]:
    """Beads by kind of attachment, in the order of the trade."""
    kind_of = np.array([model.assembly.seams[bead.seam].kind for bead in model.assembly.beads])
    return [np.flatnonzero(kind_of == kind).tolist() for kind in in_full(kinds)]


class _Chooser:
    def __init__(self, view: Outlook, clock: Clock, taste: Taste) -> None:
        self.view, self.clock, self.taste = view, clock, taste
        self.chance = np.random.default_rng(taste.seed)

    def next_step(self, left: list[int], steps: list[Step]) -> Step:
        """The bead to lay next, which way, and how long to wait for it."""
        choice = np.array(self._other_side(left, steps))
        wait = self._wait(choice)
        rise = self.view.ends[:, choice] @ cooled(self.clock.modes, self.clock.state, wait)
        allowed = self._excess(choice, wait) <= 1e-6
        start_end, coolest = rise.argmin(axis=0), rise.min(axis=0)
        score = np.where(allowed, self._score(choice, coolest, steps), np.inf)
        best = int(np.argmin(np.round(score, 6))) if allowed.any() else int(np.argmin(coolest))
        return Step(int(choice[best]), bool(start_end[best]), wait)

    def _excess(self, choice: Ints, wait: float) -> Floats:
        """How far each bead would go beyond a limit if it were laid after a wait [K]."""
        state = cooled(self.clock.modes, self.clock.state, wait)
        spot = (self.view.ends[:, choice] @ state).min(axis=0) - self.taste.limit
        if np.isinf(self.taste.watch_limits).all():
            return spot
        warm = (self.clock.modes.watch * state) @ self.view.fading + self.view.warming[choice]
        return np.maximum(spot, (warm.max(axis=2) - self.taste.watch_limits).max(axis=1))

    def _other_side(self, left: list[int], steps: list[Step]) -> list[int]:
        if not steps or not self.taste.change_side:
            return left
        return [bead for bead in left if self.view.seam[bead] != self.view.seam[steps[-1].bead]] or left

    def _score(self, choice: Ints, coolest: Floats, steps: list[Step]) -> Floats:
        if self.taste.jitter:
            coolest = coolest + self.chance.normal(0.0, self.taste.jitter, len(coolest))
        if not steps:
            return coolest
        laid = np.array([step.bead for step in steps])
        nearest = self.view.distance[np.ix_(choice, laid)].min(axis=1)
        from_last = self.view.distance[choice, laid[-1]]
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
