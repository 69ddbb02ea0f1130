"""What several checks of lines on the bare tube need: bare housings, whole-mesh solutions, shapes with their errors."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from reference.jobs import demo
from scipy.sparse.linalg import splu

from axlewright.distortion.condense import full_model
from axlewright.distortion.functionals import SPRINGS, seam_rows
from axlewright.distortion.shape import ColdShape, cold_shape
from axlewright.housing.assembly import Assembly
from axlewright.housing.lines import Line
from axlewright.job.schema import Job, Straightness
from axlewright.plan.settings import weld_settings
from axlewright.solid.mesh import Floats
from axlewright.straightness.axis import PARAMETERS, AxisFit, projected, span_of
from axlewright.straightness.correct.effects import line_wall, welded_stiffness, with_lines
from axlewright.weld.shrinkage import tendon_force, transverse_shrinkage
from axlewright.weld.steel import POISSON, YOUNGS

READ = np.diag(np.r_[[5e-5**2, 5e-5**2, 5e-5**2, 4e-4**2, 4e-4**2] * 2, 1e-3**2])
"""Covariance of a shape read with care: 0.05 mm, 0.02 deg."""

LIMITS = Straightness(camber=0.10, toe=0.10, bow=0.6e-3)


def line(start: float, end: float, hour: float, name: str = "line 1") -> Line:
    """A counter-bead between two x at a clock position [m, h]."""
    return Line("counter-bead", start, end, math.pi * hour / 6.0, name)


def bare_housing(offset: float = 0.0, hole: bool = False, **changes: object) -> Job:
    """The truss demo's housing without its truss, its centre in the middle and closed unless wanted otherwise."""
    job = demo("truss-only")
    own = {"offset": offset} if hole else {"offset": offset, "opening_diameter": None}
    housing = job.housing.model_copy(update={"centre": job.housing.centre.model_copy(update=own)})
    return job.model_copy(update={"trusses": (), "housing": housing, **changes})


def shape_as_parameters(job: Job, shape: ColdShape) -> Floats:
    """Parameters of a shape known everywhere."""
    angles = np.array([*shape.camber, *shape.toe, shape.twist])
    return projected(span_of(job), shape.stations, shape.vertical, shape.fore_aft, angles)


def measured(job: Job, values: Sequence[float] | Floats | None = None, /, **named: float) -> AxisFit:
    """A shape as read with care; parameters by their names, words joined by underlines [m, rad]."""
    vector = np.zeros(len(PARAMETERS)) if values is None else np.array(values, dtype=float)
    for name, value in named.items():
        vector[PARAMETERS.index(name.replace("_", " "))] = value
    return AxisFit(span_of(job), vector, READ)


def solved_outright(job: Job, assembly: Assembly, lines: tuple[Line, ...]) -> list[Floats]:
    """Shape of the welded housing under the pull of each line: the whole mesh loaded and solved, nothing reciprocal."""
    full, laid = full_model(assembly), with_lines(assembly, lines, np.inf)
    count, rows = len(laid.stretches), seam_rows(laid)
    heat, pulls = weld_settings(job).heat_input, np.zeros((6 * count, len(lines)))
    for n, stretch in enumerate(laid.stretches):
        wall = line_wall(laid, stretch.seam)
        across = YOUNGS / (1.0 - POISSON**2) * wall * float(transverse_shrinkage(heat, wall))
        pulls[SPRINGS * count + n, stretch.seam] = -float(tendon_force(heat))
        pulls[(SPRINGS + 1) * count + n, stretch.seam] = -across * stretch.length
    factor = splu(
        welded_stiffness(job, assembly, full), permc_spec="MMD_AT_PLUS_A", options={"SymmetricMode": True}
    )
    moved = full.readings.rows @ factor.solve(rows.T @ pulls)
    shapes = [cold_shape(full.readings.stations, reading) for reading in moved.T]
    return [shape_as_parameters(job, shape) for shape in shapes]
