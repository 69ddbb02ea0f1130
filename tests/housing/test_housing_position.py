"""Welding positions: names by slope and rotation, and what a turn of the housing makes of a seam."""

from __future__ import annotations

import numpy as np
import pytest
from housing_jobs import DEMOS, assembled, mirrored
from reference.jobs import demo, plain_tube, strip

from axlewright.housing.assembly import Assembly, assemble_job
from axlewright.housing.position import (
    NAMES,
    BeadDirections,
    bead_directions,
    bead_positions,
    position,
    turned,
)

TURNS = (0.0, 90.0, 180.0, 270.0)


def named(slope: float, rotation: float) -> str:
    """Name of one point on a fillet."""
    return NAMES[int(position(np.array(slope), np.array(rotation)))]


def names_of(assembly: Assembly, turn: float) -> list[str]:
    """Positions of all beads at a turn."""
    return [NAMES[n] for n in bead_positions(bead_directions(assembly), turn)[0]]


def straight(slopes: list[float]) -> BeadDirections:
    """One bead in the plane x-z whose thirds slope as given, with a face that looks to the front."""
    angle = np.radians(slopes)
    along = np.stack([np.cos(angle), np.zeros(3), np.sin(angle)], axis=-1)
    return BeadDirections(along[None], np.tile([0.0, 1.0, 0.0], (1, 3, 1)))


def middles(assembly: Assembly) -> np.ndarray:
    """Middle point of every bead, shape (B, 3) [m]."""
    seams = assembly.seams
    return np.array(
        [seams[b.seam].at(seams[b.seam].path, np.array((b.start + b.end) / 2)) for b in assembly.beads]
    )


@pytest.mark.published
@pytest.mark.parametrize(
    ("slope", "rotation", "name"),
    [(0, 0, "PA"), (0, 45, "PB"), (0, 90, "PC"), (0, 135, "PD"), (0, 180, "PE"), (90, 90, "PF")],
)
def test_the_main_positions_have_their_names(slope: float, rotation: float, name: str) -> None:
    """Flat PA, horizontal fillet PB, horizontal PC, overhead fillet PD, overhead PE, upward PF."""
    # Source: ISO 6947, main positions of fillet welds, from memory of the standard. Exact.
    assert named(slope, rotation) == name
    assert named(-slope, rotation) == name


@pytest.mark.published
@pytest.mark.parametrize(
    ("slope", "rotation", "name"),
    [(15, 45, "PB"), (15.1, 45, "PF"), (15.1, 0, "PF"), (80, 135, "PD"), (80.1, 135, "PF"), (80, 90, "PF")],
)
def test_slope_limits(slope: float, rotation: float, name: str) -> None:
    """Up to 15 degrees a seam is level; a face that looks down is overhead up to 80 degrees."""
    # Source: ISO 6947:2011 table 2, slopes of fillet welds in production, from memory of the standard. Exact.
    assert named(slope, rotation) == name


@pytest.mark.analytical
def test_a_quarter_turn_brings_the_front_to_the_top() -> None:
    """At 90 degrees what looked forward looks up and what looked up looks to the rear; the axle stays."""
    # Source: rotation about the axle's line. Tolerance: rounding of cos 90 degrees.
    axes = turned(np.eye(3), 90.0)
    assert axes == pytest.approx(np.array([[1, 0, 0], [0, 0, 1], [0, -1, 0]]), abs=1e-15)


@pytest.mark.analytical
def test_a_strip_on_top_rolls_through_all_positions() -> None:
    """A plate on the top of a tube: its front fillet looks 45 degrees up, and 45 degrees less with every 45 turned."""
    # Source: geometry of a plate square on a tube; the front side comes up first, the rear side goes down first.
    assembly = assemble_job(plain_tube(strip(length=50)))
    rolled = [
        dict(zip(("front", "rear"), names_of(assembly, turn), strict=True)) for turn in range(0, 360, 45)
    ]
    assert [seam.name for seam in assembly.seams] == ["front side", "rear side"]
    assert [names["front"] for names in rolled] == ["PB", "PA", "PB", "PC", "PD", "PE", "PD", "PC"]
    assert [names["rear"] for names in rolled] == ["PB", "PC", "PD", "PE", "PD", "PC", "PB", "PA"]


@pytest.mark.analytical
@pytest.mark.parametrize("hours", [1, 2, 3, 4.5, 6, 7, 9, 11])
def test_turning_the_housing_is_moving_the_plate_round_the_tube(hours: float) -> None:
    """A plate at 12 o'clock with the housing turned by an hour lies as a plate at 11 on a housing that is not."""
    # Source: symmetry of a round tube; seen from the right end the front is at 3 and comes up, so 12 goes to 9.
    # Hours that would put a face right between two positions are left out.
    top = assemble_job(plain_tube(strip(length=50)))
    moved = assemble_job(plain_tube(strip(length=50, clock=12 - hours % 12 or 12)))
    beads, others = (bead_directions(assembly) for assembly in (top, moved))
    # Tolerance: normals come from central differences of the skin.
    assert np.sort(turned(beads.face, 30.0 * hours)[..., 2], axis=None) == pytest.approx(
        np.sort(others.face[..., 2], axis=None), abs=1e-6
    )
    assert sorted(names_of(top, 30.0 * hours)) == sorted(names_of(moved, 0.0))


