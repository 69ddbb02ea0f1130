"""What must hold whatever the numbers: mirror images, linearity of the walk, signs."""

from __future__ import annotations

import numpy as np
import pytest
from reference.benches import as_numbered, bench_for, cold_walk
from reference.jobs import demo, plain_tube, strip

from axlewright.distortion.shape import cold_shape
from axlewright.plan.bench import OnTheBench
from axlewright.plan.timeline import Step


def one_sided(at: float) -> OnTheBench:
    """A short strip on top of a tube whose left and right halves are alike."""
    return bench_for(plain_tube(strip(at=at, length=300)))


@pytest.mark.analytical
def test_mirrored_job_gives_the_mirrored_shape() -> None:
    """A job and its mirror image, welded in mirrored order, end in mirrored shapes."""
    # Source: symmetry of the two sides. Beads of one stretch, each with its tack, so that tacks are mirrored too.
    # Tolerance 0.3 % of camber: meshes are mirror images, sampled seams nearly so. The axis is read at the sections
    # nearest to 27 even places, which may differ by a cell between the two, so it is compared after interpolation
    # within 2 % of the bow.
    job = demo("truss-only")
    short = job.welder.model_copy(update={"bead_length": 0.025, "tack_spacing": 0.02, "tack_length": 0.01})
    job = job.model_copy(update={"welder": short})
    length, centre = job.housing.length, job.housing.centre
    flipped_top = tuple((length - x, height) for x, height in reversed(job.trusses[0].top))
    flipped_openings = tuple(
        o.model_copy(update={"start": length - o.end, "end": length - o.start})
        for o in job.trusses[0].openings
    )
    truss = job.trusses[0].model_copy(
        update={
            "start": length - job.trusses[0].end,
            "end": length - job.trusses[0].start,
            "top": flipped_top,
            "openings": flipped_openings,
        }
    )
    housing = job.housing.model_copy(
        update={
            "centre": centre.model_copy(update={"offset": -centre.offset}),
            "left_tube": job.housing.right_tube,
            "right_tube": job.housing.left_tube,
        }
    )
    mirrored = bench_for(job.model_copy(update={"housing": housing, "trusses": (truss,)}))
    bench = bench_for(job)
    here, there = (mirror_walk(bench, False), mirror_walk(mirrored, True))
    scale = abs(here.bow_vertical)
    assert np.interp(-here.stations, there.stations[::-1], there.vertical[::-1]) == pytest.approx(
        here.vertical, abs=0.02 * scale
    )
    assert there.camber == pytest.approx(here.camber[::-1], rel=3e-3)
    assert there.toe == pytest.approx(here.toe[::-1], abs=3e-3 * abs(here.camber[0]))
    assert there.twist == pytest.approx(-here.twist, abs=3e-3 * abs(here.camber[0]))


def mirror_walk(bench: OnTheBench, mirrored: bool):  # type: ignore[no-untyped-def]
    """Lay the beads along each seam from the left end, or from the right end with the arc reversed."""
    seams = [bead.seam for bead in bench.model.assembly.beads]
    order = as_numbered(bench.model)
    if mirrored:
        numbers = [
            n for seam in dict.fromkeys(seams) for n in reversed(range(len(seams))) if seams[n] == seam
        ]
        order = tuple(Step(n, True, 0.0) for n in numbers)
    return cold_walk(bench, bench.shrink, order)


@pytest.mark.analytical
def test_sign_rules_of_camber_and_toe() -> None:
    """Ends up is negative camber on both sides, ends forward is toe-in on both sides."""
    # Source: rigid-body geometry of a wheel on a stub that tilts up or forward. Exact.
    stations = np.linspace(0.6, -0.6, 5)
    curve = 1e-3 * (stations / 0.6) ** 2
    slope = 2 * 1e-3 / 0.6
    ends_up = np.concatenate([np.zeros(5), curve, [0, -slope, 0], [0, slope, 0]])
    ends_forward = np.concatenate([curve, np.zeros(5), [0, 0, slope], [0, 0, -slope]])
    up, forward = cold_shape(stations, ends_up), cold_shape(stations, ends_forward)
    assert up.camber == pytest.approx((-slope, -slope)) and up.bow_vertical == pytest.approx(-1e-3)
    assert forward.toe == pytest.approx((slope, slope)) and forward.bow_fore_aft == pytest.approx(-1e-3)
    assert up.toe == (0, 0) and forward.camber == (0, 0)


@pytest.mark.analytical
def test_a_rigid_move_is_no_shape() -> None:
    """Lifting, shifting and turning the whole housing changes neither camber, toe, bow nor twist."""
    # Source: all figures are taken from the line between the flanges. Tolerance: round-off.
    stations = np.linspace(0.6, -0.6, 5)
    lift, tilt, yaw, roll = 3e-3, 2e-3, -1e-3, 5e-4
    reading = np.concatenate(
        [yaw * stations + 1e-3, lift + tilt * stations, [roll, -tilt, yaw], [roll, -tilt, yaw]]
    )
    shape = cold_shape(stations, reading)
    figures = [*shape.camber, *shape.toe, shape.bow_vertical, shape.bow_fore_aft, shape.twist]
    assert np.abs(figures).max() < 1e-15


@pytest.mark.analytical
def test_arc_bow_gives_the_end_slope_of_its_circle() -> None:
    """A bow of 1 mm over 1400 mm as an arc turns the ends by 0.1637 degrees."""
    # Source: slope 4 f / L of a shallow arc (analytical). Tolerance: digits printed.
    stations = np.linspace(0.7, -0.7, 29)
    curve = -1e-3 * (1 - (stations / 0.7) ** 2)
    slope = 4 * 1e-3 / 1.4
    shape = cold_shape(stations, np.concatenate([np.zeros(29), curve, [0, -slope, 0], [0, slope, 0]]))
    assert np.rad2deg(shape.camber) == pytest.approx((-0.1637, -0.1637), abs=5e-5)


def test_one_sided_strip_tilts_the_nearer_end_more() -> None:
    """Beads near the left end turn that end up more than the far one."""
    # Statics: a moment near a support turns that end more (analytical; order only).
    bench = one_sided(340)
    shape = cold_walk(bench, bench.shrink)
    assert shape.camber[0] < shape.camber[1] < 0
