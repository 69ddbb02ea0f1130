"""Welding in a fixture: clamped, welded, let go of; against beam theory and against the whole mesh."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from fixture_beam import (
    ARM,
    CELLS,
    LENGTH,
    SECOND_MOMENT,
    STATIONS,
    YOUNGS,
    beam,
    composite,
    plate_springs,
)
from reference.benches import as_numbered, bench_for, cold_walk, tendon_only
from reference.full_order import FullOrderWalk, full_order_for
from reference.jobs import plain_tube, strip
from scipy.sparse import csc_array

from axlewright.distortion.condense import Condensed
from axlewright.distortion.fixture import (
    Fixture,
    Holding,
    Release,
    clamped,
    fixture,
    over_neighbours,
    release,
)
from axlewright.distortion.readings import readings, section_middles
from axlewright.distortion.shape import ColdShape, cold_shape
from axlewright.distortion.springs import fillet_stiffness
from axlewright.distortion.tacked import tack_up
from axlewright.job.demo_jobs import demo_text
from axlewright.job.reading import parse_job
from axlewright.job.schema import Job
from axlewright.plan.bench import OnTheBench
from axlewright.solid.mesh import Floats
from axlewright.weld.steel import steel

TWO_BRACKETS = strip("upper", at=300, length=100) + strip("lower", at=650, clock=6, length=100)

RIGID = 1e13
"""A support that does not give way [N/m]: ten million times as stiff as the beam."""


def small_job(extra: str = "") -> Job:
    """A tube with two short brackets: eight beads, a model in half a second."""
    return plain_tube(TWO_BRACKETS + extra)


NO_WELDS = np.empty((0, 4))
FORCE = 100e3


def fixture_at(*at: float, stiffness: float = RIGID) -> Fixture:
    """Supports of the beam in the vertical plane."""
    places = np.array(at)
    made = fixture((Holding(places, np.full(len(at), stiffness), True),), STATIONS, np.zeros((2, 27)))
    assert made is not None
    return made


def bare(base: Condensed) -> Condensed:
    """The structure without rows of stretches: nothing is ever welded on it."""
    return Condensed(base.compliance[6 * CELLS :, 6 * CELLS :], base.thermal[6 * CELLS :])


def pulled(structure: Condensed) -> Floats:
    """Readings of a structure whose seam shrinks all along."""
    return -FORCE * structure.compliance[6 * CELLS :, 4 * CELLS : 5 * CELLS].sum(axis=1)


def with_plate(structure: Condensed) -> Condensed:
    """The structure with the plate joined on."""
    none = np.zeros((0, CELLS))
    made = structure
    for cell, springs in enumerate(plate_springs()):
        tacked = tack_up(made, np.array([cell]), springs, none[:, :1])
        made = Condensed(tacked.compliance, tacked.thermal)
    return made


def arc(sagitta: float, x: Floats) -> Floats:
    """Heights of a shallow arc through both ends of the beam."""
    return sagitta * (1 - (2 * x / LENGTH) ** 2)


@pytest.mark.analytical
def test_the_beam_of_these_tests_is_a_beam() -> None:
    """Pulled along its seam it bows by F e L^2 / (8 E I), ends up, with end slopes of 4 bow / L."""
    # Source: beam under constant moment. Tolerance: round-off.
    shape = cold_shape(STATIONS, pulled(beam()))
    assert shape.bow_vertical == pytest.approx(
        -FORCE * ARM * LENGTH**2 / (8 * YOUNGS * SECOND_MOMENT), rel=1e-9
    )
    assert shape.camber == pytest.approx([4 * shape.bow_vertical / LENGTH] * 2, rel=1e-9)


@pytest.mark.analytical
@pytest.mark.parametrize("stiffness", [1e6, 5e7, RIGID])
def test_a_bend_by_shims_alone_goes_when_let_go(stiffness: float) -> None:
    """Bent over shims and let go of without welding, an elastic beam is straight again."""
    # Source: elasticity. Tolerance 1e-9 of the bend: round-off of the solves.
    held_by = fixture_at(0.45, 0.1, -0.2, -0.4, stiffness=stiffness)
    made = release(bare(beam()), held_by, NO_WELDS)
    shims, straight = np.array([0.0, 0.004, 0.006, 0.0]), np.zeros(60)
    bent = made.on_shims(straight, shims)
    assert cold_shape(STATIONS, bent).bow_vertical > 1e-4
    assert np.abs(made.released(straight, shims)).max() < 1e-9 * np.abs(bent).max()


@pytest.mark.analytical
def test_shims_of_a_rigid_fixture_bend_a_beam_as_a_central_load_does() -> None:
    """A shim h under the middle of three rigid supports 2a apart takes 48 E I h / (2a)^3 and lifts the middle by h."""
    # Source: beam on two supports, load at mid-span (any beam table). Tolerance 1e-3: the outer supports lie between
    # stations, where a cubic reads the axis; the axis of a loaded beam is piecewise cubic.
    held_by, shims = fixture_at(0.4, 0.0, -0.4), np.array([0.0, 0.003, 0.0])
    made = release(bare(beam()), held_by, NO_WELDS)
    bent = made.on_shims(np.zeros(60), shims)
    load = 48 * YOUNGS * SECOND_MOMENT * 0.003 / 0.8**3
    assert made.pushes(bent, shims) == pytest.approx([-load / 2, load, -load / 2], rel=1e-3)
    heights = bent[27:54]
    line = np.interp(0.0, [-0.4, 0.4], np.interp([-0.4, 0.4], STATIONS[::-1], heights[::-1]))
    assert heights[13] - line == pytest.approx(0.003, rel=2e-3)


@pytest.mark.analytical
def test_bow_held_back_comes_back_whole() -> None:
    """An eccentric pull on a beam held straight at three places leaves, let go of, the whole bow of a free beam."""
    # Source: superposition on an elastic beam without bead stiffness: the clamps' work is undone. Tolerance 1e-6:
    # round-off of supports ten million times stiffer than the beam.
    base, held_by = beam(), fixture_at(0.45, 0.0, -0.45)
    flat = pulled(clamped(base, held_by))
    free = cold_shape(STATIONS, pulled(base))
    held = cold_shape(STATIONS, flat)
    assert abs(held.bow_vertical) < 0.2 * abs(free.bow_vertical)
    let_go = cold_shape(STATIONS, release(bare(base), held_by, NO_WELDS).released(flat, np.zeros(3)))
    assert let_go.vertical == pytest.approx(free.vertical, abs=1e-6 * abs(free.bow_vertical))
    assert let_go.camber == pytest.approx(free.camber, rel=1e-6)


@pytest.mark.analytical
def test_welded_flat_and_let_go_bows_as_the_composite_beam_does() -> None:
    """With a plate joined while clamped flat, the seam's pull bends beam and plate together: F e' L^2 / (8 E I')."""
    # Source: composite beam, e' and I' about the common axis. Tolerance 1e-6, as above.
    base, held_by = beam(), fixture_at(0.45, 0.0, -0.45)
    flat = pulled(with_plate(clamped(base, held_by)))
    made = release(base, held_by, plate_springs())
    inertia, arm = composite()
    expected = -FORCE * arm * LENGTH**2 / (8 * YOUNGS * inertia)
    let_go = cold_shape(STATIONS, made.released(flat, np.zeros(3)))
    assert let_go.bow_vertical == pytest.approx(expected, rel=1e-6)


@pytest.mark.analytical
def test_share_of_the_pre_bend_that_stays_is_that_of_the_composite_beam() -> None:
    """A beam bent to an arc, with a plate joined stress-free, keeps 1 - I / I' of the bend when it is let go."""
    # Source: the clamps' moment E I kappa acts backward on E I'. Held at every station, so that the arc is held all
    # along. Tolerance 1e-3: shims at stations make the curvature constant but for the last cell at each end.
    base, held_by = beam(), fixture_at(*STATIONS)
    shims = arc(0.005, STATIONS)
    made = release(base, held_by, plate_springs())
    bent = cold_shape(STATIONS, made.on_shims(np.zeros(60), shims))
    left = cold_shape(STATIONS, made.released(np.zeros(60), shims))
    assert bent.bow_vertical == pytest.approx(0.005, rel=1e-4)
    inertia, _ = composite()
    assert left.bow_vertical / bent.bow_vertical == pytest.approx(1 - SECOND_MOMENT / inertia, rel=1e-3)


@pytest.mark.analytical
def test_two_supports_hold_nothing() -> None:
    """Two supports in a plane make no fixture; a third one does."""
    # Source: statics; two supports are statically determinate.
    two = Holding(np.array([0.4, -0.4]), np.full(2, RIGID), True)
    assert fixture((two,), STATIONS, np.zeros((2, 27))) is None
    three = Holding(np.array([0.4, 0.1, -0.4]), np.full(3, RIGID), False)
    made = fixture((two, three), STATIONS, np.zeros((2, 27)))
    assert made is not None
    assert made.holdings == (three,)


@pytest.mark.analytical
def test_combinations_feel_no_rigid_motion_of_a_housing_with_a_hole() -> None:
    """Shifted, tilted or turned as a rigid body, the demo with the hole in its centre loads no spring of a fixture."""
    # Source: rigid-body kinematics on all nodes of the mesh, u = w x r. Tolerance: round-off of readings of a metre.
    bench = clamped_demo(130, 500, 800, 1170, plane="both")
    assert bench.fixture is not None
    nodes, read = bench.model.assembly.mesh.nodes, readings(bench.model.assembly).rows
    for axis in np.eye(3):
        for motion in (np.cross(axis, nodes), np.tile(axis, (len(nodes), 1))):
            assert np.abs(bench.fixture.rows @ (read @ motion.ravel())).max() < 1e-12
    assert np.abs(section_middles(bench.model.assembly)).max() > 0.01, (
        "this demo is read off its axis at the hole"
    )


@pytest.mark.analytical
@pytest.mark.parametrize("shims", [(0.0, 0.0, 0.0), (0.001, 0.0, 0.0025)])
def test_two_ways_to_say_the_same_shims(shims: tuple[float, float, float]) -> None:
    """Lifting all supports alike, or tilting them, changes no shape."""
    # Source: D annihilates constants and linear functions of x. Tolerance: round-off.
    at = np.array([0.4, 0.05, -0.45])
    for rigid in (np.ones(3), at):
        assert over_neighbours(at) @ (np.array(shims) + 0.01 * rigid) == pytest.approx(
            over_neighbours(at) @ np.array(shims), abs=1e-15
        )


SUPPORT = '[[fixture.support]]\nat = "{at} mm"\nplane = "{plane}"\nstiffness = "{stiffness} kN/mm"\n{more}\n'


def fixture_text(*at: float, plane: str = "vertical", stiffness: float = 50, prebend: str = "none") -> str:
    """The fixture of a job file."""
    supports = [SUPPORT.format(at=place, plane=plane, stiffness=stiffness, more="") for place in at]
    return f'[fixture]\nprebend = "{prebend}"\n' + "".join(supports)


def clamped_demo(*at: float, plane: str = "vertical") -> OnTheBench:
    """The truss demo in a fixture."""
    return bench_for(parse_job(demo_text("truss-only") + "\n" + fixture_text(*at, plane=plane), "demo"))


def tube_on_bench(text: str) -> OnTheBench:
    """A tube with a slender strip along its middle half, held at three places."""
    return bench_for(plain_tube(strip() + text))


@pytest.mark.analytical
def test_clamped_tube_pushes_on_its_fixture_as_a_beam_does() -> None:
    """Held at 50, 500 and 950 mm, a tube welded over its middle half pushes on its clamps as beam theory says."""
    # Source: moment F e over the middle w of a beam: its middle lies under the line of points a away by
    # kappa w/2 (a - w/4); a force P at the middle of a span 2a takes P (2a)^3 / (48 E I) + P 2a / (4 G A / 2) of it
    # (shear area of a thin tube: half), and P 1.5 / k goes into the supports. Second moment and arm: tube and strip as
    # one section (parallel axes). Tolerance 3 %, as for the free tube (test_beam_theory).
    stiffness, half, welded = 20e6, 0.45, 0.5
    bench = tube_on_bench(fixture_text(50, 500, 950, stiffness=20))
    cold = walked_cold(bench)
    inertia, arm, area = 1.967e-6, 0.0438, 2370e-6
    kappa = 2 * bench.shrink.tendon * arm / (YOUNGS * inertia)
    sag = kappa * welded / 2 * (half - welded / 4)
    sheared = 2 * half / (4 * YOUNGS / 2.6 * area / 2)
    push = sag / ((2 * half) ** 3 / (48 * YOUNGS * inertia) + sheared + 1.5 / stiffness)
    assert bench.release is not None
    pushes = bench.release.pushes(bench.read(cold), np.zeros(3))
    assert pushes == pytest.approx([-push / 2, push, -push / 2], rel=0.03)


def walked_cold(bench: OnTheBench) -> object:
    """A walk with the tendon force alone and no heat."""
    still = replace(bench)
    still.__dict__["tacks"] = replace(bench.tacks, states=np.zeros_like(bench.tacks.states))
    still.__dict__["shrink"] = tendon_only(bench)
    line = bench.in_time(as_numbered(bench.model))
    laying = replace(line.laying, states=np.zeros_like(line.laying.states))
    return still.walk(replace(line, laying=laying))


@pytest.mark.analytical
def test_tube_with_a_slender_strip_bows_after_all() -> None:
    """Clamped hard while welded and let go, that tube bows as if it had never been clamped: the strip holds nothing."""
    # Source: superposition, as for the beam. Tolerance 0.5 %: each bead is born in the shape the beads before it left,
    # bowed when free and held when clamped, and the strip keeps 1 - I / I', 4 %, of a part of that difference.
    held = tube_on_bench(fixture_text(50, 500, 950, stiffness=1000))
    free = bench_for(plain_tube(strip()))
    let_go = held.shape(walked_cold(held))  # type: ignore[arg-type]
    loose = cold_walk(free, tendon_only(free))
    assert let_go.bow_vertical == pytest.approx(loose.bow_vertical, rel=5e-3)
    still_held = cold_shape(held.model.stations, held.read(walked_cold(held)))  # type: ignore[arg-type]
    assert abs(still_held.bow_vertical) < 0.3 * abs(loose.bow_vertical)


def welded_in_full(bench: OnTheBench, walk: FullOrderWalk, steps: int) -> None:
    """Tack and weld on the full mesh as the bench plans it."""
    per_length = fillet_stiffness(bench.settings.leg, steel(bench.job.housing.steel))
    for stretch, state in zip(bench.tacks.stretches, bench.tacks.states.T, strict=True):
        walk.set_tack(int(stretch), per_length * bench.job.welder.tack_length, state)
    laying = bench.in_time(as_numbered(bench.model)[:steps]).laying
    for number, (begin, end) in enumerate(zip(laying.first[:-1], laying.first[1:], strict=True)):
        lengths = laying.lengths[begin:end]
        stiffness = (lengths[:, None] * per_length).ravel()
        walk.lay_bead(laying.stretches[begin:end], stiffness, bench.shrink, lengths, laying.states[:, number])


def springs_of_a_loose_bench(x: Floats, stiffness: Floats) -> Floats:
    """Stiffness matrix of supports on a bench that may shift and tilt: its two motions are condensed out."""
    loose, held = np.array([np.ones_like(x), x]).T, np.diag(stiffness)
    return held - held @ loose @ np.linalg.solve(loose.T @ held @ loose, loose.T @ held)


@pytest.mark.analytical
@pytest.mark.xdist_group("full order")
def test_fixture_equals_full_order_resolution() -> None:
    """On shims in both planes, welded with all heat and let go, the whole mesh re-solved for each step agrees."""
    # Source: the same elastic problem without condensation; the bench's own rigid motions are condensed out of the
    # supports' stiffness instead of being combined away. Supports stand at stations, so that both read the same
    # sections. Required 1e-6 of the largest reading.
    plain = bench_for(small_job())
    chosen, k = np.array([2, 9, 15, 23]), np.array([50e6, 20e6, 30e6, 50e6])
    shims = {"vertical": np.array([0.0, 1.5e-3, 2.5e-3, 0.0]), "fore-aft": np.array([1e-3, 0.0, 0.0, 0.0])}
    x = plain.model.stations[chosen]
    text = '[fixture]\nprebend = "given"\n' + "".join(
        SUPPORT.format(
            at=f"{1e3 * (0.5 - x[n]):.9f}",
            plane="both",
            stiffness=k[n] / 1e6,
            more=f"shim_under = {1e3 * shims['vertical'][n]}\nshim_behind = {1e3 * shims['fore-aft'][n]}",
        )
        for n in range(4)
    )
    bench = bench_for(small_job(text))
    walk = full_order_for(bench)
    first = 6 * len(bench.model.host_share)
    loaded, added = walk.load, walk.model.stiffness
    for offset, plane in ((0, "fore-aft"), (27, "vertical")):
        read = walk.rows[first + offset + chosen]
        springs = springs_of_a_loose_bench(x, k)
        added = csc_array(added + read.T @ csc_array(springs) @ read)
        loaded = loaded + read.T @ (springs @ shims[plane])
    free = walk.model
    walk.model, walk.load = replace(free, stiffness=added), loaded
    clamp_load = loaded.copy()
    welded_in_full(bench, walk, len(bench.model.assembly.beads))
    cold = np.zeros(len(bench.model.modes.rate))
    held = (walk.rows @ walk.displacement(cold))[first:]
    walk.model, walk.load = free, walk.load - clamp_load
    let_go = (walk.rows @ walk.displacement(cold))[first:]
    walked = bench.walk(bench.in_time(as_numbered(bench.model)))
    assert bench.release is not None
    ours_held = bench.release.on_shims(bench.read(walked), bench.shim_heights)
    assert same_bend(bench, ours_held, held) < 1e-6
    assert same_bend(bench, bench.release.released(bench.read(walked), bench.shim_heights), let_go) < 1e-6
    assert abs(shape_of(bench, held).bow_vertical - shape_of(bench, let_go).bow_vertical) > 1e-4


def shape_of(bench: OnTheBench, reading: Floats) -> ColdShape:
    """The shape of readings."""
    return cold_shape(bench.model.stations, reading)


def same_bend(bench: OnTheBench, ours: Floats, theirs: Floats) -> float:
    """Largest difference of two readings over the largest reading."""
    return float(np.abs(ours - theirs).max() / np.abs(theirs).max())


@pytest.mark.analytical
def test_shims_change_no_force() -> None:
    """Beads and tacks are born stress-free in the bent shape: their forces are those of a housing clamped flat."""
    # Source: a shift that is there from first to last acts on no spring (linear elasticity). Here by walking with the
    # shift put into the structure's own cold offset. Tolerance: round-off.
    bench = bench_for(small_job(fixture_text(100, 450, 900)))
    assert bench.release is not None
    assert bench.fixture is not None
    line = bench.in_time(as_numbered(bench.model))
    flat = bench.walk(line)
    held_by, base = bench.fixture, bench.model.base
    force = np.linalg.solve(
        held_by.flexibility + held_by.rows @ base.compliance[-60:, -60:] @ held_by.rows.T,
        held_by.over @ np.array([0.0, 2e-3, 0.0]),
    )
    shift = base.compliance[:, -60:] @ held_by.rows.T @ force
    bent = replace(bench)
    rows = bench.tacked.rows
    bent.__dict__["tacked"] = replace(
        bench.tacked, offset=bench.tacked.offset + shift, zero=bench.tacked.zero + shift[rows]
    )
    bent.__dict__["tacks"] = bench.tacks
    shimmed = bent.walk(line)
    assert np.abs(shift).max() > 1e-3
    biggest = np.abs(flat.bead_forces).max()
    assert shimmed.bead_forces == pytest.approx(flat.bead_forces, abs=1e-8 * biggest)
    assert shimmed.tack_forces == pytest.approx(flat.tack_forces, abs=1e-8 * biggest)
    assert shimmed.cold == pytest.approx(flat.cold + shift, abs=1e-12)


def test_without_a_fixture_nothing_changes() -> None:
    """A job without [fixture] is tacked up on the very structure of its model, and its shape is read as it was."""
    bench = bench_for(small_job())
    assert bench.held is bench.model.base
    assert bench.release is None
    walked = bench.walk(bench.in_time(as_numbered(bench.model)))
    read = cold_shape(bench.model.stations, walked.cold[6 * len(bench.model.host_share) :])
    assert np.array_equal(bench.shape(walked).vertical, read.vertical)
    assert bench.shim_heights.shape == (0,)


def test_an_unheld_job_keeps_its_release_type() -> None:
    """A fixture gives the bench a release; both planes count their supports through."""
    bench = clamped_demo(130, 650, 1170, plane="both")
    assert isinstance(bench.release, Release)
    assert bench.release.lift.shape == (60, 6)
