"""Assembly and solution of a tube of about 7,000 nodes, against general-purpose libraries in the same run.

Run with `pytest benchmarks/test_solid.py --benchmark-enable -s`.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from scipy.sparse import csc_array, eye_array
from scipy.sparse.linalg import splu
from skfem import Basis, ElementHex1, ElementVector, MeshHex
from skfem.models.elasticity import lame_parameters, linear_elasticity
from skfem.refdom import RefHex

from axlewright.solid.assembly import assemble
from axlewright.solid.factor import Factor
from axlewright.solid.hexahedron import stiffness
from axlewright.solid.mesh import HexMesh
from axlewright.solid.shape import CORNERS

YOUNGS, POISSON = 210e9, 0.3
RIGHT_HAND_SIDES = 1000


@pytest.fixture(scope="module")
def tube() -> HexMesh:
    """Tube 89 x 8 mm, 1.3 m: 24 cells round, 144 along, one through the wall; 6,960 nodes."""
    around, along = 24, 144
    turn, place, skin = np.meshgrid(np.arange(around), np.arange(along + 1), np.arange(2), indexing="ij")
    theta, radius = 2 * np.pi * turn / around, 0.0365 + 0.008 * skin
    x = 1.3 * (1 - place / along)
    nodes = np.stack([x, radius * np.sin(theta), radius * np.cos(theta)], axis=-1).reshape(-1, 3)
    i, j = (a.ravel() for a in np.meshgrid(np.arange(around), np.arange(along), indexing="ij"))
    corners = ((CORNERS + 1) / 2).astype(np.int64)
    cells = [(((i + a) % around) * (along + 1) + j + b) * 2 + c for a, b, c in corners]
    return HexMesh(nodes, np.stack(cells, axis=1))


def our_stiffness(mesh: HexMesh) -> csc_array:
    """Element matrices and assembly."""
    one = np.ones(len(mesh.cells))
    matrices = stiffness(mesh.cell_coordinates, YOUNGS * one, POISSON * one)
    return assemble(mesh.cells, matrices, 3 * len(mesh.nodes), 3)


def library_stiffness(mesh: HexMesh) -> Any:
    """The plain trilinear element of scikit-fem on the same cells: less work, no bending modes."""
    order = [int(np.flatnonzero((corner == RefHex.p.T).all(axis=1))[0]) for corner in (CORNERS + 1) / 2]
    cells = np.empty((8, len(mesh.cells)), dtype=np.int64)
    cells[order] = mesh.cells.T
    basis = Basis(MeshHex(mesh.nodes.T.copy(), cells), ElementVector(ElementHex1()), intorder=3)
    return linear_elasticity(*lame_parameters(YOUNGS, POISSON)).assemble(basis)


def our_solution(matrix: csc_array, loads: Any) -> Any:
    """Block tridiagonal Cholesky."""
    return Factor(matrix).solve(loads)


def library_solution(matrix: csc_array, loads: Any) -> Any:
    """SuperLU with its best ordering for these meshes."""
    options = {"SymmetricMode": True}
    return splu(matrix, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options=options).solve(loads)


def compare(
    name: str, benchmark: Any, ours: Callable[[], Any], library: Callable[[], Any]
) -> tuple[float, float]:
    """Print and record the best of three of each; returns both times [s]."""
    best = []
    for function in (ours, library):
        times = []
        for _ in range(3):
            start = time.perf_counter()
            function()
            times.append(time.perf_counter() - start)
        best.append(min(times))
    benchmark.extra_info.update(ours_s=best[0], library_s=best[1], ratio=best[1] / best[0])
    print(f"\n{name}: ours {best[0]:.3f} s, library {best[1]:.3f} s, {best[1] / best[0]:.1f} times faster")
    return best[0], best[1]


def test_assembly_of_seven_thousand_nodes(tube: HexMesh, benchmark: Any) -> None:
    """Stiffness of 7,000 nodes within 1.3 s, and faster than scikit-fem's plain trilinear element."""
    benchmark(our_stiffness, tube)
    ours, library = compare(
        "assembly", benchmark, lambda: our_stiffness(tube), lambda: library_stiffness(tube)
    )
    assert ours < 1.3
    assert ours < library


def test_solution_of_a_thousand_right_hand_sides(tube: HexMesh, benchmark: Any) -> None:
    """Factor and 1,000 right-hand sides within 5 s, at least twice as fast as SuperLU, same answer."""
    matrix = our_stiffness(tube)
    matrix = csc_array(matrix + 1e5 * eye_array(matrix.shape[0]))
    loads = np.random.default_rng(0).normal(size=(matrix.shape[0], RIGHT_HAND_SIDES))
    found = benchmark(our_solution, matrix, loads)
    expected = library_solution(matrix, loads)
    assert np.abs(found - expected).max() < 1e-9 * np.abs(expected).max()
    ours, library = compare(
        "factor and solve",
        benchmark,
        lambda: our_solution(matrix, loads),
        lambda: library_solution(matrix, loads),
    )
    assert ours < 5.0
    assert 2 * ours < library
