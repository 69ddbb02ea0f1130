"""Finding points in a mesh and interpolating there."""

from __future__ import annotations

import numpy as np
import pytest
from solid_meshes import box_mesh, distorted_box, tube_mesh

from axlewright.solid.locate import displacement_rows, gradient_rows, locate, temperature_rows
from axlewright.solid.mesh import Floats, HexMesh
from axlewright.solid.shape import shape_values

RANDOM = np.random.default_rng(11)
GRADIENT = np.array([[1.0, 0.4, -0.2], [0.3, -0.7, 0.5], [0.1, 0.6, 0.8]])
SHIFT = np.array([0.2, -0.1, 0.4])
# Fields of order 1; asked to 1e-10, found to 1e-14.
EXACT = 1e-10


def skin_points(count: int) -> Floats:
    """Points on the true circle of a tube, up to a sagitta outside its facets."""
    x, theta = RANDOM.uniform(0.01, 1.29, count), RANDOM.uniform(0, 2 * np.pi, count)
    return np.stack([x, 0.0445 * np.sin(theta), 0.0445 * np.cos(theta)], axis=1)


MESHES = {
    "distorted": (distorted_box((5, 4, 6), amount=0.35), RANDOM.uniform(0, 1, (300, 3))),
    "tube": (tube_mesh((24, 60, 1), 1.3, 0.0445, 0.008), skin_points(300)),
}


@pytest.mark.analytical
@pytest.mark.parametrize("name", MESHES)
def test_linear_fields_are_interpolated_exactly(name: str) -> None:
    """Linear displacement, its gradient and linear temperature come back exactly, off the facets too."""
    mesh, points = MESHES[name]
    location = locate(mesh, points)
    field = mesh.nodes @ GRADIENT.T + SHIFT
    moved = (displacement_rows(mesh, location) @ field.ravel()).reshape(-1, 3)
    np.testing.assert_allclose(moved, points @ GRADIENT.T + SHIFT, atol=EXACT)
    slopes = (gradient_rows(mesh, location) @ field.ravel()).reshape(-1, 3, 3)
    np.testing.assert_allclose(slopes, np.tile(GRADIENT, (len(points), 1, 1)), atol=EXACT)
    np.testing.assert_allclose(temperature_rows(mesh, location) @ field[:, 1], moved[:, 1], atol=EXACT)


@pytest.mark.analytical
@pytest.mark.parametrize("name", MESHES)
def test_rigid_motion_is_interpolated_exactly(name: str) -> None:
    """A small rotation about any axis moves every point as it moves the nodes."""
    mesh, points = MESHES[name]
    rows = displacement_rows(mesh, locate(mesh, points))
    for axis in np.eye(3):
        moved = (rows @ np.cross(axis, mesh.nodes).ravel()).reshape(-1, 3)
        np.testing.assert_allclose(moved, np.cross(axis, points), atol=EXACT)


@pytest.mark.analytical
def test_points_made_inside_known_cells_are_found_there() -> None:
    """A point made from natural coordinates in a cell is found in that cell at those coordinates."""
    mesh = MESHES["distorted"][0]
    cells = RANDOM.integers(0, len(mesh.cells), 200)
    natural = RANDOM.uniform(-0.99, 0.99, (200, 3))
    points = np.einsum("pa,pai->pi", shape_values(natural), mesh.cell_coordinates[cells])
    location = locate(mesh, points)
    np.testing.assert_array_equal(location.cells, cells)
    np.testing.assert_allclose(location.natural, natural, atol=EXACT)
    np.testing.assert_array_equal(location.overshoot, 0)


@pytest.mark.analytical
def test_the_right_cell_is_found_among_long_thin_cells() -> None:
    """In cells ten times as long as thick the owner is found, though other centroids are nearer."""
    mesh = box_mesh((5, 20, 20), (1.0, 0.4, 0.4))
    points = RANDOM.uniform(0, 1, (300, 3)) * np.array([1.0, 0.4, 0.4])
    assert locate(mesh, points).overshoot.max() < EXACT


@pytest.mark.analytical
def test_a_point_off_the_facets_overshoots_by_its_distance() -> None:
    """A point on the true circle lies outside its facet by the sagitta, in half walls.

    Sagitta at mid-facet R (1 - cos(pi / n)) over half the wall's mid-facet thickness t cos(pi / n) / 2.
    """
    mesh = MESHES["tube"][0]
    angle = np.pi / 24
    point = np.array([[0.65, 0.0445 * np.sin(angle), 0.0445 * np.cos(angle)]])
    sagitta = 0.0445 * (1 - np.cos(angle)) / (0.004 * np.cos(angle))
    assert locate(mesh, point).overshoot[0] == pytest.approx(sagitta, rel=1e-9)


@pytest.mark.analytical
def test_only_candidates_are_considered() -> None:
    """With the other half as candidates a point is tied to the nearest of those cells instead."""
    mesh = box_mesh((4, 1, 1))
    point = np.array([[0.45, 0.5, 0.5]])
    assert locate(mesh, point).cells[0] == 1
    other = locate(mesh, point, np.array([2, 3]))
    assert other.cells[0] == 2
    assert other.overshoot[0] == pytest.approx(0.05 / 0.125, rel=1e-9)


@pytest.mark.analytical
def test_no_candidates_and_points_without_coordinates_are_refused() -> None:
    """An empty candidate list and a point beyond the reach of any cell are refused."""
    mesh = box_mesh((2, 2, 2))
    with pytest.raises(ValueError, match="candidates is empty"):
        locate(mesh, np.zeros((1, 3)), np.array([], dtype=np.int64))
    with pytest.raises(ValueError, match="too far"):
        locate(HexMesh(mesh.nodes, mesh.cells), np.array([[50.0, 0.0, 0.0]]))
