"""Assembly against a plain loop."""

from __future__ import annotations

import numpy as np
import pytest
from solid_meshes import distorted_box

from axlewright.solid.assembly import assemble, assemble_rectangular

MESH = distorted_box((3, 2, 2))
RANDOM = np.random.default_rng(5)


@pytest.mark.analytical
@pytest.mark.parametrize("dofs", [1, 3])
def test_assembly_sums_every_entry_of_every_cell(dofs: int) -> None:
    """Assembly equals a loop over cells that adds each dense block in place, in any order of dofs."""
    matrices = RANDOM.normal(size=(len(MESH.cells), 8 * dofs, 8 * dofs))
    size = len(MESH.nodes) * dofs
    expected = np.zeros((size, size))
    for cell, matrix in zip(MESH.cells, matrices, strict=True):
        numbers = np.array([node * dofs + i for node in cell for i in range(dofs)])
        expected[np.ix_(numbers, numbers)] += matrix
    found = assemble(MESH.cells, matrices, size, dofs)
    assert found.format == "csc"
    assert found.has_canonical_format
    # Sums of at most eight numbers near 1.
    np.testing.assert_allclose(found.toarray(), expected, atol=1e-13)


@pytest.mark.analytical
def test_rectangular_assembly_maps_temperatures_to_forces() -> None:
    """Rectangular assembly equals the same loop with forces down and temperatures across."""
    matrices = RANDOM.normal(size=(len(MESH.cells), 24, 8))
    count = len(MESH.nodes)
    expected = np.zeros((3 * count, count))
    for cell, matrix in zip(MESH.cells, matrices, strict=True):
        numbers = np.array([3 * node + i for node in cell for i in range(3)])
        expected[np.ix_(numbers, cell)] += matrix
    found = assemble_rectangular(MESH.cells, matrices, count)
    assert found.format == "csr"
    np.testing.assert_allclose(found.toarray(), expected, atol=1e-13)


@pytest.mark.analytical
def test_matrices_that_do_not_fit_are_refused() -> None:
    """Wrong block sizes and node numbers beyond the matrix are refused."""
    with pytest.raises(ValueError, match="matrices have shape"):
        assemble(MESH.cells, np.zeros((len(MESH.cells), 8, 8)), 3 * len(MESH.nodes), 3)
    with pytest.raises(ValueError, match="cells name unknowns"):
        assemble(MESH.cells, np.zeros((len(MESH.cells), 8, 8)), len(MESH.nodes) - 1, 1)
    with pytest.raises(ValueError, match="cells name unknowns"):
        assemble_rectangular(MESH.cells, np.zeros((len(MESH.cells), 24, 8)), len(MESH.nodes) - 1)
