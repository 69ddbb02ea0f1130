"""Volumes and skin areas of the meshed parts against closed forms."""

from __future__ import annotations

import numpy as np
import pytest
from housing_jobs import DEMOS, assembled
from numpy.typing import NDArray
from reference.jobs import demo

from axlewright.housing.assembly import Assembly
from axlewright.housing.body import AROUND, FACETS
from axlewright.housing.part import HOUSING
from axlewright.solid.hexahedron import cell_volumes
from axlewright.solid.surface import quad_areas

TUBE = (0.02, 0.60)
"""Part of the demo's left tube clear of centre and knuckle flange, x [m]."""


def volume(assembly: Assembly, name: str) -> float:
    """Volume of one part [m3]."""
    part = next(part for part in assembly.parts if part.name == name)
    return float(cell_volumes(part.mesh.cell_coordinates).sum())


def on_tube(corners: NDArray[np.float64]) -> NDArray[np.float64]:
    """The cells or faces, by corners, that lie wholly on the piece of tube."""
    x = corners[:, :, 0]
    return corners[(x.min(axis=1) > TUBE[0]) & (x.max(axis=1) < TUBE[1])]


@pytest.mark.analytical
@pytest.mark.parametrize("name", DEMOS)
def test_no_cell_is_inside_out(name: str) -> None:
    """Every cell of every part has a positive volume, and no corner of it is folded over."""
    # Source: `cell_volumes` raises where the Jacobian is not positive at a Gauss point; no tolerance.
    assembly = assembled(name)
    volumes = cell_volumes(assembly.mesh.cell_coordinates)
    assert volumes.min() > 0
    assert len(volumes) == sum(len(part.mesh.cells) for part in assembly.parts)
    assert len(np.unique(assembly.mesh.cells)) == len(assembly.mesh.nodes)


@pytest.mark.analytical
def test_tube_is_a_prism_of_24_sides() -> None:
    """The tube's volume is that of a 24-sided prism drawn to bend, and nearly to weigh, as the round tube."""
    # Source: polygon of n sides, area n / 2 sin(2 pi / n) R^2, drawn 1.0057 times larger. Tolerance: rounding for the
    # prism; 0.05 % for the round tube: equal second moment makes the area equal to 1.0057^2 sin(a) / a = 1.0000.
    tube = demo("truss-only").housing.left_tube
    outer, inner = tube.outside_diameter / 2, tube.outside_diameter / 2 - tube.wall
    cells = on_tube(assembled("truss-only").parts[HOUSING].mesh.cell_coordinates)
    length = np.ptp(cells[:, :, 0])
    assert length > 0.5
    prism = FACETS**2 * AROUND / 2 * np.sin(2 * np.pi / AROUND) * (outer**2 - inner**2) * length
    got = cell_volumes(cells).sum()
    assert got == pytest.approx(prism, rel=1e-9)
    ring = np.pi * (outer**2 - inner**2) * length
    assert got == pytest.approx(ring, rel=5e-4)


@pytest.mark.analytical
def test_skin_of_the_tube_faces_the_air() -> None:
    """The tube loses heat over its outer skin once: 24 facets, 0.3 % more than the round tube's."""
    # Source: facet width 2 R sin(pi / n) on a circle 1.0057 times larger. Tolerance: rounding for the prism.
    radius = demo("truss-only").housing.left_tube.outside_diameter / 2
    part = assembled("truss-only").parts[HOUSING]
    faces = on_tube(part.mesh.nodes[part.airy_faces])
    length = np.ptp(faces[:, :, 0])
    got = quad_areas(faces).sum()
    assert got == pytest.approx(2 * AROUND * FACETS * radius * np.sin(np.pi / AROUND) * length, rel=1e-9)
    assert got == pytest.approx(2 * np.pi * radius * length, rel=0.0035)


