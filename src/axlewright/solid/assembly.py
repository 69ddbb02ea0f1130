"""Assembly of element matrices into sparse matrices."""

from __future__ import annotations

import numpy as np
from scipy.sparse import coo_array, csc_array, csr_array

from axlewright.solid.mesh import Floats, Ints


def assemble(cells: Ints, matrices: Floats, size: int, dofs_per_node: int) -> csc_array:
    """Sum of square element matrices.

    Args:
        cells: node numbers, shape (E, 8).
        matrices: element matrices, node-major degrees of freedom, shape (E, k, k), k = 8 dofs_per_node.
        size: number of unknowns, that is nodes times dofs_per_node.
        dofs_per_node: unknowns at each node.

    Returns:
        Matrix of shape (size, size).

    Raises:
        ValueError: the element matrices do not fit the cells, or a cell names a node outside the size.
    """
    unknowns = _unknowns(cells, dofs_per_node)
    return _sum(unknowns, unknowns, matrices, (size, size)).tocsc()


def assemble_rectangular(cells: Ints, matrices: Floats, nodes: int) -> csr_array:
    """Sum of element matrices that map nodal temperatures to nodal forces.

    Args:
        cells: node numbers, shape (E, 8).
        matrices: element matrices, shape (E, 24, 8).
        nodes: number of nodes N.

    Returns:
        Matrix of shape (3 N, N).

    Raises:
        ValueError: the element matrices do not fit the cells, or a cell names a node outside the count.
    """
    return _sum(_unknowns(cells, 3), cells, matrices, (3 * nodes, nodes)).tocsr()


def _unknowns(cells: Ints, dofs_per_node: int) -> Ints:
    """Unknown numbers of each cell, node-major, shape (E, 8 dofs_per_node)."""
    numbers = cells[:, :, None] * dofs_per_node + np.arange(dofs_per_node)
    return numbers.reshape(len(cells), -1)


def _sum(rows: Ints, columns: Ints, matrices: Floats, shape: tuple[int, int]) -> coo_array:
    """Coordinate list of all entries; duplicates add when it is compressed.

    Raises:
        ValueError: shapes or node numbers do not fit.
    """
    if matrices.shape != (len(rows), rows.shape[1], columns.shape[1]):
        raise ValueError(
            f"matrices have shape {matrices.shape}, cells need {(*rows.shape, columns.shape[1])}"
        )
    if rows.size and (rows.min() < 0 or rows.max() >= shape[0]):
        raise ValueError(f"cells name unknowns up to {rows.max()}, the matrix has {shape[0]} rows")
    # 32-bit numbers halve the memory moved, which is what assembly costs.
    down = np.broadcast_to(rows.astype(np.int32)[:, :, None], matrices.shape)
    across = np.broadcast_to(columns.astype(np.int32)[:, None, :], matrices.shape)
    return coo_array((matrices.ravel(), (down.ravel(), across.ravel())), shape=shape)
