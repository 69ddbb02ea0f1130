"""What lies ahead of one standing: its limits, and orders of the beads left put in time and judged."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from axlewright.plan.bench import Trial
from axlewright.plan.bounds import HEAT_SLACK, Bounds, excess, limits_of, over
from axlewright.plan.coolest_first import Taste, choices
from axlewright.plan.outlook import Limits, Outlook, relearned
from axlewright.plan.replan.intent import Intent
from axlewright.plan.replan.loss import with_loss
from axlewright.plan.replan.standing import Standing
from axlewright.plan.replan.whole import step_of, whole_line, without_lost_tacks
from axlewright.plan.search.orders import Order, steps_of
from axlewright.plan.timeline import Clock, Step, Timeline, in_time, pause_before

SLACK = 0.5
"""What a plan that is kept may exceed its limits by: a log rounds its times [K]."""

WORTH = (60.0, 0.05)
"""What a change of a plan must gain: seconds, and a share of the time left. Less is not worth confusing a welder."""


@dataclass(frozen=True)
class Remaining:
    """A way on from here.

    Args:
        steps: the beads to come; the wait of the first counts from the end of the last arc.
        line: them in time, seconds from the first arc; None where nothing is left.
        trial: all beads walked, those laid as they were laid; None before the first and after the last.
        kept: "plan" where it is the plan's own rest, "order" where only waits and turns differ, "" otherwise.
        excess: how far it goes beyond what must be kept, as a share [1].
    """

    steps: tuple[Step, ...]
    line: Timeline | None
    trial: Trial | None
    kept: str
    excess: float

    @property
    def end(self) -> float:
        """When the last arc stops, seconds from the first arc [s]; minus infinity where nothing is left."""
        return -np.inf if self.line is None else self.line.end


class LateClock(Clock):
    """A clock at which some of the next pause has passed already."""

    def __init__(self, view: Outlook, standing: Standing) -> None:
        super().__init__(view.model, view.settings, standing.now, standing.estimate.state)
        self.turn = standing.turn
        self.passed = standing.now - standing.since

    def pass_time(self, seconds: float) -> None:
        """Let time pass, less what has passed already."""
        done = min(self.passed, seconds)
        self.passed -= done
        super().pass_time(seconds - done)

    def weld(self, bead: int, reverse: bool) -> float:
        """Weld a bead now; pauses are whole again afterwards."""
        self.passed = 0.0
        return super().weld(bead, reverse)


class Ahead:
    """What lies ahead of one standing: its limits, and orders of the beads left put in time.

    Args:
        intent: what was planned.
        standing: where things stand.
    """

    def __init__(self, intent: Intent, standing: Standing) -> None:
        self.intent, self.standing = intent, standing
        self.bench = without_lost_tacks(intent.bench, standing.tacks_out)
        self.habits = intent.bench.job.bench
        model = intent.bench.model
        if standing.estimate.loss != 1.0:
            physics = standing.physics
            model = replace(model, modes=with_loss(model.modes, physics.loss_rates, standing.estimate.loss))
        changed_view = model is not intent.bench.model or standing.heated != intent.bench.heated
        self.view = relearned(intent.view, model, standing.heated) if changed_view else intent.view
        self.goal = self._goal()
        self.limits = limits_of(intent.bench, self.goal)

    def _goal(self) -> Bounds:
        """Bounds as rises over the air as it is now."""
        goal, warmer = self.intent.goal, self.standing.ambient - self.intent.bench.job.ambient.temperature
        seal = None if goal.seal is None else goal.seal - warmer
        return replace(goal, hottest=goal.hottest - warmer, seat=goal.seat - warmer, seal=seal)

    def planned_steps(self) -> tuple[Step, ...]:
        """What is left of the plan, in its order; beads it did not have come last."""
        left = set(self.standing.left)
        rest = [step for step in self.intent.steps if step.bead in left]
        missing = sorted(left - {step.bead for step in rest})
        return (*rest, *(Step(bead, False, 0.0, self.standing.turn) for bead in missing))

    def as_planned(self) -> Timeline:
        """The rest of the plan with its own waits."""
        return in_time(LateClock(self.view, self.standing), self.habits, self.planned_steps())

    def rewaited(self, steps: tuple[Step, ...]) -> Timeline:
        """The same beads, directions and turns with waits by the temperatures as they are now."""
        clock = LateClock(self.view, self.standing)
        return in_time(clock, self.habits, self._waiting(clock, steps))

    def _waiting(self, clock: LateClock, steps: tuple[Step, ...]) -> Iterator[Step]:
        for step in steps:
            pause = pause_before(self.habits, clock, step.turn)
            # Some of the first pause may have passed; what has passed beyond it was a wait.
            soonest = max(pause, clock.passed)
            state = self.view.later(clock.state, soonest - clock.passed)
            bead, way = np.array([step.bead]), np.array([int(step.reverse)])
            wait = self.view.shortest_wait(state, bead, way, self.limits)
            yield replace(step, wait=soonest - pause + wait)

    def turned_less(self, steps: tuple[Step, ...]) -> Timeline:
        """The same beads with as few turns of the housing as they need, and waits by temperature."""
        clock = LateClock(self.view, self.standing)
        order = self.order(steps)
        turned = in_time(clock, self.habits, steps_of(self.view, self.habits, clock, order, self.limits))
        return turned if self.standing.now == self.standing.since else self.rewaited(turned.steps)

    def order(self, steps: tuple[Step, ...]) -> Order:
        """The order in which steps lie; beads not among them as welded from their start."""
        reverse = [False] * len(self.view.seam)
        for step in steps:
            reverse[step.bead] = step.reverse
        return Order(tuple(step.bead for step in steps), tuple(reverse), np.inf)

    def by_taste(self, taste: Taste) -> Timeline:
        """The order that a taste makes of the beads left."""
        clock = LateClock(self.view, self.standing)
        laid = tuple(step_of(met) for met in self.standing.met)
        beads = choices(self.view, self.habits, clock, taste, laid, self.standing.left)
        line = in_time(clock, self.habits, beads)
        # The rule does not know that some of the first pause has passed.
        return line if self.standing.now == self.standing.since else self.rewaited(line.steps)

    def too_hot(self, line: Timeline) -> float:
        """How far spots, seats and seals get beyond their limits, as a share of each, summed."""
        watch = [
            (float(value), float(limit))
            for value, limit in zip(line.warmest, self.limits.watch, strict=True)
            if np.isfinite(limit)
        ]
        return over([(float(line.spots.max()), self.limits.spot + HEAT_SLACK), *watch])

    def judged(self, line: Timeline, kept: str) -> Remaining:
        """A way on with the shape it leads to."""
        # The walk reads states on the modes of the model, which other losses only make decay faster.
        whole = whole_line(self.bench, self.standing, line)
        assert whole is not None
        trial = self.bench.judged(whole)
        if self.standing.tacks_out:
            there = np.array([n not in self.standing.tacks_out for n in range(len(trial.tack_utilisation))])
            trial = replace(trial, tack_utilisation=trial.tack_utilisation * there)
        return Remaining(line.steps, line, trial, kept, excess(self.bench, trial, self.goal))

    def holds(self, planned: Timeline, by_temperature: Timeline) -> bool:
        """Whether the plan's own waits still do: they keep the limits, and nothing has cooled that they wait for."""
        loose = Limits(self.limits.spot + SLACK, self.limits.watch + SLACK)
        cool = planned.spots.max() <= loose.spot and bool((planned.warmest <= loose.watch).all())
        # A limit that even waiting cannot keep is no reason to leave the plan.
        cool = cool or self.too_hot(planned) <= self.too_hot(by_temperature) + 1e-3
        as_expected = self._cooler_than_planned(planned) <= SLACK
        return cool and (as_expected or planned.end - by_temperature.end <= self.worth(by_temperature))

    def _cooler_than_planned(self, planned: Timeline) -> float:
        """How much cooler than it was planned any spot will be [K]."""
        plan = self.intent.plan.timeline
        expected = {step.bead: float(spot) for step, spot in zip(plan.steps, plan.spots, strict=True)}
        warmer = self.standing.ambient - self.intent.bench.job.ambient.temperature
        return max(
            expected[step.bead] - warmer - float(spot)
            for step, spot in zip(planned.steps, planned.spots, strict=True)
        )

    def worth(self, line: Timeline) -> float:
        """What a change must gain to be made [s]."""
        seconds, share = WORTH
        return max(seconds, share * (line.end - self.standing.now))
