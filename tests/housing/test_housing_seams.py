"""Seams lie where the parts meet, and know which way is along, out and toward the fillet."""

from __future__ import annotations

import numpy as np
import pytest
from housing_jobs import DEMOS, assembled, gap, samples, seam_of
from reference.jobs import demo, plain_tube, strip

from axlewright.housing.assembly import Assembly, assemble_job
from axlewright.housing.part import HOUSING
from axlewright.housing.seam_points import end_points, sample_points
from axlewright.solid.locate import locate

HOST_GAP, GUEST_GAP, BRIDGE_GAP = 2.1e-3, 4e-3, 7e-3
"""Most that seams may lie off the meshes [m]. Host: facets of 12-39 mm on a curved skin. Guest: a truss's lower edge
runs straight over cells of 13 mm where the skin turns up to the centre, or where a bridging edge begins to rise."""


def kinds(assembly: Assembly, seams: np.ndarray) -> np.ndarray:
    """Kind of seam at each point."""
    return np.array([seam.kind for seam in assembly.seams])[seams]


@pytest.mark.analytical
@pytest.mark.parametrize("name", DEMOS)
def test_seams_touch_both_parts(name: str) -> None:
    """Every sampled point lies on host and guest, but for what flat cells cut off a curve."""
    # Source: geometry; bounds explained above. Natural overshoot, in half cells, is bounded too, as it is what the
    # interpolation extrapolates over.
    assembly, points = assembled(name), sample_points(assembled(name))
    _, places = samples(assembly)
    assert gap(assembly, points.host, places).max() < HOST_GAP
    guest = BRIDGE_GAP if demo(name).trusses[0].clear_of_centre else GUEST_GAP
    assert gap(assembly, points.guest, places).max() < guest
    assert max(points.host.overshoot.max(), points.guest.overshoot.max()) < 0.35


@pytest.mark.analytical
def test_seams_lie_on_the_skin_as_it_is_described() -> None:
    """Truss and guard seams lie on the analytic skin; the two of a gusset lie half its thickness to its sides."""
    # Source: y^2 / b^2 + z^2 / a^2 = 1. Tolerance: chords of the seam's 2 mm steps, under 0.1 mm where tube meets
    # centre; a gusset of 6 mm stands t^2 / (8 R) = 0.10 mm off a tube of radius 44.5 mm.
    assembly = assembled("rescue-truck")
    seams, places = samples(assembly)
    section, kind = assembly.section, kinds(assembly, seams)
    radius = np.hypot(
        places[:, 1] / section.half_depth(places[:, 0]), places[:, 2] / section.half_height(places[:, 0])
    )
    off = np.abs(radius - 1.0) * np.hypot(places[:, 1], places[:, 2])
    assert off[(kind == "truss") | (kind == "guard")].max() < 1e-4
    foot = (kind == "gusset") & (np.abs(places[:, 0]) < section.half_length - 0.0221)
    assert foot.any() and off[foot].max() < 1.05e-4


@pytest.mark.analytical
def test_spacer_seam_runs_round_the_top_of_its_perch() -> None:
    """A spacer's seam is as long as its edges together and lies at the height of the perch's top."""
    # Source: 2 (length + width); no tolerance but rounding.
    seam = seam_of(assembled("rescue-truck"), "left spacer", "all-round seam")
    spacer, perch = demo("rescue-truck").spacers[0], demo("rescue-truck").housing.perches[0]
    assert seam.length == pytest.approx(2 * (spacer.length + spacer.width), rel=1e-12)
    np.testing.assert_allclose(seam.path[:, 2], perch.height, rtol=1e-12)
    np.testing.assert_allclose(seam.path[0], seam.path[-1], atol=1e-12)
    middle = assembled("rescue-truck").section.half_length - perch.at
    assert np.abs(seam.path[:, 0] - middle).max() == pytest.approx(spacer.length / 2, rel=1e-12)


@pytest.mark.analytical
@pytest.mark.parametrize("name", DEMOS)
def test_directions_are_square_and_of_unit_length(name: str) -> None:
    """Along, out of the host and toward the fillet stand square to each other everywhere, at samples and at ends."""
    # Source: definition; tolerance rounding.
    for points in (sample_points(assembled(name)), end_points(assembled(name))):
        frame = np.stack([points.along, points.normal, points.weld_side], axis=1)
        np.testing.assert_allclose(
            frame @ frame.transpose(0, 2, 1), np.broadcast_to(np.eye(3), frame.shape), atol=1e-12
        )


