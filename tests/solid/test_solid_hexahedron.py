"""The element: patch test, rigid motion, volumes and what it refuses.

Source of the tests: Taylor, Beresford & Wilson, Int. J. Numer. Methods Eng. 10 (1976) 1211-1219 (patch test);
MacNeal & Harder, Finite Elements in Analysis and Design 1 (1985) 3-20 (eigenvalues, beam); from memory.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from skfem import Basis, ElementHex1, MeshHex
from skfem.models.poisson import laplace
from skfem.refdom import RefHex
from solid_meshes import (
    POISSON,
    YOUNGS,
    box_mesh,
    distorted_box,
    nodes_where,
    solve_held,
    steel_stiffness,
    tube_mesh,
    unit_conduction,
)

from axlewright.solid.hexahedron import cell_volumes, conduction, lumped_capacity, stiffness, thermal_load
from axlewright.solid.mesh import Floats
from axlewright.solid.shape import CORNERS

GRADIENT = np.array([[1.0, 0.4, -0.2], [0.3, -0.7, 0.5], [0.1, 0.6, 0.8]]) * 1e-3


@pytest.mark.analytical
def test_patch_of_distorted_cells_holds_constant_strain() -> None:
    """Nodes inside a patch of distorted cells follow a linear displacement of its skin exactly."""
    mesh = distorted_box((3, 3, 3), amount=0.35)
    exact = (mesh.nodes @ GRADIENT.T).ravel()
    skin = np.flatnonzero(((mesh.nodes < 1e-9) | (mesh.nodes > 1 - 1e-9)).any(axis=1))
    held = (3 * skin[:, None] + np.arange(3)).ravel()
    found = solve_held(steel_stiffness(mesh), np.zeros(len(exact)), held, exact[held])
    # Displacements are near 1e-3; condition of the patch some 1e3.
    np.testing.assert_allclose(found, exact, atol=1e-14)


@pytest.mark.analytical
def test_constant_strain_gives_the_exact_strain_energy() -> None:
    """The strain energy of a linear displacement is half stress times strain times volume."""
    mesh = distorted_box((3, 3, 3), amount=0.35)
    exact = (mesh.nodes @ GRADIENT.T).ravel()
    strain = (GRADIENT + GRADIENT.T) / 2
    shear = YOUNGS / (2 * (1 + POISSON))
    first = 2 * shear * POISSON / (1 - 2 * POISSON)
    energy = 0.5 * (first * np.trace(strain) ** 2 + 2 * shear * (strain**2).sum())
    assert 0.5 * exact @ (steel_stiffness(mesh) @ exact) == pytest.approx(energy, rel=1e-12)


@pytest.mark.analytical
def test_a_distorted_cell_has_six_zero_energy_motions_and_no_more() -> None:
    """Exactly six eigenvalues vanish, and they are the rigid motions."""
    corners = CORNERS / 2 + np.random.default_rng(3).uniform(-0.12, 0.12, (8, 3))
    matrix = stiffness(corners[None], np.ones(1), np.full(1, POISSON))[0]
    values = np.linalg.eigvalsh(matrix)
    # Zero within round-off of the largest; the softest true deformation is far above it.
    assert np.abs(values[:6]).max() < 1e-14 * values[-1] * 10
    assert values[6] > 1e-2 * values[-1]
    spins = [np.cross(axis, corners) for axis in np.eye(3)]
    shifts = [np.tile(axis, (8, 1)) for axis in np.eye(3)]
    rigid = np.array([motion.ravel() for motion in spins + shifts])
    assert np.abs(matrix @ rigid.T).max() < 1e-13 * values[-1]
    np.testing.assert_allclose(matrix, matrix.T, atol=1e-14 * values[-1])


@pytest.mark.analytical
def test_a_single_regular_cell_bends_with_the_exact_beam_energy() -> None:
    """One cell in pure bending has the energy of beam theory, 1/2 E I times curvature squared times length.

    Displacement (x z, 0, -(x**2) / 2), unit cube, E = 1, nu = 0, so that twice the energy is I = 1/12; the
    modes supply the quadratic part. A plain trilinear cube comes out half as stiff again. Round-off only.
    """
    corners = CORNERS / 2
    motion = np.zeros((8, 3))
    motion[:, 0] = corners[:, 0] * corners[:, 2]
    matrix = stiffness(corners[None], np.ones(1), np.zeros(1))[0]
    assert motion.ravel() @ matrix @ motion.ravel() == pytest.approx(1 / 12, rel=1e-12)


@pytest.mark.analytical
def test_energy_grows_with_youngs_modulus_cell_by_cell() -> None:
    """Each cell uses its own Young's modulus and Poisson's ratio."""
    mesh = distorted_box((2, 1, 1))
    both = stiffness(mesh.cell_coordinates, np.array([1.0, 3.0]), np.array([0.3, 0.2]))
    alone = stiffness(mesh.cell_coordinates[1:], np.ones(1), np.array([0.2]))
    np.testing.assert_allclose(both[1], 3 * alone[0], rtol=1e-10, atol=1e-14)


@pytest.mark.analytical
def test_volumes_and_capacities_add_up_on_a_distorted_box_and_a_faceted_tube() -> None:
    """Cell volumes fill the box and the prismatic tube; capacities are positive and add to rho c V."""
    box = distorted_box((3, 4, 2), amount=0.35)
    assert cell_volumes(box.cell_coordinates).sum() == pytest.approx(1.0, rel=1e-13)
    capacity = lumped_capacity(box.cell_coordinates, np.full(len(box.cells), 3.6e6))
    assert capacity.min() > 0
    assert capacity.sum() == pytest.approx(3.6e6, rel=1e-13)
    tube = tube_mesh((24, 5, 1), 0.5, 0.0445, 0.008)
    ring = 24 / 2 * np.sin(2 * np.pi / 24) * (0.0445**2 - 0.0365**2)
    assert cell_volumes(tube.cell_coordinates).sum() == pytest.approx(0.5 * ring, rel=1e-13)


@pytest.mark.analytical
def test_conduction_equals_the_same_element_of_another_library() -> None:
    """Conduction of a distorted mesh equals scikit-fem's trilinear element with the same Gauss points."""
    mesh = distorted_box((3, 3, 3), amount=0.35)
    order = [int(np.flatnonzero((corner == RefHex.p.T).all(axis=1))[0]) for corner in (CORNERS + 1) / 2]
    cells = np.empty((8, len(mesh.cells)), dtype=np.int64)
    cells[order] = mesh.cells.T
    basis = Basis(MeshHex(mesh.nodes.T.copy(), cells), ElementHex1(), intorder=3)
    reference = laplace.assemble(basis)[basis.nodal_dofs[0]][:, basis.nodal_dofs[0]]
    difference = unit_conduction(mesh) - reference
    assert np.abs(difference.toarray()).max() < 1e-13


