"""A "true" housing with other loss and other arc heat is welded by replanning from noisy readings."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import pytest
from reference.benches import bench_for
from reference.jobs import demo
from replan.bench_log import intent_for, waiting_job

from axlewright.heat.reduce import reduce_heat
from axlewright.heat.system import heat_system
from axlewright.job.schema import Job
from axlewright.plan.bench import OnTheBench
from axlewright.plan.replan.events import ArcStarted, ArcStopped, Event, TemperatureRead
from axlewright.plan.replan.remaining import best_from_here
from axlewright.plan.replan.standing import Standing
from axlewright.plan.timeline import Clock

LOSS, HEAT = 1.3, 0.9
READING_ERROR = 2.5
"""Standard deviation of the readings [K]."""


@dataclass
class Welded:
    """What a simulated weld found: spot temperatures at each arc, true, as corrected, as if nothing were read."""

    true: list[float]
    corrected: list[float]
    uncorrected: list[float]
    standing: Standing

    def errors(self) -> tuple[float, float]:
        """Root mean square error of the corrected and of the uncorrected spots [K]."""
        true = np.array(self.true)
        found = [np.array(values) - true for values in (self.corrected, self.uncorrected)]
        return float(np.sqrt(np.mean(found[0] ** 2))), float(np.sqrt(np.mean(found[1] ** 2)))


def true_bench(job: Job) -> OnTheBench:
    """The job with its loss changed in the full heat balance, reduced afresh, and another arc heat."""
    nominal = bench_for(job)
    assembly = nominal.model.assembly
    seals = tuple((seal.name, seal.at) for seal in job.housing.seals)
    system = heat_system(assembly, job.ambient.temperature, seals, loss_factor=LOSS)
    modes, _ = reduce_heat(system, np.array([stretch.bead for stretch in assembly.stretches]))
    settings = replace(
        nominal.settings,
        power=HEAT * nominal.settings.power,
        heat_input=HEAT * nominal.settings.heat_input,
    )
    return OnTheBench(job, replace(nominal.model, modes=modes), settings)


def weld(job: Job, seed: int) -> Welded:
    """Weld a whole job: after each bead read one spot that comes later, ask for the way on, and follow it."""
    intent, true, chance = intent_for(job), true_bench(job), np.random.default_rng(seed)
    ambient, events = job.ambient.temperature, []
    clock = Clock(true.model, true.settings, true.tacks.end, true.tacks.state)
    found = Welded([], [], [], intent.standing(()))
    while (way := best_from_here(intent, found.standing)).line is not None:
        step, start = way.steps[0], float(way.line.starts[0])
        clock.turn_to(step.turn, 0.0)
        clock.pass_time(start - clock.now)
        found.true.append(clock.spot(step.bead, step.reverse))
        found.corrected.append(float(way.line.spots[0]))
        plain = tuple(event for event in events if not isinstance(event, TemperatureRead))
        started = ArcStarted(time=start, bead=step.bead, from_s=_from(true, step.bead, step.reverse))
        blind = intent.standing((*plain, started))
        found.uncorrected.append(blind.met[-1].spot_c - ambient)
        clock.weld(step.bead, step.reverse)
        events += [started, ArcStopped(time=clock.now, bead=step.bead)]
        clock.pass_time(20.0)
        events.append(_reading(true, clock, found.standing.left, ambient, chance))
        found.standing = intent.standing(tuple(events))
    return found


def _from(bench: OnTheBench, bead: int, reverse: bool) -> float:
    piece = bench.model.assembly.beads[bead]
    return piece.end if reverse else piece.start


def _reading(
    bench: OnTheBench, clock: Clock, left: tuple[int, ...], ambient: float, chance: np.random.Generator
) -> Event:
    stretch = int(chance.choice(bench.model.pieces[int(chance.choice(left))]))
    rise = float(bench.model.modes.spot[stretch] @ clock.state)
    shown = max(ambient + rise + float(chance.normal(0.0, READING_ERROR)), ambient)
    return TemperatureRead(time=clock.now, temperature=shown, stretch=stretch, error=2 * READING_ERROR)


@pytest.mark.analytical
@pytest.mark.parametrize(
    ("job", "better"), [(waiting_job(), 0.75), (demo("truss-only"), 0.5)], ids=["small", "truss-only"]
)
def test_readings_bring_the_spots_closer_to_the_truth(job: Job, better: float) -> None:
    """With 1.3 times the loss and 0.9 of the heat, corrected spots err clearly less than uncorrected ones."""
    welded = weld(job, seed=1)
    corrected, uncorrected = welded.errors()
    estimate = welded.standing.estimate
    print(
        f"spots off by {corrected:.2f} K corrected, {uncorrected:.2f} K uncorrected; learned heat "
        f"{estimate.efficiency:.3f} (true {HEAT}), loss {estimate.loss:.2f} (true {LOSS})"
    )
    assert corrected < better * uncorrected
    assert len(welded.true) == len(bench_for(job).model.assembly.beads)


@pytest.mark.analytical
def test_the_factors_are_learned() -> None:
    """After 36 beads and readings the true heat and loss lie within two standard deviations, closer than before."""
    estimate = weld(demo("truss-only"), seed=1).standing.estimate
    for factor, true, before in ((-2, HEAT, 0.10), (-1, LOSS, 0.30)):
        spread = estimate.factor_spread(factor)
        assert abs(estimate.factors[factor] - np.log(true)) < 2 * spread
        assert spread < before / 2


@pytest.mark.analytical
def test_spots_keep_to_the_limit_better_than_the_plan_would_say() -> None:
    """The hottest true spot exceeds the limit by no more than the readings' error allows (two deviations)."""
    job = waiting_job()
    welded = weld(job, seed=2)
    limit = job.limits.spot - job.ambient.temperature
    assert max(welded.true) < limit + 2 * READING_ERROR + 1.0
