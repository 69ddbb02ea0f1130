"""Linear least squares by orthogonal triangles, with what is needed to ask each row how it goes with the rest."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.linalg import qr, solve_triangular

from axlewright.solid.mesh import Floats


@dataclass(frozen=True)
class Solution:
    """Least-squares solution of rows @ x = values, each row in units of its own error.

    Args:
        values: x, shape (n,).
        root: covariance is root @ root.T, shape (n, n).
        basis: orthonormal columns that span the rows' columns, shape (m, n); basis @ basis.T is the hat matrix.
        residuals: values less rows @ x, shape (m,).
    """

    values: Floats
    root: Floats
    basis: Floats
    residuals: Floats

    @property
    def covariance(self) -> Floats:
        """Covariance of x where every row's error has standard deviation 1, shape (n, n)."""
        return self.root @ self.root.T


def least_squares(rows: Floats, values: Floats) -> Solution:
    """Solve rows @ x = values in the sense of least squares.

    QR with columns scaled to length 1; normal equations, which square the condition, are never formed.
    Source: Golub and Van Loan, Matrix Computations, section 5.3 (from memory).

    Args:
        rows: shape (m, n), m >= n, each divided by its standard deviation.
        values: shape (m,), divided likewise.

    Raises:
        numpy.linalg.LinAlgError: the columns are not independent.
    """
    scale = np.linalg.norm(rows, axis=0)
    if not scale.all():
        raise np.linalg.LinAlgError("an unknown is in no row")
    basis, triangle = qr(rows / scale, mode="economic", check_finite=False)
    root = solve_triangular(triangle, np.eye(len(scale)), check_finite=False) / scale[:, None]
    found = root @ (basis.T @ values)
    # One step of refinement takes back what the explicit inverse of the triangle loses.
    found += root @ (basis.T @ (values - rows @ found))
    return Solution(found, root, basis, values - rows @ found)
