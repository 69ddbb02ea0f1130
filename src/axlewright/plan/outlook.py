"""What every order of the same job looks at, worked out once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from axlewright.distortion.model import Model
from axlewright.job.schema import Bench
from axlewright.plan.places import bead_middles, distances
from axlewright.plan.positions import Positions, positions
from axlewright.plan.settings import WeldSettings
from axlewright.plan.timeline import Clock
from axlewright.solid.mesh import Floats, Ints

LONGEST_WAIT = 4 * 3600.0
"""A limit that no wait this long [s] can keep cannot be kept by waiting; then there is none."""

LAGS = np.array([0.0, 15.0, 30.0, 60.0, 120.0, 240.0, 480.0, 960.0, 1920.0, 3840.0])
"""Times after an arc starts at which its warmth at seats and seals is looked at [s]."""

WAITS = np.concatenate([[0.0], np.geomspace(5.0, LONGEST_WAIT, 40)])
"""Waits tried before the shortest one is narrowed down [s]."""


@dataclass(frozen=True)
class Limits:
    """What no bead may break when it is laid; it waits instead.

    Args:
        spot: highest rise of the spot temperature over ambient [K].
        watch: highest rise over ambient at each watch place, shape (W,) [K]; infinite where none is set.
    """

    spot: float
    watch: Floats

    @cached_property
    def watched(self) -> bool:
        """Whether any place has a limit."""
        return bool(np.isfinite(self.watch).any())


@dataclass(frozen=True)
class Outlook:
    """What every order of the same job looks at.

    Args:
        model: the job's reduced model.
        settings: the welder's settings.
        positions: welding positions of the beads at every turn.
        seam: seam number of every bead, shape (B,).
        distance: between the middles of all beads, shape (B, B) [m].
        ends: rows that read both ends of every bead, shape (2, B, m): a bead may start at either.
        fading: what is left of each mode at each lag, shape (m, lags).
        waiting: what is left of each mode after each of `WAITS`, shape (m, waits).
        warming: rise at the watch places at each lag after a bead's arc starts, from that bead alone,
            shape (B, W, lags) [K].
    """

    model: Model
    settings: WeldSettings
    positions: Positions
    seam: Ints
    distance: Floats
    ends: Floats
    fading: Floats
    waiting: Floats
    warming: Floats

    @cached_property
    def warmest(self) -> Floats:
        """Most that each bead alone warms each watch place, shape (B, W) [K]."""
        return self.warming.max(axis=2)

    def excess(self, state: Floats, beads: Ints, reverse: Ints, limits: Limits) -> Floats:
        """How far each bead would go beyond a limit if it were laid now, shape (len(beads),) [K].

        Args:
            state: thermal state, shape (m,).
            beads: their numbers.
            reverse: whether each is welded from its end, as 0 or 1.
            limits: what may not be exceeded.
        """
        spot = self.ends[reverse, beads] @ state - limits.spot
        if not limits.watched:
            return spot
        warm = self.coming(state) + self.warming[beads]
        return np.maximum(spot, (warm.max(axis=2) - limits.watch).max(axis=1))

    def coming(self, state: Floats) -> Floats:
        """Rise at the watch places at each lag from now without another arc, shape (W, lags) [K]."""
        return (self.model.modes.watch * state) @ self.fading

    def shortest_wait(self, state: Floats, beads: Ints, reverse: Ints, limits: Limits) -> float:
        """Shortest wait, in whole seconds, after which some bead breaks no limit [s]; none where no wait helps."""
        spots = self.ends[reverse, beads] * state
        if not limits.watched:
            return self._cool_enough(spots, limits.spot)
        if self.excess(state, beads, reverse, limits).min() <= 0:
            return 0.0
        # A spot that is cool enough may still warm a seat too much, but never the other way round.
        for number in np.flatnonzero((spots @ self.waiting).min(axis=0) <= limits.spot):
            if self.excess(state * self.waiting[:, number], beads, reverse, limits).min() <= 0:
                return _first(
                    lambda wait: self.excess(self.later(state, wait), beads, reverse, limits).min(),
                    int(number),
                )
        return 0.0

    def _cool_enough(self, spots: Floats, limit: float) -> float:
        """Shortest wait after which one of several spots is below a limit; by what each mode adds, (k, m)."""
        if spots.sum(axis=1).min() <= limit:
            return 0.0
        # Heat on its way from a hotter place may pass the spot first, so the first crossing is looked for.
        enough = np.flatnonzero((spots @ self.waiting).min(axis=0) <= limit)
        if not len(enough):
            return 0.0
        return _first(lambda wait: self.later(spots, wait).sum(axis=1).min() - limit, int(enough[0]))

    def later(self, states: Floats, wait: float) -> Floats:
        """States after a wait without an arc."""
        return states * np.exp(-self.model.modes.rate * wait)


def _first(excess: Callable[[float], float], number: int) -> float:
    """The shortest wait in whole seconds between two of `WAITS` that leaves no excess, by halving."""
    short, long = int(WAITS[max(number - 1, 0)]), int(np.ceil(WAITS[number]))
    while long - short > 1:
        middle = (short + long) // 2
        short, long = (short, middle) if excess(middle) <= 0 else (middle, long)
    return float(long)


def outlook(model: Model, settings: WeldSettings, bench: Bench) -> Outlook:
    """Look at a job once, before orders are tried on it.

    Raises:
        JobFileError: a bead can be reached at none of the turns the job allows.
    """
    return Outlook(
        model,
        settings,
        positions(model.assembly, bench.turns, bench.overhead),
        np.array([bead.seam for bead in model.assembly.beads]),
        distances(bead_middles(model.assembly)),
        model.modes.spot[np.array([(pieces[0], pieces[-1]) for pieces in model.pieces]).T],
        *_in_time(model, settings),
    )


def relearned(view: Outlook, model: Model, settings: WeldSettings) -> Outlook:
    """The view with another heat flow of the same modes, or another arc heat; places and positions stay."""
    fading, waiting, warming = _in_time(model, settings)
    return replace(view, model=model, settings=settings, fading=fading, waiting=waiting, warming=warming)


def _in_time(model: Model, settings: WeldSettings) -> tuple[Floats, Floats, Floats]:
    """What depends on decay rates and arc heat: fading, waiting and warming of an outlook."""
    modes = model.modes
    fading = np.exp(-np.outer(modes.rate, LAGS))
    inlets = [modes.inlet[:, p] @ (settings.heat_input * model.lengths[p]) for p in model.pieces]
    warming = np.array([(modes.watch * inlet) @ fading for inlet in inlets])
    return fading, np.exp(-np.outer(modes.rate, WAITS)), warming


@dataclass(frozen=True)
class Reach:
    """How the housing may lie for the next bead, and the time it takes to get there.

    Args:
        turn: [deg].
        seconds: time to turn it there [s].
        beads: what may be laid then.
    """

    turn: float
    seconds: float
    beads: Ints


def reaches(view: Outlook, clock: Clock, left: Ints, turn_time: float) -> list[Reach]:
    """Every turn at which some of the beads left may be laid, the present one first."""
    found = [
        Reach(turn, 0.0 if turn == clock.turn else turn_time, left[view.positions.allowed[left, number]])
        for number, turn in enumerate(view.positions.turns)
    ]
    return sorted((reach for reach in found if len(reach.beads)), key=lambda reach: reach.seconds)
