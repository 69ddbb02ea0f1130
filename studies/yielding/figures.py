"""What is read off each plan, elastic and with yielding."""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np

from axlewright.distortion.shape import ColdShape
from axlewright.plan.bench import OnTheBench
from axlewright.plan.distortion_measure import distortion
from axlewright.plan.timeline import Timeline
from axlewright.solid.mesh import Floats
from studies.yielding.laid_out import Yielding, tack_strength
from studies.yielding.plans import Plan
from studies.yielding.return_mapping import throat_load
from studies.yielding.yielding_walk import YieldingWalker

SLIPPED = 1e-6
"""A path of slip above this counts as yielding [m]."""

MM = 1e3


@dataclass(frozen=True)
class Figures:
    """One plan walked one way; a row of the results.

    Args:
        job: the demo.
        walk: name of the way it was walked.
        plan: name of the plan.
        family: plans that differ in their waits only.
        bench_min: bench time [min].
        hottest_k: hottest spot before a bead, over ambient [K].
        distortion_mm: bow, camber and toe as one measure [mm].
        bow_vertical_mm: [mm].
        bow_fore_aft_mm: [mm].
        camber_left_deg: [deg].
        camber_right_deg: [deg].
        toe_left_deg: [deg].
        toe_right_deg: [deg].
        tack_demand: largest throat load a tack would carry had it not slipped, over its strength.
        tacks_yielding: tacks that slip by more than 1 um before their bead.
        tack_slip_mm: longest path of a tack's slip [mm].
        tack_ductility: that path over the deformation at which a fillet so loaded breaks, largest.
        beads_yielding: stretches of bead that slip by more than 1 um.
        bead_ductility: the same for them.
    """

    job: str
    walk: str
    plan: str
    family: str
    bench_min: float
    hottest_k: float
    distortion_mm: float
    bow_vertical_mm: float
    bow_fore_aft_mm: float
    camber_left_deg: float
    camber_right_deg: float
    toe_left_deg: float
    toe_right_deg: float
    tack_demand: float
    tacks_yielding: int
    tack_slip_mm: float
    tack_ductility: float
    beads_yielding: int
    bead_ductility: float


HEADINGS = tuple(field.name for field in fields(Figures))
"""Columns of the results."""


def fracture_deformation(along: Floats, across: Floats, leg: float) -> Floats:
    """Deformation at which a fillet breaks when it is pulled in a direction.

    Equation: 1.087 (theta + 6)^-0.65 z, at most 0.17 z, theta the angle between pull and weld in degrees.

    Args:
        along: part of the pull, or of the slip, along the weld, any unit.
        across: part across it, same unit.
        leg: leg of the fillet z [m].

    Returns:
        [m].

    Source: Lesik and Kennedy, Canadian Journal of Civil Engineering 17 (1990), from memory.
    Valid: equal-leg fillets of 5 to 11 mm legs, loaded once in one direction, cold.
    Raises: nothing.
    """
    angle = np.degrees(np.arctan2(np.abs(across), np.abs(along)))
    return np.minimum(1.087 * (angle + 6.0) ** -0.65, 0.17) * leg


def elastic_figures(bench: OnTheBench, job: str, walk: str, plan: Plan) -> Figures:
    """A plan as the package walks it; tack loads by the criterion of this study."""
    trial = bench.judged(bench.in_time(plan.steps))
    load = throat_load(np.moveaxis(trial.walked.tack_forces, 1, 2)).max(axis=1) / tack_strength(bench)
    none = np.zeros((1, 2))
    return _row(bench, job, walk, plan, trial.timeline, trial.shape, load, none, none)


def yielding_figures(bench: OnTheBench, job: str, walk: str, rule: Yielding, plan: Plan) -> Figures:
    """A plan walked with yielding."""
    line = bench.in_time(plan.steps)
    left = YieldingWalker(bench, rule).walk(line)
    return _row(bench, job, walk, plan, line, left.shape, left.tack_demand, left.tack_slips, left.bead_slips)


def _row(
    bench: OnTheBench,
    job: str,
    walk: str,
    plan: Plan,
    line: Timeline,
    shape: ColdShape,
    demand: Floats,
    tack_slips: Floats,
    bead_slips: Floats,
) -> Figures:
    used = [_ductility(slips, bench.settings.leg) for slips in (tack_slips, bead_slips)]
    paths = [np.hypot(*slips.T) for slips in (tack_slips, bead_slips)]
    camber, toe = np.degrees(shape.camber), np.degrees(shape.toe)
    return Figures(
        job=job,
        walk=walk,
        plan=plan.name,
        family=plan.family,
        bench_min=line.end / 60,
        hottest_k=float(line.spots.max()),
        distortion_mm=MM * distortion(shape, bench.job.housing.length),
        bow_vertical_mm=MM * shape.bow_vertical,
        bow_fore_aft_mm=MM * shape.bow_fore_aft,
        camber_left_deg=float(camber[0]),
        camber_right_deg=float(camber[1]),
        toe_left_deg=float(toe[0]),
        toe_right_deg=float(toe[1]),
        tack_demand=float(demand.max(initial=0.0)),
        tacks_yielding=int(np.sum(paths[0] > SLIPPED)),
        tack_slip_mm=MM * float(paths[0].max(initial=0.0)),
        tack_ductility=used[0],
        beads_yielding=int(np.sum(paths[1] > SLIPPED)),
        bead_ductility=used[1],
    )


def _ductility(slips: Floats, leg: float) -> float:
    """Largest share of what a fillet can be deformed that its slips take."""
    along, across = slips.T
    return float((np.hypot(along, across) / fracture_deformation(along, across, leg)).max(initial=0.0))
