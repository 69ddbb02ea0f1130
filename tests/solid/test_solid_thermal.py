"""Thermal expansion: exact growth, exact curvature, no stress."""

from __future__ import annotations

import numpy as np
import pytest
from solid_meshes import (
    EXPANSION,
    POISSON,
    YOUNGS,
    box_mesh,
    distorted_box,
    solve_held,
    steel_stiffness,
    steel_thermal_load,
)

from axlewright.solid.hexahedron import stiffness, thermal_load
from axlewright.solid.mesh import Floats, HexMesh, Ints


def three_point_rest(mesh: HexMesh) -> Ints:
    """Six unknowns that hold a box from the origin without hindering its growth."""
    far = mesh.nodes.max(axis=0)
    origin, along_x, along_y = (
        int(np.argmin(np.linalg.norm(mesh.nodes - place, axis=1)))
        for place in (np.zeros(3), far * [1, 0, 0], far * [0, 1, 0])
    )
    return np.array(
        [3 * origin, 3 * origin + 1, 3 * origin + 2, 3 * along_x + 1, 3 * along_x + 2, 3 * along_y + 2]
    )


def rise_displacement(mesh: HexMesh, rise: Floats, exact: Floats) -> Floats:
    """Displacement after a rise of temperature, with six unknowns given their exact values."""
    load, held = steel_thermal_load(mesh) @ rise, three_point_rest(mesh)
    return solve_held(steel_stiffness(mesh), load, held, exact.ravel()[held]).reshape(-1, 3)


@pytest.mark.analytical
def test_uniform_heating_of_a_free_body_gives_exact_growth() -> None:
    """A free body of distorted cells heated evenly grows by alpha dT everywhere."""
    mesh = distorted_box((3, 3, 3), amount=0.35)
    exact = EXPANSION * 100 * mesh.nodes
    found = rise_displacement(mesh, np.full(len(mesh.nodes), 100.0), exact)
    # Growth is 1.2e-3 at the far corner; what is left is round-off.
    np.testing.assert_allclose(found, exact, atol=1e-14)


@pytest.mark.analytical
def test_uniform_heating_leaves_every_cell_without_force() -> None:
    """Cell by cell, the thermal load is exactly what the growth needs: no stress remains."""
    mesh = distorted_box((3, 3, 3), amount=0.35)
    one = np.ones(len(mesh.cells))
    corners = mesh.cell_coordinates
    load = thermal_load(corners, YOUNGS * one, POISSON * one, EXPANSION * one).sum(axis=2)
    growth = (EXPANSION * corners).reshape(-1, 24)
    force = np.einsum("eij,ej->ei", stiffness(corners, YOUNGS * one, POISSON * one), growth) - load
    assert np.abs(force).max() < 1e-12 * np.abs(load).max()


@pytest.mark.analytical
def test_thermal_gradient_bends_a_free_plate_to_the_exact_curvature() -> None:
    """A plate one cell thick with a linear gradient through it bends to alpha dT/dz without stress.

    Equation: u = alpha g (x z, y z, (z**2 - x**2 - y**2) / 2); Timoshenko & Goodier, Theory of Elasticity,
    chapter 13 (from memory). Corner displacements are exact on regular cells: round-off only.
    """
    mesh = box_mesh((8, 5, 1), (0.2, 0.1, 0.008))
    gradient = 5000.0
    x, y, z = mesh.nodes.T
    exact = EXPANSION * gradient * np.stack([x * z, y * z, (z**2 - x**2 - y**2) / 2], axis=1)
    found = rise_displacement(mesh, gradient * mesh.nodes[:, 2], exact)
    np.testing.assert_allclose(found, exact, atol=1e-9 * np.abs(exact).max())


@pytest.mark.analytical
def test_heating_a_clamped_bar_gives_the_exact_thrust() -> None:
    """A bar held lengthwise between walls pushes with E A alpha dT."""
    mesh = box_mesh((6, 2, 1), (0.3, 0.04, 0.01))
    x = mesh.nodes[:, 0]
    ends = np.flatnonzero(np.isclose(x, 0) | np.isclose(x, 0.3))
    # The three points stop rigid motion; lengthwise the end faces already do.
    held = np.unique(np.r_[3 * ends, three_point_rest(mesh)])
    stiff, load = steel_stiffness(mesh), steel_thermal_load(mesh) @ np.full(len(x), 80.0)
    found = solve_held(stiff, load, held)
    reaction = stiff @ found - load
    thrust = reaction[3 * np.flatnonzero(np.isclose(x, 0))].sum()
    assert thrust == pytest.approx(YOUNGS * 0.04 * 0.01 * EXPANSION * 80, rel=1e-9)
