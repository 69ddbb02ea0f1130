"""Trilinear shape functions of the 8-node hexahedron and Gauss rules.

Source: Zienkiewicz & Taylor, The Finite Element Method, vol. 1, 5th ed. 2000, chapters 8 and 9 (from memory).
"""

from __future__ import annotations

import numpy as np

from axlewright.solid.mesh import Floats

#: Natural coordinates of the corners, shape (8, 3), in VTK order [1].
CORNERS: Floats = np.array(
    [
        [-1, -1, -1],
        [1, -1, -1],
        [1, 1, -1],
        [-1, 1, -1],
        [-1, -1, 1],
        [1, -1, 1],
        [1, 1, 1],
        [-1, 1, 1],
    ],
    dtype=np.float64,
)


def shape_values(xi: Floats) -> Floats:
    """Trilinear shape functions at natural points.

    Equation: N_a = (1 + xi xi_a)(1 + eta eta_a)(1 + zeta zeta_a) / 8.
    Validity: any point; a partition of unity also outside the cell.

    Args:
        xi: natural coordinates, shape (P, 3) [1].

    Returns:
        Shape functions, shape (P, 8) [1].
    """
    values: Floats = _factors(xi).prod(axis=2)
    return values


def shape_gradients(xi: Floats) -> Floats:
    """Derivatives of the shape functions with respect to the natural coordinates.

    Equation: dN_a/dxi = xi_a / 2 times the factors of the two other directions, and so round.

    Args:
        xi: natural coordinates, shape (P, 3) [1].

    Returns:
        Derivatives, shape (P, 8, 3) [1].
    """
    first, second, third = np.moveaxis(_factors(xi), 2, 0)
    others = np.stack([second * third, first * third, first * second], axis=2)
    return others * CORNERS / 2


def _factors(xi: Floats) -> Floats:
    """Linear factors (1 + xi xi_a) / 2 of each corner and direction, shape (P, 8, 3) [1]."""
    return (1 + xi[:, None, :] * CORNERS) / 2


def gauss_line(order: int) -> tuple[Floats, Floats]:
    """Gauss-Legendre points and weights on [-1, 1].

    Validity: exact for polynomials of degree 2 order - 1.

    Args:
        order: number of points [1].

    Returns:
        Points, shape (order,) [1], and weights that add to 2 [1].

    Raises:
        ValueError: order is below 1.
    """
    if order < 1:
        raise ValueError(f"order is {order}: a Gauss rule needs at least one point")
    points, weights = np.polynomial.legendre.leggauss(order)
    return points, weights


def gauss_hexahedron(order: int = 2) -> tuple[Floats, Floats]:
    """Product Gauss rule on the natural cube.

    Args:
        order: number of points in each direction [1].

    Returns:
        Points, shape (order**3, 3) [1], and weights that add to 8 [1].

    Raises:
        ValueError: order is below 1.
    """
    points, weights = gauss_line(order)
    grid = np.stack(np.meshgrid(points, points, points, indexing="ij"), axis=-1).reshape(-1, 3)
    return grid, np.einsum("i,j,k->ijk", weights, weights, weights).ravel()
