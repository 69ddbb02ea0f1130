"""What loss and air do to the modes, against models made afresh."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from plan.planned import small_job
from reference.benches import bench_for
from reference.jobs import demo

from axlewright.heat.reduce import HeatModes, reduce_heat
from axlewright.heat.system import heat_system
from axlewright.job.schema import Job
from axlewright.plan.common_practice import common_practice
from axlewright.plan.replan.loss import loss_rates, uniform_rise, with_loss
from axlewright.solid.mesh import Floats


def afresh(job: Job, loss: float) -> tuple[HeatModes, Floats]:
    """Modes of a job with another loss, and their nodal temperatures, reduced from the full heat balance."""
    assembly = bench_for(job).model.assembly
    seals = tuple((seal.name, seal.at) for seal in job.housing.seals)
    system = heat_system(assembly, job.ambient.temperature, seals, loss_factor=loss)
    return reduce_heat(system, np.array([stretch.bead for stretch in assembly.stretches]))


@pytest.mark.analytical
def test_the_uniform_rise_is_one_kelvin_everywhere() -> None:
    """On every node it reads 1; the reduced space holds it, so only the solver's rounding is allowed for."""
    job = demo("truss-only")
    modes, shapes = afresh(job, 1.0)
    rise = shapes @ uniform_rise(modes)
    assert np.abs(rise - 1.0).max() < 1e-6


@pytest.mark.analytical
def test_the_loss_rate_is_that_of_the_whole_body() -> None:
    """h A / (M c) from the modes is what skin and capacities of the mesh give, within 1e-6."""
    job = demo("truss-only")
    bench = bench_for(job)
    system = heat_system(bench.model.assembly, job.ambient.temperature)
    whole = system.loss.sum() / system.capacity.sum()
    assert loss_rates(bench.model.modes) == pytest.approx(whole, rel=1e-6)


@pytest.mark.regression
@pytest.mark.parametrize(("job", "allowed"), [(small_job(), 0.4), (demo("truss-only"), 0.4)])
def test_more_loss_is_nearly_a_model_made_afresh(job: Job, allowed: float) -> None:
    """Spots of common practice with 1.3 times the loss: rms of at most 0.4 K, far below the nominal model's."""
    bench = bench_for(job)
    steps = common_practice(bench.model.assembly, job.bench)

    def spots(modes: HeatModes) -> Floats:
        return replace(bench, model=replace(bench.model, modes=modes)).in_time(steps).spots

    true, nominal = spots(afresh(job, 1.3)[0]), spots(bench.model.modes)
    moved = spots(with_loss(bench.model.modes, loss_rates(bench.model.modes), 1.3))
    rms = [float(np.sqrt(np.mean((found - true) ** 2))) for found in (nominal, moved)]
    print(f"loss x 1.3: nominal {rms[0]:.2f} K, moved {rms[1]:.2f} K")
    assert rms[1] < allowed < rms[0] / 2
