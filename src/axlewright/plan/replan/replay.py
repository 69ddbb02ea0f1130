"""Following a log from the first arc to now: the housing's heat is carried from entry to entry."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from axlewright.errors import Fault
from axlewright.plan.bench import OnTheBench
from axlewright.plan.replan.arcs import Arc, Followed, follow
from axlewright.plan.replan.events import (
    AmbientChanged,
    Event,
    TacksDone,
    TackSet,
    TemperatureRead,
    Turned,
)
from axlewright.plan.replan.names import Names
from axlewright.plan.replan.physics import physics_of
from axlewright.plan.replan.readings import TOO_SOON, Checked, doubt, reading_variance
from axlewright.plan.replan.standing import Met, Standing
from axlewright.plan.replan.thermometer import (
    Physics,
    arced,
    corrected,
    passed,
    surplus_spread,
    unread,
)
from axlewright.plan.settings import WeldSettings, weld_settings
from axlewright.plan.timeline import Step
from axlewright.solid.mesh import Floats
from axlewright.units import format_temperature

HALF_A_MINUTE = 30.0
"""A time written to the minute is on average this much too early [s]."""


def names_for(bench: OnTheBench, steps: tuple[Step, ...]) -> Names:
    """The beads, tacks and places of a job by name, with the directions of a plan."""
    return Names(
        bench.model.assembly,
        bench.tacks.stretches,
        bench.model.modes.places,
        bench.job.housing.length / 2,
        frozenset(step.bead for step in steps if step.reverse),
    )


def since_first_arc(bench: OnTheBench, events: tuple[Event, ...]) -> tuple[tuple[Event, ...], float]:
    """Clock times turned into seconds from the first arc, and the clock's reading at it [s].

    The first arc is the first tack that was logged; else the tack stage is taken to have lasted as planned, up
    to "tacks done" or to the first bead.
    """
    if not events:
        return (), 0.0
    tacks = [event.time for event in events if isinstance(event, TackSet)]
    done = [event.time for event in events if isinstance(event, TacksDone)]
    if tacks:
        zero = min(tacks)
    elif done:
        zero = done[0] - bench.tacks.end
    else:
        zero = _first_arc(bench, events) - bench.job.bench.between_beads - bench.tacks.end
    return tuple(replace(event, time=event.time - zero) for event in events), zero


def _first_arc(bench: OnTheBench, events: tuple[Event, ...]) -> float:
    arcs = follow(bench.job, names_for(bench, ()), events).arcs
    return arcs[0].start if arcs else min(event.time for event in events)


def where_things_stand(
    bench: OnTheBench,
    steps: tuple[Step, ...],
    events: tuple[Event, ...],
    now: float | None = None,
    physics: Physics | None = None,
) -> Standing:
    """Follow a log from the first arc to now.

    Args:
        bench: the job on the bench.
        steps: the plan it was begun with, for the directions of beads and the turns of the housing.
        events: what happened; times in seconds from the first arc.
        now: the present [s]; left out, the moment of the last entry.
        physics: the heat balance where it is known already; it is worked out once for many logs.
    """
    names = names_for(bench, steps)
    followed = follow(bench.job, names, events)
    turns = {step.bead: step.turn for step in steps}
    replay = _Replay(bench, names, followed, physics or physics_of(bench), turns)
    replay.run()
    return replay.standing(now)


class _Replay:
    """The housing's heat, carried from entry to entry."""

    def __init__(
        self,
        bench: OnTheBench,
        names: Names,
        followed: Followed,
        physics: Physics,
        turns: dict[int, float],
    ) -> None:
        self.bench, self.names, self.followed = bench, names, followed
        self.physics, self.modes = physics, bench.model.modes
        self.estimate = unread(physics)
        self.ambient, self.turn = bench.job.ambient.temperature, 0.0
        # A log that tells of no turn is taken to have turned the housing as planned for each bead.
        logged = any(isinstance(action, Turned) for action in followed.actions)
        self.turns = {} if logged else turns
        self.tacks = self._planned_tacks()
        times = [time for time, _ in self.tacks] + [_time(action) for action in followed.actions]
        self.now = min(times, default=0.0)
        self.since = self.now
        self.met: list[Met] = []
        self.readings: list[Checked] = []
        self.faults: list[Fault] = list(followed.faults)

    def _planned_tacks(self) -> list[tuple[float, int]]:
        """When each tack was set and its number, as planned; none where the log tells of tacks itself."""
        stage, followed = self.bench.tacks, self.followed
        if followed.tacks_set:
            return []
        done = [event.time for event in followed.actions if isinstance(event, TacksDone)]
        begun = [arc.start - self.bench.job.bench.between_beads for arc in followed.arcs[:1]]
        shift = (done[0] if done else min([stage.end, *begun])) - stage.end
        return [
            (float(start) + shift, number)
            for number, start in enumerate(stage.starts)
            if number not in followed.tacks_out
        ]

    def run(self) -> None:
        """Go through everything in order."""
        tacks = list(self.tacks)
        for action in self.followed.actions:
            while tacks and tacks[0][0] <= _time(action):
                self._tack(*tacks.pop(0))
            self._wait_until(_time(action))
            self._do(action)
        for time, tack in tacks:
            self._tack(time, tack)

    def _wait_until(self, time: float) -> None:
        self.estimate = passed(self.physics, self.estimate, time - self.now)
        self.now = max(self.now, time)

    def _do(self, action: Arc | Event) -> None:
        if isinstance(action, Arc):
            self._arc(action)
        elif isinstance(action, TackSet):
            self._tack(action.time, action.tack)
        elif isinstance(action, TemperatureRead):
            self._read(action)
        elif isinstance(action, AmbientChanged):
            # The steel stays as warm as it is; its rise is counted from the new air.
            assert self.physics.rise is not None
            rise = self.physics.rise * (self.ambient - action.temperature)
            self.estimate = replace(self.estimate, state=self.estimate.state + rise)
            self.ambient = action.temperature
        elif isinstance(action, Turned):
            self.turn = action.turn

    def _tack(self, time: float, tack: int) -> None:
        self._wait_until(time)
        stretches = self.bench.tacks.stretches[[tack]]
        seconds = self.bench.tack_lengths[[tack]] / self.bench.settings.travel_speed
        power = self.bench.heated.power
        self.estimate = arced(self.physics, self.estimate, stretches, power, seconds, spread=0.0)
        self.now += float(seconds[0])
        # A plan counts the handling of the last tack to the tack stage.
        self.since = self.now + self.bench.job.bench.tack_seconds

    def _arc(self, arc: Arc) -> None:
        self.turn = self.turns.get(arc.bead, self.turn)
        power = arc.settings.power * self.bench.inputs.heat
        row = self.modes.spot[arc.stretches[0]]
        seconds = arc.lengths / arc.lengths.sum() * (arc.end - arc.start)
        planned = self.bench.heated.heat_input * float(arc.lengths.sum())
        heat = self.estimate.efficiency * power * (arc.end - arc.start) / planned
        spot = self.ambient + float(row @ self.estimate.state)
        self.met.append(Met(arc, self.estimate.state, spot, heat, self.turn))
        self.estimate = arced(self.physics, self.estimate, arc.stretches, power, seconds)
        self.now = self.since = max(self.now, arc.end)

    def _read(self, event: TemperatureRead) -> None:
        if not event.exact:
            # Written to the minute: most likely in its middle, and not beside an arc that has just stopped.
            self._wait_until(max(event.time + HALF_A_MINUTE, self.now + TOO_SOON))
            event = replace(event, time=self.now)
        row = self._row(event)
        rise = float(row @ self.estimate.state)
        falling = 0.0 if event.exact else float(row @ (self.modes.rate * self.estimate.state))
        variance = reading_variance(event.error, rise) + (HALF_A_MINUTE * falling) ** 2
        spread = surplus_spread(self.estimate, row, variance)
        why = self._unusable(event) or doubt(self.estimate, row, variance, self.ambient, event.temperature)
        if why:
            self._doubted(event, why, self.ambient + rise)
        else:
            self.estimate = corrected(self.estimate, row, event.temperature - self.ambient, variance)
        self.readings.append(
            Checked(
                event.time,
                event.stretch,
                event.place,
                event.temperature,
                self.ambient + rise,
                spread,
                not why,
                why,
                event.where,
            )
        )

    def _row(self, event: TemperatureRead) -> Floats:
        if event.place is not None:
            return np.asarray(self.modes.watch[event.place])
        return np.asarray(self.modes.spot[event.stretch])

    def _unusable(self, event: TemperatureRead) -> str:
        """Why a reading cannot be used, whatever it shows."""
        if event.time < self.now - 1e-6:
            return "an arc was burning; read between beads"
        last = self.met[-1].arc if self.met else None
        near = (
            last is not None and event.stretch is not None and abs(event.stretch - last.stretches).min() <= 1
        )
        if last is not None and near and event.time - last.end < TOO_SOON:
            return f"read within {TOO_SOON:.0f} s of an arc beside it; wait that long"
        error = 0.0 if event.error is None else event.error
        if (self.met or self.followed.tacks_set or self.tacks) and event.temperature < self.ambient - max(
            error, 2.0
        ):
            air = format_temperature(self.ambient, self.bench.job.inch)
            return f"below the air's {air} after an arc; if the air is colder now, log it as ambient"
        return ""

    def _doubted(self, event: TemperatureRead, why: str, expected: float) -> None:
        inch = self.bench.job.inch
        shown = format_temperature(event.temperature, inch)
        allowed = f"{why}. Expected {format_temperature(expected, inch)}"
        remedy = "It is not used; read again, or mend the line."
        self.faults.append(Fault(f"{event.where}: temperature", shown, allowed, remedy))

    def standing(self, now: float | None) -> Standing:
        """Where things stand at a moment, or after the last entry where that is later."""
        last = self.followed.arcs[-1] if self.followed.arcs else None
        burning = last is not None and last.burning and (now is None or now < last.end)
        self._wait_until(max(self.since, self.now if now is None else now))
        assembly, coverage = self.bench.model.assembly, self.followed.coverage
        left = tuple(
            bead
            for bead in range(len(assembly.beads))
            if bead not in self.followed.skipped and not coverage.is_laid(bead)
        )
        return Standing(
            self.now,
            self.since,
            self.estimate,
            self.physics,
            self.ambient,
            self.turn,
            self._settings(),
            tuple(self.met),
            coverage,
            left,
            self.followed.skipped,
            self.followed.tacks_out,
            last.bead if last is not None and burning else None,
            tuple(self.readings),
            tuple(self.faults),
        )

    def _settings(self) -> WeldSettings:
        """How the machine is set now, with the arc heat that the shop has learned."""
        settings, scale = weld_settings(self.followed.job), self.bench.inputs.heat
        return replace(settings, power=scale * settings.power, heat_input=scale * settings.heat_input)


def _time(action: Arc | Event) -> float:
    return action.start if isinstance(action, Arc) else action.time
