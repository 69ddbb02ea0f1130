"""Direct solution of symmetric positive definite systems with very many right-hand sides.

The parts are long and slender, so that the unknowns fall into levels, from one end of the assembly to the
other, each coupled to its two neighbours only. Taken in that order the matrix is block tridiagonal, and its
Cholesky factor is a chain of small dense blocks, which matrix-matrix products work through several times
faster than a general sparse factor works through many right-hand sides: docs/decisions/0002-factorisation.md.

Source: George & Liu, Computer Solution of Large Sparse Positive Definite Systems, 1981, chapter 4 (level
structures) and chapter 6 (block tridiagonal systems), from memory.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from scipy.linalg.blas import dgemm, dtrsm
from scipy.linalg.lapack import dpotrf
from scipy.sparse import csc_array, csr_array
from scipy.sparse.csgraph import connected_components, dijkstra

from axlewright.solid.mesh import Floats, Ints

_SMALLEST_BLOCK = 96
_SMALLEST_PIVOT = 1e-13
_COLUMNS_AT_ONCE = 512


class Factor:
    """Block tridiagonal Cholesky factor of a symmetric positive definite sparse matrix.

    Equation: L_k L_k^T = D_k - W_k W_k^T, W_k+1 = C_k L_k^-T, with the diagonal blocks D_k and the blocks
    C_k below them. Validity: symmetric matrices (only the upper triangle of the reordered matrix is read);
    memory grows with the square of the widest level.

    Args:
        matrix: shape (n, n).

    Raises:
        ValueError: the matrix is not square, or it is singular or not positive definite, which for a
            stiffness means that a part is not held.
    """

    def __init__(self, matrix: csc_array) -> None:
        if matrix.shape[0] != matrix.shape[1]:
            raise ValueError(f"matrix has shape {matrix.shape}: it must be square")
        levels = _levels(csr_array(matrix))
        self._order: Ints = np.argsort(levels, kind="stable")
        self._bounds = _bounds(np.bincount(levels, minlength=1))
        self._diagonal: list[Floats] = []
        self._coupling: list[Floats] = []
        self._factorise(csr_array(matrix)[self._order][:, self._order])

    def _factorise(self, ordered: csr_array) -> None:
        """Fill the chain of blocks from its first to its last.

        Raises:
            ValueError: a pivot vanishes.
        """
        ends = [*self._bounds[2:], self._bounds[-1]]
        for (first, last), end in zip(pairwise(self._bounds), ends, strict=True):
            rows = ordered[first:last, first:end].toarray()
            block = np.asfortranarray(rows[:, : last - first])
            scale = block.diagonal().copy()
            if self._coupling:
                before = self._coupling[-1]
                block = dgemm(-1.0, before, before, beta=1.0, c=block, trans_b=1, overwrite_c=1)
            lower, failed = dpotrf(block, lower=1, clean=1, overwrite_a=1)
            if failed or (lower.diagonal() ** 2 <= _SMALLEST_PIVOT * scale).any():
                raise ValueError(
                    "matrix is singular or not positive definite: hold every part against moving"
                )
            self._diagonal.append(lower)
            below = np.asfortranarray(rows[:, last - first :].T)
            self._coupling.append(dtrsm(1.0, lower, below, side=1, lower=1, trans_a=1, overwrite_b=1))

    def solve(self, right_hand_sides: Floats | csc_array) -> Floats:
        """Solution for each column.

        Args:
            right_hand_sides: shape (n, m), dense, or sparse to save memory.

        Returns:
            Solutions, shape (n, m), dense.

        Raises:
            ValueError: the number of rows is not n.
        """
        if right_hand_sides.ndim != 2 or right_hand_sides.shape[0] != len(self._order):
            raise ValueError(
                f"right_hand_sides has shape {right_hand_sides.shape}: need {len(self._order)} rows"
            )
        solution = np.empty(right_hand_sides.shape)
        for start in range(0, solution.shape[1], _COLUMNS_AT_ONCE):
            columns = slice(start, start + _COLUMNS_AT_ONCE)
            part = right_hand_sides[:, columns]
            dense = part if isinstance(part, np.ndarray) else part.toarray()
            # Row blocks of a C-ordered array, transposed, are Fortran arrays, which BLAS overwrites in place.
            work = np.ascontiguousarray(dense[self._order], dtype=np.float64)
            self._sweep([work[first:last].T for first, last in pairwise(self._bounds)])
            solution[self._order, columns] = work
        return solution

    def _sweep(self, blocks: list[Floats]) -> None:
        """Forward and backward substitution in place, each block of shape (m, unknowns of its level)."""
        last = len(blocks) - 1
        for k, block in enumerate(blocks):
            if k:
                dgemm(-1.0, blocks[k - 1], self._coupling[k - 1], trans_b=1, beta=1.0, c=block, overwrite_c=1)
            dtrsm(1.0, self._diagonal[k], block, side=1, lower=1, trans_a=1, overwrite_b=1)
        for k in range(last, -1, -1):
            if k < last:
                dgemm(-1.0, blocks[k + 1], self._coupling[k], beta=1.0, c=blocks[k], overwrite_c=1)
            dtrsm(1.0, self._diagonal[k], blocks[k], side=1, lower=1, overwrite_b=1)


def _levels(matrix: csr_array) -> Ints:
    """Level of each unknown, so that entries couple equal or neighbouring levels only.

    Levels are distances in the graph of the matrix from one end of each connected component; the end is an
    unknown farthest from a first one. Components follow each other.
    """
    pattern = csr_array((np.ones(matrix.nnz), matrix.indices, matrix.indptr), shape=matrix.shape)
    count, component = connected_components(pattern, directed=False)
    ends = np.unique(component, return_index=True)[1]
    for _ in range(3):
        distance = dijkstra(pattern, directed=False, indices=ends, unweighted=True, min_only=True)
        # The last of each component after sorting by distance is its farthest unknown.
        sorted_unknowns = np.lexsort((distance, component))
        ends = sorted_unknowns[np.cumsum(np.bincount(component, minlength=count)) - 1]
    depths = distance[ends].astype(np.int64) + 1
    levels: Ints = distance.astype(np.int64) + (np.cumsum(depths) - depths)[component]
    return levels


def _bounds(sizes: Ints) -> list[int]:
    """First unknown of each block, and the end, with small neighbouring levels taken together."""
    bounds = [0]
    for end in np.cumsum(sizes).tolist():
        if end - bounds[-1] >= _SMALLEST_BLOCK:
            bounds.append(end)
    total = int(np.sum(sizes))
    return bounds if bounds[-1] == total else [*bounds, total]
