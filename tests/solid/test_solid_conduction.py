"""Heat conduction in one dimension, steady and transient.

Source: Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed. 1959, sections 3.1 and 3.3 (from memory).
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.sparse import csc_array, diags_array
from solid_meshes import box_mesh, distorted_box, nodes_where, solve_held, unit_conduction

from axlewright.solid.factor import Factor
from axlewright.solid.hexahedron import lumped_capacity
from axlewright.solid.mesh import Floats, HexMesh

CONDUCTIVITY, RHO_C = 45.0, 3.7e6


def capacity(mesh: HexMesh) -> Floats:
    """Heat capacity of each node."""
    total = np.zeros(len(mesh.nodes))
    np.add.at(total, mesh.cells, lumped_capacity(mesh.cell_coordinates, np.full(len(mesh.cells), RHO_C)))
    return total


@pytest.mark.analytical
def test_steady_temperature_between_two_walls_is_linear_on_distorted_cells() -> None:
    """Between a hot and a cold wall temperature is linear and the heat flow is k A dT / L."""
    mesh = distorted_box((4, 3, 3), amount=0.35)
    matrix = unit_conduction(mesh, CONDUCTIVITY)
    hot, cold = nodes_where(mesh, (0, 0.0)), nodes_where(mesh, (0, 1.0))
    held = np.r_[hot, cold]
    values = np.r_[np.full(len(hot), 100.0), np.zeros(len(cold))]
    found = solve_held(matrix, np.zeros(len(mesh.nodes)), held, values)
    np.testing.assert_allclose(found, 100 * (1 - mesh.nodes[:, 0]), atol=1e-10)
    assert (matrix @ found)[hot].sum() == pytest.approx(CONDUCTIVITY * 100, rel=1e-11)


@pytest.mark.analytical
def test_slab_cooled_on_one_face_follows_the_series() -> None:
    """A slab cooled suddenly on one face and insulated on the other follows the series solution.

    T / T0 = sum 4 / (pi (2 n + 1)) sin((2 n + 1) pi x / 2 L) exp(-(2 n + 1)**2 pi**2 F / 4) at Fourier
    number F = 0.1, 0.3, 1. Lumped capacity on 30 cells and 500 trapezoidal steps after four fine
    implicit ones: error of order (1/30)**2, allowed 0.1 % of T0.
    """
    length, cells = 0.05, 30
    mesh = box_mesh((cells, 1, 1), (length, 0.01, 0.01))
    free = np.flatnonzero(mesh.nodes[:, 0] > 1e-9)
    heat = diags_array(capacity(mesh)[free])
    flow = csc_array(unit_conduction(mesh, CONDUCTIVITY)[free][:, free])
    x = mesh.nodes[free, 0]
    diffusivity = CONDUCTIVITY / RHO_C
    state, fourier, step = np.ones((len(free), 1)), 0.0, 0.002
    implicit = Factor(csc_array(heat + step / 4 * length**2 / diffusivity * flow))
    for _ in range(4):
        state = implicit.solve(heat @ state)
    fourier += step
    half = step / 2 * length**2 / diffusivity
    middle = Factor(csc_array(heat + half * flow))
    odd = 2 * np.arange(60) + 1
    for target in (0.1, 0.3, 1.0):
        for _ in range(round((target - fourier) / step)):
            state = middle.solve(heat @ state - half * (flow @ state))
        fourier = target
        terms = 4 / (np.pi * odd) * np.exp(-(odd**2) * np.pi**2 * fourier / 4)
        series = np.sin(np.outer(x, odd) * np.pi / (2 * length)) @ terms
        np.testing.assert_allclose(state[:, 0], series, atol=1e-3)


@pytest.mark.analytical
def test_conduction_alone_keeps_energy() -> None:
    """Without surface loss the rows of the conduction matrix add to zero, so energy is kept."""
    matrix = unit_conduction(distorted_box((3, 3, 3)), CONDUCTIVITY)
    assert np.abs(matrix.sum(axis=0)).max() < 1e-12 * np.abs(matrix.diagonal()).max()
