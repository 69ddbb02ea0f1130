"""In which order chosen lines are laid, with what waits: as for welding, the coolest and farthest spot first.

Only the chosen lines heat the housing, so the heat balance is reduced to them; the welded seams pass heat as they do
while the housing is welded. Each stage starts cold, because the housing is measured cold before it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from scipy.sparse import csc_array

from axlewright.distortion.condense import Condensed
from axlewright.distortion.model import Model
from axlewright.errors import JobFileError
from axlewright.heat.reduce import reduce_heat
from axlewright.heat.state import cold
from axlewright.heat.system import across_seams, heat_system
from axlewright.housing.assembly import Assembly
from axlewright.housing.lines import Line
from axlewright.housing.seam_points import sample_points
from axlewright.job.schema import Job
from axlewright.plan.bench import kind_of_place
from axlewright.plan.bounds import watch_limits
from axlewright.plan.coolest_first import Taste, choices
from axlewright.plan.outlook import Outlook, outlook
from axlewright.plan.positions import positions
from axlewright.plan.settings import WeldSettings
from axlewright.plan.timeline import Clock, Timeline, in_time
from axlewright.solid.mesh import Ints
from axlewright.straightness.correct.effects import line_wall, with_lines

WARMEST_SPOT = 60.0
"""Highest rise of the skin over the air where a line begins, where the job sets no limit [K]: the tube shall be cold
beside a line when it shrinks, and what is left of the last one adds to the peak of the next; a judgement."""

PER_METRE = 10.0
"""Kelvins a spot may be warmer for each metre it lies farther from the last line."""


@dataclass(frozen=True)
class Ordered:
    """Lines in time.

    Args:
        stages: the lines of each stage in time, each from a cold housing.
        seat_c: warmest knuckle bearing seat on the way [degC].
    """

    stages: tuple[Timeline, ...]
    seat_c: float


def ordered(
    job: Job, assembly: Assembly, lines: tuple[Line, ...], stages: tuple[Ints, ...], settings: WeldSettings
) -> Ordered:
    """Put lines in order and in time.

    Args:
        job: the job.
        assembly: its mesh and its welded seams.
        lines: the lines.
        stages: numbers of the lines of each stage.
        settings: how they are heated.

    Raises:
        JobFileError: a line is not `reachable`.
    """
    model = lines_model(job, assembly, lines)
    view = outlook(model, settings, job.bench)
    done = tuple(_stage(job, view, settings, stage) for stage in stages if len(stage))
    seats = [n for n, name in enumerate(model.modes.places) if kind_of_place(name) == "bearing seat"]
    warmest = max(float(stage.warmest[seats].max()) for stage in done)
    return Ordered(done, job.ambient.temperature + warmest)


def reachable(job: Job, assembly: Assembly, lines: tuple[Line, ...]) -> tuple[Line, ...]:
    """Those lines that can be laid in an allowed position at one of the turns the job allows."""
    # Lines along a round tube look where their clock position looks, whatever their place along it.
    one_of_each = {line.angle: line for line in lines}
    allowed = {angle for angle, line in one_of_each.items() if _has_position(job, assembly, line)}
    return tuple(line for line in lines if line.angle in allowed)


def _has_position(job: Job, assembly: Assembly, line: Line) -> bool:
    try:
        positions(with_lines(assembly, (line,), np.inf), job.bench.turns, job.bench.overhead)
    except JobFileError:
        return False
    return True


def lines_model(job: Job, assembly: Assembly, lines: tuple[Line, ...]) -> Model:
    """The reduced heat balance of the welded housing with lines as its only beads; it holds no stiffness."""
    laid = with_lines(assembly, lines, np.inf)
    seals = tuple((seal.name, seal.at) for seal in job.housing.seals)
    system = heat_system(laid, job.ambient.temperature, seals)
    if assembly.stretches:
        # The lines' own assembly knows nothing of the seams that are welded already.
        crossing = across_seams(assembly, sample_points(assembly))
        system = replace(system, flow=csc_array(system.flow + crossing), across_seams=crossing)
    modes, _ = reduce_heat(system, np.array([stretch.bead for stretch in laid.stretches]))
    count = len(laid.stretches)
    walls = np.array([line_wall(laid, stretch.seam) for stretch in laid.stretches])
    nothing = Condensed(np.empty((0, 0)), np.empty((0, len(modes.rate))))
    return Model(laid, modes, nothing, np.empty(0), np.ones(count), walls, 0.0, False)


def _stage(job: Job, view: Outlook, settings: WeldSettings, stage: Ints) -> Timeline:
    """One stage, from a cold housing that lies as on the vehicle."""
    ambient, limits = job.ambient.temperature, job.limits
    spot = WARMEST_SPOT if limits.spot is None else max(limits.spot - ambient, 5.0)
    seal = None if limits.seal is None else limits.seal - ambient
    watch = watch_limits(view.model.modes.places, limits.bearing_seat - ambient, seal)
    taste = Taste(spot, PER_METRE, 0.0, False, watch)
    clock = Clock(view.model, settings, 0.0, cold(view.model.modes))
    return in_time(clock, job.bench, choices(view, job.bench, clock, taste, (), stage.tolist()))
