"""The walk on the condensed model against re-solving the whole mesh bead by bead."""

from __future__ import annotations

import numpy as np
import pytest
from reference.benches import bench_for
from reference.full_order import FullOrderWalk, full_order_for
from reference.jobs import demo, plain_tube, strip

from axlewright.distortion.shape import cold_shape
from axlewright.distortion.springs import fillet_stiffness
from axlewright.plan.bench import OnTheBench
from axlewright.plan.common_practice import common_practice
from axlewright.plan.timeline import Step, Timeline
from axlewright.weld.steel import steel


def resolved(bench: OnTheBench, line: Timeline) -> FullOrderWalk:
    """Weld a plan on the full mesh."""
    walk = full_order_for(bench)
    per_length = fillet_stiffness(bench.settings.leg, steel(bench.job.housing.steel))
    for stretch, state in zip(bench.tacks.stretches, bench.tacks.states.T, strict=True):
        walk.set_tack(int(stretch), per_length * bench.job.welder.tack_length, state)
    laying = line.laying
    for number, (begin, end) in enumerate(zip(laying.first[:-1], laying.first[1:], strict=True)):
        lengths = laying.lengths[begin:end]
        stiffness = (lengths[:, None] * per_length).ravel()
        walk.lay_bead(laying.stretches[begin:end], stiffness, bench.shrink, lengths, laying.states[:, number])
    return walk


@pytest.mark.analytical
@pytest.mark.xdist_group("full order")
def test_walk_equals_full_order_resolution_on_the_36_bead_demo() -> None:
    """Without waits, tacks and all heat included, the condensed walk gives the shape the whole mesh gives."""
    # Source: the same elastic problem solved without condensation, one factorisation a step. The requirement is 1 %;
    # the two are algebraically equal, so 1e-6 of the largest reading leaves room for round-off alone.
    bench = bench_for(demo("truss-only"))
    order = common_practice(bench.model.assembly, bench.job.bench)
    line = bench.in_time(tuple(Step(step.bead, step.reverse, 0.0) for step in order))
    walk = resolved(bench, line)
    cold = walk.rows @ walk.displacement(np.zeros(len(bench.model.modes.rate)))
    fast = bench.walk(line).cold
    count = 6 * len(bench.model.host_share)
    for part in (slice(0, count), slice(count, None)):
        assert np.abs(fast[part] - cold[part]).max() < 1e-6 * np.abs(cold[part]).max()
    shape, slow = bench.shape(bench.walk(line)), cold_shape(bench.model.stations, cold[count:])
    assert shape.bow_vertical == pytest.approx(slow.bow_vertical, rel=0.01)
    assert shape.camber == pytest.approx(slow.camber, rel=0.01)


@pytest.mark.analytical
def test_tack_forces_equal_full_order_ones() -> None:
    """The force of a tack halfway through a small job is what the full mesh gives at that moment."""
    # Source: as above. Tolerance 1e-6 of the force: round-off.
    bench = bench_for(plain_tube(strip(length=150)))
    line = bench.in_time(tuple(Step(bead, False, 0.0) for bead in range(len(bench.model.assembly.beads))))
    half = len(line.steps) // 2
    forces = bench.walk(line).tack_forces
    walk = resolved(bench, bench.in_time(line.steps[:half]))
    state = line.laying.states[:, half]
    reading = walk.rows @ walk.displacement(state)
    alive = [n for n in range(len(bench.tacks.stretches)) if np.abs(forces[n, :, half]).max() > 0]
    assert alive
    for tack in alive:
        rows = 4 * int(bench.tacks.stretches[tack]) + np.arange(3)
        stiffness, zero = np.array([walk.springs[int(2 * row)] for row in rows]).T
        expected = stiffness * (reading[rows] - zero)
        assert forces[tack, :, half] == pytest.approx(expected, abs=1e-6 * np.abs(forces).max())


@pytest.mark.analytical
def test_beads_carry_nothing_when_they_are_born() -> None:
    """A job of one bead without shrinkage and without heat stays as it was."""
    # Source: a stress-free spring in an unloaded structure. Tolerance: round-off of a displacement of micrometres.
    bench = bench_for(plain_tube(strip(length=150)))
    line = bench.in_time((Step(0, False, 0.0),))
    walked = bench.walk(line)
    assert np.isfinite(walked.cold).all()
    assert np.abs(walked.bead_forces).max() > 0, "shrinkage must load the bead itself"