@pytest.mark.analytical
@pytest.mark.parametrize("name", DEMOS)
def test_normals_point_out_of_the_host(name: str) -> None:
    """A step of 3 mm along the normal leads out of the host, a step back leads in."""
    # Source: definition. The step passes the gaps above; a knuckle flange's inner face is meshed as a 2 mm ramp.
    assembly, points = assembled(name), sample_points(assembled(name))
    seams, places = samples(assembly)
    hosts = np.array([seam.host for seam in assembly.seams])[seams]
    for host in np.unique(hosts):
        chosen = hosts == host
        here, normal, cells = places[chosen], points.normal[chosen], assembly.cells_of(host)
        out, back = (
            gap(assembly, locate(assembly.mesh, p, cells), p)
            for p in (here + 3e-3 * normal, here - 3e-3 * normal)
        )
        assert np.all(out > back)
        assert np.all(back < 1e-3)


@pytest.mark.analytical
@pytest.mark.parametrize("name", DEMOS)
def test_fillets_lie_on_the_free_side_of_the_plate(name: str) -> None:
    """Toward the fillet is away from the plate: outwards for truss, guard and spacer, off each face of a gusset."""
    # Source: where a torch can reach. No tolerance: a sign.
    assembly, points = assembled(name), sample_points(assembled(name))
    seams, places = samples(assembly)
    kind = kinds(assembly, seams)
    for number in np.unique(seams):
        chosen = seams == number
        middle = assembly.parts[assembly.seams[number].guest].mesh.nodes.mean(axis=0)
        away = places[chosen] - middle
        if kind[chosen][0] == "truss":
            away *= [0.0, 1.0, 0.0]
        # What lies along the seam or square to the host says nothing about the side.
        assert np.all(np.sum(away * points.weld_side[chosen], axis=1) > 0)


@pytest.mark.analytical
def test_gusset_seam_runs_down_the_flange_then_along_the_tube() -> None:
    """A gusset's seam comes down the flange by its height, turns at its corner, and runs inwards by its length."""
    # Source: the job file. Tolerance: rounding.
    job, assembly = demo("rescue-truck"), assembled("rescue-truck")
    for gusset in job.gussets:
        face = assembly.section.half_length - job.housing.knuckle_flange.thickness
        sign = 1.0 if gusset.end == "left" else -1.0
        seams = [seam for seam in assembly.seams if seam.attachment == gusset.name]
        assert len(seams) == 2
        for seam in seams:
            (corner,) = seam.corners
            assert corner == pytest.approx(gusset.height, rel=1e-9)
            assert seam.length == pytest.approx(gusset.height + gusset.length, rel=1e-9)
            top, foot, tip = seam.at(seam.path, np.array([0.0, corner, seam.length]))
            assert (top[0], foot[0], tip[0]) == pytest.approx(
                (sign * face, sign * face, sign * (face - gusset.length)), abs=1e-9
            )
            assert abs(top[1]) - abs(foot[1]) == pytest.approx(gusset.height, rel=1e-9)
            assert tip[1:] == pytest.approx(foot[1:], abs=1e-9)
            assert np.sign(foot[1]) == (1.0 if gusset.clock == 3 else -1.0)
        aside = sorted(seam.path[0, 2] for seam in seams)
        assert aside == pytest.approx([-gusset.thickness / 2, gusset.thickness / 2], abs=1e-9)


@pytest.mark.analytical
def test_bracket_across_the_tube_is_as_long_as_its_foot() -> None:
    """The seam of a bracket across the tube has the length measured round the skin, on both faces."""
    # Source: arc length R angle. Tolerance 0.1 %: chords of 2 mm on a radius of 44.5 mm err by (2 / 44.5)^2 / 24.
    text = strip(length=80).replace('lies = "along"', 'lies = "across"')
    left, right = assemble_job(plain_tube(text)).seams
    assert left.length == pytest.approx(0.080, rel=1e-3) and right.length == pytest.approx(0.080, rel=1e-3)
    assert abs(left.path[0, 0] - right.path[0, 0]) == pytest.approx(0.003, rel=1e-9)


@pytest.mark.analytical
def test_perches_are_joined_to_the_tube() -> None:
    """The points where the maker joined a perch lie on tube and perch both."""
    # Source: geometry. Tolerance: sagitta of the tube's facets, R (1 - cos(pi / 24)) = 0.4 mm; the perch's outer
    # cells run straight from y = 25 mm to the saddle's end, 2.7 mm above the tube at y = 34 mm.
    assembly = assembled("rescue-truck")
    for tie in assembly.ties:
        assert tie.host == HOUSING and assembly.parts[tie.guest].name.endswith("perch")
        for part, allowed in ((tie.host, 5e-4), (tie.guest, 3e-3)):
            found = locate(assembly.mesh, tie.points, assembly.cells_of(part))
            assert gap(assembly, found, tie.points).max() < allowed