@pytest.mark.published
def test_straight_cantilever_of_macneal_and_harder() -> None:
    """Six regular cells bend as the published slender beam does.

    MacNeal & Harder 1985, straight beam 6 x 0.2 x 0.1, E = 1e7, nu = 0.3, unit tip forces; printed tip
    displacements 0.1081 in plane and 0.4321 out of plane (from memory). The best eight-node elements of
    the time score 0.97 to 0.99 with six cells, because moment varies inside each cell: 3 %.
    """
    mesh = box_mesh((6, 1, 1), (6.0, 0.2, 0.1))
    matrix = steel_stiffness(mesh, youngs=1e7)
    tip = nodes_where(mesh, (0, 6.0))
    held = (3 * nodes_where(mesh, (0, 0.0))[:, None] + np.arange(3)).ravel()
    for axis, printed in ((1, 0.1081), (2, 0.4321)):
        load = np.zeros(3 * len(mesh.nodes))
        load[3 * tip + axis] = 1 / 4
        assert solve_held(matrix, load, held)[3 * tip + axis].mean() == pytest.approx(printed, rel=0.03)


@pytest.mark.analytical
def test_an_inside_out_cell_is_refused() -> None:
    """A cell whose corners are numbered from the top down is refused by name."""
    flipped = np.stack([CORNERS, CORNERS[[4, 5, 6, 7, 0, 1, 2, 3]]])
    one = np.ones(2)
    calls: list[Callable[[], Floats]] = [
        lambda: stiffness(flipped, one, 0.3 * one),
        lambda: thermal_load(flipped, one, 0.3 * one, one),
        lambda: conduction(flipped, one),
        lambda: lumped_capacity(flipped, one),
        lambda: cell_volumes(flipped),
    ]
    for call in calls:
        with pytest.raises(ValueError, match="cell 1 is inside out"):
            call()


@pytest.mark.analytical
@pytest.mark.parametrize(("youngs", "poisson"), [(0.0, 0.3), (-1.0, 0.3), (1.0, 0.5), (1.0, -1.0)])
def test_impossible_elastic_constants_are_refused(youngs: float, poisson: float) -> None:
    """Young's modulus must be positive and Poisson's ratio between -1 and 0.5."""
    with pytest.raises(ValueError, match="must"):
        stiffness(CORNERS[None], np.array([youngs]), np.array([poisson]))
