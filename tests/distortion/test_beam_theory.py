"""A plain tube with a line of beads on one side, against beam theory."""

from __future__ import annotations

import numpy as np
import pytest
from reference.benches import bench_for, cold_walk, tendon_only
from reference.jobs import plain_tube, strip

from axlewright.weld.bow import blodgett_bow, tendon_bow

YOUNGS, LENGTH, WELDED, RADIUS, WALL = 210e9, 1.0, 0.5, 0.04445, 0.0095
STRIP_HEIGHT, STRIP_THICKNESS = 0.010, 0.003


def second_moment_and_arm() -> tuple[float, float]:
    """Tube and strip as one section (parallel axes): second moment, and arm from centroid to seam."""
    inner = RADIUS - WALL
    tube, strip_area = np.pi * (RADIUS**2 - inner**2), STRIP_HEIGHT * STRIP_THICKNESS
    strip_at = RADIUS + STRIP_HEIGHT / 2
    centroid = strip_area * strip_at / (tube + strip_area)
    own = np.pi / 4 * (RADIUS**4 - inner**4) + STRIP_THICKNESS * STRIP_HEIGHT**3 / 12
    return own + tube * centroid**2 + strip_area * (strip_at - centroid) ** 2, RADIUS - centroid


@pytest.mark.analytical
def test_line_of_beads_bows_a_tube_as_tendon_forces_bow_a_beam() -> None:
    """Bow and end slopes of a tube welded over its middle half are those of a beam bent by F times e there."""
    # Source: uniform moment M over the middle length w of a beam of length L: bow M w (2L - w) / (8 E I), end slope
    # M w / (2 E I) (any beam table; integrates the constant curvature of row B4, White/Leggatt/Dwight tendon force).
    # Tolerance 3 %: the strip's ends do not take part fully, and the mesh's tube is a 24-sided prism (-1.1 % in I).
    bench = bench_for(plain_tube(strip()))
    shape = cold_walk(bench, tendon_only(bench))
    inertia, arm = second_moment_and_arm()
    moment = 2 * bench.shrink.tendon * arm
    assert bench.shrink.tendon == pytest.approx(105.6e3, rel=1e-9)
    expected = moment * WELDED * (2 * LENGTH - WELDED) / (8 * YOUNGS * inertia)
    assert -shape.bow_vertical == pytest.approx(expected, rel=0.03)
    slope = moment * WELDED / (2 * YOUNGS * inertia)
    assert shape.camber == (pytest.approx(-slope, rel=0.03), pytest.approx(-slope, rel=0.03))
    assert abs(shape.bow_fore_aft) < 1e-3 * abs(shape.bow_vertical)


@pytest.mark.published
def test_full_length_bow_lies_in_blodgetts_band() -> None:
    """Scaled to a weld of full length, the tube bows as Blodgett's formula says, within its scatter."""
    # Source: Blodgett, Design of Welded Structures (1966) 7.7, bow 0.005 A d L^2 / I; the measured scatter about it is
    # -40 to +70 %. Two beads of 5 mm leg (12.5 mm2 each); scaled from the welded half by beam theory.
    bench = bench_for(plain_tube(strip()))
    shape = cold_walk(bench, tendon_only(bench))
    inertia, arm = second_moment_and_arm()
    full = -shape.bow_vertical * LENGTH**2 / (WELDED * (2 * LENGTH - WELDED))
    blodgett = blodgett_bow(25e-6, arm, LENGTH, inertia)
    assert 0.6 < full / blodgett < 1.7
    assert tendon_bow(2 * bench.shrink.tendon, arm, LENGTH, inertia) == pytest.approx(full, rel=0.03)


@pytest.mark.analytical
def test_stitching_half_the_length_gives_half_the_bow() -> None:
    """Beads of 50 mm every 100 mm bow the tube half as much as beads of 50 mm end to end."""
    # Source: the bow is linear in the welded length (row B6: ratio of weld to length). Tolerance 3 % of the
    # ratio: the pitch puts the middle of the stitched row 25 mm off the middle of the full one.
    half = bench_for(plain_tube("".join(strip(f"s{n}", at=275 + 100 * n, length=50) for n in range(5))))
    full = bench_for(plain_tube("".join(strip(f"s{n}", at=275 + 50 * n, length=50) for n in range(10))))
    ratio = cold_walk(half, tendon_only(half)).bow_vertical / cold_walk(full, tendon_only(full)).bow_vertical
    assert ratio == pytest.approx(0.5, rel=0.03)


@pytest.mark.analytical
def test_equal_opposed_seams_cancel() -> None:
    """The same strip below as above leaves the tube straight, all shrinkage included."""
    # Source: equal pulls about the neutral axis. Tolerance 1 %: beads go down one after another, the first
    # strip before the second stiffens the tube.
    both = bench_for(plain_tube(strip() + strip("below", clock=6)))
    one = bench_for(plain_tube(strip()))
    left = cold_walk(both, both.shrink).bow_vertical
    assert abs(left) < 0.01 * abs(cold_walk(one, one.shrink).bow_vertical)


@pytest.mark.analytical
def test_front_strip_bows_forward_as_a_top_strip_bows_down() -> None:
    """A strip in front pulls the ends forward: toe-in on both sides, the same figures turned by a right angle."""
    # Source: symmetry of the round tube, and the sign rule that ends forward is toe-in on both sides (rigid body).
    # Tolerance 0.1 %: 24 cells round the tube map onto themselves by a quarter turn.
    top, front = (bench_for(plain_tube(strip(clock=clock))) for clock in (12, 3))
    down, ahead = (cold_walk(bench, tendon_only(bench)) for bench in (top, front))
    assert ahead.bow_fore_aft == pytest.approx(down.bow_vertical, rel=1e-3)
    assert ahead.toe == (pytest.approx(-down.camber[0], rel=1e-3), pytest.approx(-down.camber[1], rel=1e-3))
    assert min(ahead.toe) > 0 > max(down.camber)


@pytest.mark.analytical
def test_shape_is_proportional_to_heat_input() -> None:
    """Twice the heat input makes twice the tendon force, twice the closing and so twice the shape."""
    # Source: tendon force and energy form of transverse shrinkage are linear in heat input, the walk is linear.
    bench = bench_for(plain_tube(strip()))
    hot = bench_for(plain_tube(strip()).model_copy(update={"welder": double(bench.job.welder)}))
    assert hot.shrink.tendon == pytest.approx(2 * bench.shrink.tendon, rel=1e-12)
    assert hot.shrink.across == pytest.approx(2 * bench.shrink.across, rel=1e-12)
    once, twice = (cold_walk(bench, tendon_only(b)) for b in (bench, hot))
    assert twice.vertical == pytest.approx(2 * once.vertical, rel=1e-9, abs=1e-12)


def double(welder: object) -> object:
    """The same welder with twice the arc voltage."""
    return welder.model_copy(update={"volts": 2 * welder.volts})  # type: ignore[attr-defined]
