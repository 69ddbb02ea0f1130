"""The heat balance of the demo `truss-only`, and beads laid on it one after another."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

import numpy as np
from reference.jobs import demo
from reference.plates import beads_of

from axlewright.heat.reduce import HeatModes, reduce_heat
from axlewright.heat.state import cold, cooled, welded
from axlewright.heat.system import HeatSystem, heat_system
from axlewright.housing.assembly import Assembly, assemble_job
from axlewright.housing.seam import stretches_of
from axlewright.plan.common_practice import common_practice
from axlewright.plan.settings import weld_settings
from axlewright.solid.mesh import Floats, Ints

JOB = demo("truss-only")
POWER, SPEED = weld_settings(JOB).power, JOB.welder.travel_speed
BETWEEN = JOB.bench.between_beads


@cache
def assembly() -> Assembly:
    """The meshed job."""
    return assemble_job(JOB)


@cache
def system(loss_factor: float = 1.0) -> HeatSystem:
    """Its heat balance in air at 20 degC."""
    return heat_system(assembly(), 20.0, loss_factor=loss_factor)


@cache
def reduced(loss_factor: float = 1.0) -> tuple[HeatModes, Floats]:
    """Its modes and their nodal temperatures."""
    return reduce_heat(system(loss_factor), beads_of(assembly()))


def path_of(bead: int) -> Ints:
    """Stretches of a bead."""
    return stretches_of(assembly().stretches, bead)


def seconds_of(path: Ints) -> Floats:
    """Time the arc spends on each stretch [s]."""
    return np.array([assembly().stretches[n].length for n in path]) / SPEED


def by_practice(cool_down: bool = True) -> list[tuple[int, float]]:
    """Beads of common practice and the wait before each [s], its cool-downs left out if so wished."""
    steps = common_practice(assembly(), JOB.bench)
    return [(step.bead, BETWEEN + (step.wait if cool_down else 0.0)) for step in steps]


def side_by_side() -> list[tuple[int, float]]:
    """All beads as numbered, each beside the last, without cool-downs."""
    return [(bead, BETWEEN) for bead in range(len(assembly().beads))]


def spot_rises(modes: HeatModes, beads: Iterable[tuple[int, float]]) -> Floats:
    """Rise of the spot temperature before each bead [K]."""
    state, spots = cold(modes), []
    for bead, wait in beads:
        path = path_of(bead)
        state = cooled(modes, state, wait)
        spots.append(modes.spot[path[0]] @ state)
        state = welded(modes, state, path, POWER, seconds_of(path))
    return np.array(spots)
