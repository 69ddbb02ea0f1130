"""One order by a rule: the coolest spot on the other side that is far enough away; wait only when none is cool."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

import numpy as np

from axlewright.distortion.model import Model
from axlewright.job.schema import Bench
from axlewright.plan.outlook import Limits, Outlook, Reach, reaches
from axlewright.plan.tacking import in_full
from axlewright.plan.timeline import Clock, Step, TackStage, Timeline, in_time
from axlewright.solid.mesh import Floats, Ints

STAY = 1.0
"""Times its own length that a turn must save in waiting before the housing is turned early."""


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

    @property
    def limits(self) -> Limits:
        """What no bead may break."""
        return Limits(self.limit, self.watch_limits)


def coolest_first(view: Outlook, bench: Bench, tacks: TackStage, taste: Taste) -> Timeline:
    """Order all beads, kind by kind, by the given taste, and put them in time."""
    clock = Clock(view.model, view.settings, tacks.end, tacks.state)
    return in_time(clock, bench, choices(view, bench, clock, taste, (), range(len(view.seam))))


def choices(
    view: Outlook, bench: Bench, clock: Clock, taste: Taste, laid: tuple[Step, ...], left: Collection[int]
) -> Iterator[Step]:
    """Order the beads that are left, from where the bench stands now; for `in_time`, which moves the clock.

    Args:
        view: the job as every order sees it.
        bench: habits at the bench.
        clock: time, thermal state and turn now.
        taste: what a choice of the next bead is made by.
        laid: the beads already laid, in order.
        left: numbers of those to be laid.
    """
    chooser, steps = _Chooser(view, bench, clock, taste), list(laid)
    for group in kind_groups(view.model, bench.order):
        to_do = set(group) & set(left)
        while to_do:
            step = chooser.next_step(np.array(sorted(to_do)), steps)
            yield step
            steps.append(step)
            to_do.remove(step.bead)


def kind_groups(model: Model, kinds: tuple[str, ...]) -> list[list[int]]:
    """Beads by kind of attachment, in the order of the trade; lines on the bare tube come last, all together."""
    seams = [model.assembly.seams[bead.seam] for bead in model.assembly.beads]
    kind_of = np.array(["line" if seam.on_bare_skin else seam.kind for seam in seams])
    groups = [np.flatnonzero(kind_of == kind).tolist() for kind in (*in_full(kinds), "line")]
    return [group for group in groups if group]


class _Chooser:
    def __init__(self, view: Outlook, bench: Bench, clock: Clock, taste: Taste) -> None:
        self.view, self.bench, self.clock, self.taste = view, bench, clock, taste
        self.chance = np.random.default_rng(taste.seed)

    def next_step(self, left: Ints, steps: list[Step]) -> Step:
        """The bead to lay next, which way, how the housing lies, and how long to wait for it."""
        offers = [
            self._offer(reach, steps) for reach in reaches(self.view, self.clock, left, self.bench.turn_time)
        ]
        return min(offers, key=lambda offer: offer[0])[1]

    def _offer(self, reach: Reach, steps: list[Step]) -> tuple[float, Step]:
        """What it costs in time to go on at one of the turns, and the best step there."""
        choice, reverse = self._both_ways(self._other_side(reach.beads, steps), reach.turn)
        state = self.clock.state * self.view.model.fading(reach.seconds + self.bench.between_beads)
        wait = self.view.shortest_wait(state, choice, reverse, self.taste.limits)
        if wait:
            state = state * np.exp(-self.view.model.modes.rate * wait)
        spots = self.view.ends[reverse, choice] @ state
        allowed = self.view.excess(state, choice, reverse, self.taste.limits) <= 1e-6
        score = np.where(allowed, self._score(choice, spots, steps), np.inf)
        best = int(np.argmin(np.round(score, 6))) if allowed.any() else int(np.argmin(spots))
        step = Step(int(choice[best]), bool(reverse[best]), wait, reach.turn)
        return (1.0 + STAY) * reach.seconds + wait, step

    def _both_ways(self, beads: Ints, turn: float) -> tuple[Ints, Ints]:
        """Each bead from either end, 0 or 1, where its position leaves that free."""
        demanded = self.view.positions.reverse[beads, self.view.positions.turns.index(turn)]
        forward, backward = beads[demanded >= 0], beads[demanded <= 0]
        reverse = np.repeat([0, 1], [len(forward), len(backward)])
        return np.concatenate([forward, backward]), reverse

    def _other_side(self, left: Ints, steps: list[Step]) -> Ints:
        if not steps or not self.taste.change_side:
            return left
        other = left[self.view.seam[left] != self.view.seam[steps[-1].bead]]
        return other if len(other) else left

    def _score(self, choice: Ints, spots: Floats, steps: list[Step]) -> Floats:
        if self.taste.jitter:
            spots = spots + self.chance.normal(0.0, self.taste.jitter, len(spots))
        if not steps:
            return spots
        laid = np.array([step.bead for step in steps])
        nearest = self.view.distance[np.ix_(choice, laid)].min(axis=1)
        from_last = self.view.distance[choice, laid[-1]]
        return spots - self.taste.per_metre * from_last - self.taste.near_laid * nearest
