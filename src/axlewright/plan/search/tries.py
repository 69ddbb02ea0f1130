"""Trying orders on the bench, and counting how many."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field, replace

import numpy as np

from axlewright.plan.bench import OnTheBench, Trial
from axlewright.plan.bounds import STRENGTH, Bounds, limits_of, too_warm
from axlewright.plan.outlook import Limits, Outlook
from axlewright.plan.search.archive import Archive, Found
from axlewright.plan.search.orders import Order, order_of, steps_of
from axlewright.plan.timeline import Clock, Timeline, in_time
from axlewright.solid.mesh import Floats

GLANCE = 0.25
"""What putting an order in time costs, as a share of putting it in time and walking it."""

FINE = np.array([0.002, 0.01, 0.005, 0.01])
"""Difference that does not matter in each count: a share of what common practice has, and of a tack's strength."""


@dataclass
class Tries:
    """Orders tried so far on one job.

    Args:
        bench: the job on the bench.
        view: the job as every order sees it.
        within: what a recommended plan must keep.
        common: common practice, tried on the same bench.
        plans: how many orders may be tried.
        seconds: how long the search may take [s].
        say: told after each plan.
    """

    bench: OnTheBench
    view: Outlook
    within: Bounds
    common: Trial
    plans: int
    seconds: float
    say: Callable[[Tries], None]
    archive: Archive = field(init=False)
    limits: Limits = field(init=False)
    scale: Floats = field(init=False)
    walked: int = field(default=0, init=False)
    glanced: int = field(default=0, init=False)
    stopped: bool = field(default=False, init=False)

    def __post_init__(self) -> None:
        """Start the clock of the search."""
        self.began = time.perf_counter()
        self.limits = limits_of(self.bench, self.within)
        self.scale = np.maximum([*self.counts(self.common)[:3], STRENGTH], 1e-9)
        self.archive = Archive(FINE * self.scale)

    @property
    def over(self) -> bool:
        """Whether all orders have been tried, or the time is up."""
        if time.perf_counter() - self.began > self.seconds:
            self.stopped = True
        return self.stopped or self.done >= self.plans

    @property
    def done(self) -> int:
        """How much of the search is done, counted in plans put in time and walked."""
        return int((1.0 - GLANCE) * self.walked + GLANCE * self.glanced)

    def in_time(self, order: Order) -> Timeline:
        """Put an order in time with the waits and turns it needs."""
        clock, bench = self.clock(), self.bench.job.bench
        # A plan may be hotter than the recommended one must be, unless the job itself sets the limit.
        limits = self.limits if self.bench.job.limits.spot is not None else Limits(np.inf, self.limits.watch)
        return in_time(clock, bench, steps_of(self.view, bench, clock, order, limits))

    def try_order(self, order: Order, worth_a_walk: Callable[[Floats], bool] | None = None) -> Found | None:
        """Try an order; None where time and heat alone make it of no use, which saves the walk.

        Args:
            order: the order.
            worth_a_walk: told bench time and hottest spot, with nothing for distortion and tacks.
        """
        line = self.glance(order)
        glance = np.array([line.end, line.spots.max(), 0.0, 0.0])
        if worth_a_walk is not None and not worth_a_walk(glance):
            return None
        return self.judge(order, line)

    def glance(self, order: Order) -> Timeline:
        """Put an order in time without walking it."""
        self.glanced += 1
        return self.in_time(order)

    def try_line(self, line: Timeline, spot: float) -> Found:
        """Try a finished plan that stands in time."""
        self.glanced += 1
        return self.judge(order_of(line.steps, spot), line)

    def judge(self, order: Order, line: Timeline) -> Found:
        """Walk an order that stands in time."""
        self.walked += 1
        trial = self.bench.judged(line)
        warm = round(too_warm(self.bench, trial, self.within), 4)
        found = Found(order, line.steps, self.counts(trial), warm)
        self.archive.offer(found)
        self.say(self)
        return found

    def weigh(self, order: Order) -> Floats:
        """Counts of an order, for comparison only."""
        return self.counts(self.bench.judged(self.in_time(order)))

    def on(self, bench: OnTheBench) -> Tries:
        """The plans found so far, tried again on the same job with other tacks; the search goes on from there."""
        if bench is self.bench:
            return self
        # Told nothing meanwhile: these plans have been counted.
        other = replace(self, bench=bench, say=lambda tries: None)
        other.began, other.scale = self.began, self.scale
        for found in self.archive.plans:
            other.try_line(bench.in_time(found.steps), found.order.spot)
        other.walked, other.glanced, other.stopped = self.walked, self.glanced, self.stopped
        other.say = self.say
        return other

    def counts(self, trial: Trial) -> Floats:
        """Bench time [s], hottest spot [K], distortion [m], worst tack utilisation of a plan."""
        # In a fixture each plan is judged with the shims that suit it best.
        bench = self.bench if self.bench.fixture is None else self.bench.prebent_for(trial.walked)
        distortion = bench.distortion(trial if bench is self.bench else bench.reread(trial))
        return np.array([trial.timeline.end, trial.hottest, distortion, trial.worst_tack])

    def clock(self) -> Clock:
        """The bench when the last tack is set."""
        tacks = self.bench.tacks
        return Clock(self.view.model, self.view.settings, tacks.end, tacks.state)
