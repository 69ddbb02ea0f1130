"""The block factorisation against scipy's general sparse solver."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.sparse import block_diag, csc_array, eye_array, random_array
from scipy.sparse.linalg import splu, spsolve
from solid_meshes import steel_stiffness, strip_mesh, tube_mesh

from axlewright.solid.factor import Factor


def tube_and_strip(ground: float) -> csc_array:
    """Stiffness of a tube and a plate strip that do not touch, on soft ground."""
    tube = tube_mesh((16, 30, 1), 0.6, 0.0445, 0.008)
    strip = strip_mesh(25, 4, 0.4, 0.0445, 0.08, 0.006)
    both = block_diag([steel_stiffness(tube), steel_stiffness(strip)], format="csc")
    return csc_array(both + ground * eye_array(both.shape[0]))


@pytest.mark.analytical
@pytest.mark.parametrize("tack", [0.0, 1e9])
def test_factor_solves_as_the_general_sparse_solver_does(tack: float) -> None:
    """Tube and strip, apart or tacked together, give the displacement that SuperLU gives.

    Two backward-stable solvers differ by round-off times the condition number, some 1e6 here: 1e-9.
    """
    matrix = tube_and_strip(1e5).tolil()
    last = matrix.shape[0] - 1
    for a, b in ((0, 2900), (600, last)):
        matrix[a, a] += tack
        matrix[b, b] += tack
        matrix[a, b] -= tack
        matrix[b, a] -= tack
    matrix = csc_array(matrix)
    loads = np.random.default_rng(2).normal(size=(matrix.shape[0], 7))
    expected = splu(matrix).solve(loads)
    found = Factor(matrix).solve(loads)
    assert np.abs(found - expected).max() < 1e-9 * np.abs(expected).max()
    assert np.abs(matrix @ found - loads).max() < 1e-9


@pytest.mark.analytical
@settings(max_examples=40, deadline=None)
@given(size=st.integers(1, 250), density=st.floats(0.0, 0.1), seed=st.integers(0, 2**31))
def test_factor_solves_any_sparse_positive_definite_matrix(size: int, density: float, seed: int) -> None:
    """Whatever the pattern (many components, one dense block, diagonal), the answer is spsolve's."""
    random = np.random.default_rng(seed)
    half = random_array((size, size), density=density, rng=random)
    matrix = csc_array(half @ half.T + eye_array(size))
    load = random.normal(size=(size, 2))
    expected = spsolve(matrix, load) if size > 1 else load / matrix.toarray()
    # Condition number below 1e4 by construction.
    np.testing.assert_allclose(Factor(matrix).solve(load), expected.reshape(size, 2), atol=1e-9)


@pytest.mark.analytical
def test_many_columns_and_sparse_columns_are_solved_alike() -> None:
    """More columns than are taken at once, dense or sparse, give what one column at a time gives."""
    matrix = tube_and_strip(1e5)[:900, :900]
    factor = Factor(matrix)
    loads = random_array((900, 1030), density=0.01, format="csc", rng=np.random.default_rng(4))
    found = factor.solve(loads)
    np.testing.assert_array_equal(factor.solve(loads.toarray()), found)
    for column in (0, 511, 512, 1029):
        alone = factor.solve(loads[:, [column]].toarray())[:, 0]
        # Same arithmetic in another order of summation.
        np.testing.assert_allclose(found[:, column], alone, atol=1e-12 * np.abs(found).max())


@pytest.mark.analytical
def test_factor_leaves_its_arguments_alone() -> None:
    """Neither the matrix nor the right-hand sides are changed by a solution."""
    matrix = tube_and_strip(1e5)
    loads = np.random.default_rng(2).normal(size=(matrix.shape[0], 3))
    kept_matrix, kept_loads = matrix.copy(), loads.copy()
    factor = Factor(matrix)
    first, second = factor.solve(loads), factor.solve(loads[:, ::-1])
    np.testing.assert_array_equal(loads, kept_loads)
    np.testing.assert_array_equal(matrix.data, kept_matrix.data)
    np.testing.assert_allclose(first, second[:, ::-1], rtol=1e-9, atol=1e-12 * np.abs(first).max())


@pytest.mark.analytical
def test_a_part_that_is_not_held_is_refused() -> None:
    """A free-floating tube, and a matrix with a negative pivot, are refused as singular."""
    with pytest.raises(ValueError, match="hold every part"):
        Factor(tube_and_strip(0.0))
    with pytest.raises(ValueError, match="hold every part"):
        Factor(csc_array(np.diag([1.0, -1.0])))
    with pytest.raises(ValueError, match="hold every part"):
        Factor(csc_array((3, 3)))
    # Round-off may leave a tiny positive pivot where there should be none.
    with pytest.raises(ValueError, match="hold every part"):
        Factor(csc_array(np.array([[1.0, 1.0], [1.0, 1.0 + 1e-15]])))


@pytest.mark.analytical
def test_very_soft_ground_is_enough_to_hold_a_part() -> None:
    """Ground a million million times softer than the steel holds: three unit forces give three F / k."""
    matrix = tube_and_strip(1.0)
    loads = np.tile(np.eye(3), (matrix.shape[0] // 3, 1))
    # Every unknown carries ground of 1 N/m and force 1 N, so every part moves by 1 m; condition 1e10.
    np.testing.assert_allclose(Factor(matrix).solve(loads), loads, atol=1e-4)


@pytest.mark.analytical
def test_shapes_that_do_not_fit_are_refused() -> None:
    """A matrix that is not square and right-hand sides of another length are refused."""
    with pytest.raises(ValueError, match="must be square"):
        Factor(csc_array(np.ones((2, 3))))
    with pytest.raises(ValueError, match="need 3 rows"):
        Factor(csc_array(np.eye(3))).solve(np.ones((2, 1)))
    with pytest.raises(ValueError, match="need 3 rows"):
        Factor(csc_array(np.eye(3))).solve(np.ones(3))