@pytest.mark.analytical
def test_the_face_halves_the_angle_between_the_two_skins() -> None:
    """Beside an upright web the tube falls away, and the fillet's face turns with it by half as much."""
    # Source: geometry. The web stands upright 30 mm in front of the axle line; the skin of a tube of 89 mm falls
    # there by asin(30 / 44.5) = 42.4 degrees; the bisector looks (90 + 42.4) / 2 = 66.2 degrees off the vertical.
    face = bead_directions(assembled("truss-only")).face[0]
    off = np.degrees(np.arccos(face[:, 2]))
    # Tolerance: normals come from central differences of the skin.
    assert off == pytest.approx((90 + np.degrees(np.arcsin(30 / 44.5))) / 2, abs=0.01)


@pytest.mark.analytical
@pytest.mark.parametrize("name", DEMOS)
def test_the_face_looks_away_from_both_parts(name: str) -> None:
    """Every fillet's face is square to its seam and looks out of the host and away from the guest."""
    # Source: what a fillet is. Tolerance: rounding.
    assembly, beads = assembled(name), bead_directions(assembled(name))
    assert np.abs(np.sum(beads.along * beads.face, axis=-1)).max() < 1e-12
    for bead, faces in zip(assembly.beads, beads.face, strict=True):
        seam, middle = assembly.seams[bead.seam], np.array((bead.start + bead.end) / 2)
        assert faces[1] @ seam.at(seam.normal, middle) > 0
        assert faces[1] @ seam.at(seam.weld_side, middle) > 0.3


@pytest.mark.common_practice
def test_truss_on_the_tubes_is_horizontal_upright() -> None:
    """With the housing as on the vehicle both seams of a truss lie level on the tubes, PB; nobody turns it for them."""
    for name in ("truss-only", "cast-centre"):
        assembly = assembled(name)
        tube = np.abs(middles(assembly)[:, 0] - assembly.section.middle) > 0.2
        assert {names_of(assembly, 0.0)[n] for n in np.flatnonzero(tube)} == {"PB"}


@pytest.mark.common_practice
def test_lower_rim_of_a_guard_is_overhead_until_the_housing_is_turned() -> None:
    """From 4 to 8 o'clock a guard's rim is overhead as on the vehicle; with the front up all of it is PA or PB."""
    assembly = assembled("rescue-truck")
    rim = np.array([assembly.seams[bead.seam].kind == "guard" for bead in assembly.beads])
    low = rim & (middles(assembly)[:, 2] < -0.03)
    upright, front_up = (np.array(names_of(assembly, turn)) for turn in (0.0, 90.0))
    assert low.sum() >= 6
    assert set(upright[low]) <= {"PD", "PE"}
    assert not set(upright[rim & ~low]) & {"PD", "PE"}
    assert set(front_up[rim]) <= {"PA", "PB"}


@pytest.mark.analytical
@pytest.mark.parametrize("name", DEMOS)
def test_upward_beads_climb(name: str) -> None:
    """Where the position is PF the sense is the one in which the bead's far end lies higher; elsewhere it is free."""
    # Source: definition of PF.
    assembly = assembled(name)
    ends = np.array(
        [
            assembly.seams[b.seam].at(assembly.seams[b.seam].path, np.array([b.start, b.end]))
            for b in assembly.beads
        ]
    )
    for turn in TURNS:
        found, sense = bead_positions(bead_directions(assembly), turn)
        rise = np.diff(turned(ends, turn)[..., 2], axis=1)[:, 0]
        upward = np.array([NAMES[n] == "PF" for n in found])
        assert (sense[upward] * rise[upward] > 0).all()
        assert (sense[~upward] == 0).all()


@pytest.mark.analytical
@pytest.mark.parametrize(
    ("slopes", "name", "sense"),
    [
        ([0, 0, 0], "PC", 0),
        ([0, 5, 20], "PF", 1),
        ([-20, -5, 0], "PF", -1),
        ([10, 0, -10], "PC", 0),
        ([20, 0, -20], "PG", 0),
        ([-60, 0, 60], "PG", 0),
    ],
)
def test_a_bead_that_spans_positions_has_the_worst(slopes: list[float], name: str, sense: int) -> None:
    """A bead that gets steep counts as upward; over the top of a curve part of it would go down, PG."""
    # Source: definition of PF and PG.
    found, senses = bead_positions(straight(slopes), 0.0)
    assert (NAMES[int(found[0])], int(senses[0])) == (name, sense)


@pytest.mark.analytical
@pytest.mark.parametrize("name", ["truss-only", "rescue-truck"])
def test_mirrored_job_has_mirrored_positions(name: str) -> None:
    """Left and right exchanged leave every bead's position as it is, at every turn, and it climbs the same way."""
    # Source: symmetry; turning about the axle does not tell left from right.
    one, other = assembled(name), assemble_job(mirrored(demo(name)))
    places = middles(one) * [-1.0, 1.0, 1.0]
    apart = np.linalg.norm(places[:, None] - middles(other)[None], axis=-1)
    partner = apart.argmin(axis=1)
    # 1e-6 m: the two sides of a gusset are 6 mm apart, so partners cannot be mistaken.
    assert apart.min(axis=1).max() < 1e-6
    beads, others = bead_directions(one), bead_directions(other)
    for turn in TURNS:
        found, sense = bead_positions(beads, turn)
        found_there, sense_there = bead_positions(others, turn)
        assert (found == found_there[partner]).all()
        climbing, climbing_there = (
            sense[:, None] * beads.along[:, 1],
            sense_there[:, None] * others.along[:, 1],
        )
        assert climbing[:, 1:] == pytest.approx(climbing_there[partner][:, 1:], abs=1e-6)
