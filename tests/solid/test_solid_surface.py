"""Outer faces and their areas."""

from __future__ import annotations

import numpy as np
import pytest
from solid_meshes import box_mesh, distorted_box, tube_mesh

from axlewright.solid.surface import FACE_CORNERS, boundary_faces, quad_areas


@pytest.mark.analytical
def test_areas_of_a_faceted_tube_are_those_of_its_prism() -> None:
    """Skin areas of a 24-sided tube equal the prism's exactly and the circle's within the facets' 0.3 %.

    Facet width is 2 R sin(pi / n), against 2 R pi / n: relative error (pi / n)**2 / 6 = 0.286 %.
    """
    length, radius, wall, sides = 0.7, 0.0445, 0.008, 24
    mesh = tube_mesh((sides, 9, 1), length, radius, wall)
    faces, _, _ = boundary_faces(mesh.cells)
    areas = quad_areas(mesh.nodes[faces])
    outer = np.hypot(mesh.nodes[faces, 1], mesh.nodes[faces, 2]).min(axis=1) > radius - wall / 2
    prism = 2 * sides * radius * np.sin(np.pi / sides) * length
    assert areas[outer].sum() == pytest.approx(prism, rel=1e-12)
    assert areas[outer].sum() == pytest.approx(2 * np.pi * radius * length, rel=0.003)
    ends = sides * np.sin(2 * np.pi / sides) * (radius**2 - (radius - wall) ** 2)
    inner = prism * (radius - wall) / radius
    assert areas.sum() == pytest.approx(prism + inner + ends, rel=1e-12)


@pytest.mark.analytical
def test_areas_are_lumped_where_they_lie() -> None:
    """A rectangle gives each corner a quarter; a triangle-like trapezoid gives more to its long side."""
    square = np.array([[0, 0, 0], [2, 0, 0], [2, 3, 0], [0, 3, 0]], dtype=float)
    trapezoid = np.array([[0, 0, 0], [4, 0, 0], [1, 2, 0], [0, 2, 0]], dtype=float)
    areas = quad_areas(np.stack([square, trapezoid]))
    np.testing.assert_allclose(areas[0], 1.5, rtol=1e-13)
    assert areas[1].sum() == pytest.approx(5.0, rel=1e-13)
    # Bilinear: integral of N over a trapezoid, sides a = 4, b = 1, height 2: h (2 a + b) / 12 at the base.
    np.testing.assert_allclose(areas[1], [1.5, 1.5, 1.0, 1.0], rtol=1e-13)


@pytest.mark.analytical
def test_boundary_faces_are_the_skin_and_point_outwards() -> None:
    """The skin of a box is closed: its areas add up and every normal points out of its cell."""
    mesh = distorted_box((3, 2, 4))
    faces, cells, local = boundary_faces(mesh.cells)
    assert len(faces) == 2 * (3 * 2 + 2 * 4 + 3 * 4)
    np.testing.assert_array_equal(mesh.cells[cells[:, None], FACE_CORNERS[local]], faces)
    points = mesh.nodes[faces]
    normal = np.cross(points[:, 1] - points[:, 0], points[:, 3] - points[:, 0])
    outward = points.mean(axis=1) - mesh.cell_coordinates[cells].mean(axis=1)
    assert ((normal * outward).sum(axis=1) > 0).all()
    assert quad_areas(points).sum() == pytest.approx(6.0, rel=1e-12)


@pytest.mark.analytical
def test_a_single_cell_shows_all_six_faces() -> None:
    """A single cell has all six local faces on the outside."""
    faces, cells, local = boundary_faces(box_mesh((1, 1, 1)).cells)
    assert len(faces) == 6
    np.testing.assert_array_equal(cells, 0)
    np.testing.assert_array_equal(np.sort(local), np.arange(6))