@pytest.mark.analytical
def test_box_truss_has_the_volume_of_its_plates() -> None:
    """The box truss holds two webs and a top plate, w h - (w - 2 t)(h - t) in section."""
    # Source: integral of that section over the length; h from the stated top edge down to the skin. Tolerance 1 %:
    # cells 13 mm long cut the corners of the top edge and of the skin where tube meets centre.
    assembly, truss = assembled("truss-only"), demo("truss-only").trusses[0]
    assert truss.width is not None
    at = np.linspace(truss.start, truss.end, 20001)
    x = assembly.section.half_length - at
    top = np.interp(at, *np.array(truss.top).T)
    height = top - assembly.section.top_at(x, np.full_like(x, truss.width / 2))
    inner = (truss.width - 2 * truss.thickness) * (height - truss.thickness)
    exact = np.trapezoid(truss.width * height - inner, at)
    assert volume(assembly, truss.name) == pytest.approx(exact, rel=0.01)


@pytest.mark.analytical
def test_bridging_web_has_the_volume_of_its_plate() -> None:
    """The single web holds thickness times the area between its top edge and its lower edge."""
    # Source: the same integral; lower edge on the tube, over the centre at the stated clearance above its top.
    # Tolerance 2 %: the ramps between the two are left out here, 2 x 30 mm of 990 mm, at half their height.
    assembly, truss = assembled("cast-centre"), demo("cast-centre").trusses[0]
    centre = assembly.section.housing.centre
    assert truss.clear_of_centre is not None
    at = np.linspace(truss.start, truss.end, 20001)
    x = assembly.section.half_length - at
    top = np.interp(at, *np.array(truss.top).T)
    bridged = np.abs(x - assembly.section.middle) < centre.width / 2 + 0.015
    low = np.where(bridged, centre.height / 2 + truss.clear_of_centre, assembly.section.tube_radius(x))
    exact = np.trapezoid(top - low, at) * truss.thickness
    assert volume(assembly, truss.name) == pytest.approx(exact, rel=0.02)


@pytest.mark.analytical
def test_flat_plates_have_the_volume_of_their_outlines() -> None:
    """A spacer is a slab, a gusset a trapezium that is a quarter as high at its thin end."""
    # Source: length x width x thickness; mean height (1 + 1/4) / 2. Tolerance: rounding, both are flat.
    job, assembly = demo("rescue-truck"), assembled("rescue-truck")
    spacer, gusset = job.spacers[0], job.gussets[0]
    slab = spacer.length * spacer.width * spacer.thickness
    assert volume(assembly, spacer.name) == pytest.approx(slab, rel=1e-9)
    trapezium = gusset.length * gusset.height * 0.625 * gusset.thickness
    assert volume(assembly, gusset.name) == pytest.approx(trapezium, rel=1e-9)


@pytest.mark.analytical
def test_perch_is_a_block_with_a_saddle() -> None:
    """A perch is a block from its flat top down to the tube, and level beyond 0.8 of the tube's radius."""
    # Source: block to the axle line less the area under the circle, integral of sqrt(R^2 - y^2) to y = 0.8 R, level
    # from there on. Tolerance 2 %: cells 17 mm wide under a circle of 44.5 mm.
    perch, radius = demo("rescue-truck").housing.perches[0], 0.0445
    reach = 0.8 * radius
    under = reach * np.sqrt(radius**2 - reach**2) + radius**2 * np.arcsin(0.8)
    under += 2 * (perch.width / 2 - reach) * np.sqrt(radius**2 - reach**2)
    exact = perch.length * (perch.width * perch.height - under)
    assert volume(assembled("rescue-truck"), perch.name) == pytest.approx(exact, rel=0.02)


@pytest.mark.analytical
def test_guard_is_a_disc_with_a_hole_in_its_middle() -> None:
    """A guard weighs what a plate of its rim's diameter weighs, less the hole left at its middle."""
    # Source: pi R^2 (1 - 0.2^2) t, thickness measured fore and aft. Tolerance 1.5 %: the rim is a polygon of 39
    # sides, (2 pi / 39)^2 / 6 = 0.4 %; the rest is left for dishing, which does not change the area seen from in front.
    guard = demo("rescue-truck").guards[0]
    disc = np.pi * (guard.diameter / 2) ** 2 * (1 - 0.2**2) * guard.thickness
    assert volume(assembled("rescue-truck"), guard.name) == pytest.approx(disc, rel=0.015)
