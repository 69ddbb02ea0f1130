"""Element matrices of the 8-node hexahedron with incompatible bending modes.

Three modes 1 - xi**2, 1 - eta**2, 1 - zeta**2 are added to each displacement and condensed element by
element, so that a single cell through a wall bends without locking. Their gradients use the Jacobian of
the cell's centre, weighted j0/j, so that they integrate to zero and constant strain stays exact on
distorted cells.

Everything follows from one array for all cells: H = integral of g g^T, where g are the 33 derivatives (11
functions, 3 directions). An isotropic material only mixes its entries.

Sources: Wilson, Taylor, Doherty & Ghaboussi, Incompatible displacement models, in Numerical and Computer
Methods in Structural Mechanics, 1973; Taylor, Beresford & Wilson, A non-conforming element for stress
analysis, Int. J. Numer. Methods Eng. 10 (1976) 1211-1219 (both from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axlewright.solid.mesh import Floats
from axlewright.solid.shape import gauss_hexahedron, shape_gradients, shape_values

CORNER_COUNT = 8
DOF_COUNT = 24


@dataclass(frozen=True)
class _Geometry:
    """What every element matrix needs at the Gauss points.

    Args:
        gradients: derivatives of the 8 shape functions and 3 modes, shape (E, G, 11, 3) [1/m].
        volumes: Jacobian determinant times Gauss weight, shape (E, G) [m3].
        values: shape functions, shape (G, 8) [1].
    """

    gradients: Floats
    volumes: Floats
    values: Floats


def stiffness(coordinates: Floats, youngs: Floats, poisson: Floats) -> Floats:
    """Stiffness of each cell after its incompatible modes are condensed.

    Equation: K = K_uu - K_ua K_aa^-1 K_au with K = integral of B^T D B dV by 2 x 2 x 2 Gauss points.
    Validity: isotropic linear elasticity, small strain, convex cells; Poisson's ratio from -1 to below
    0.5, accurate up to about 0.49. Source: see the module.

    Args:
        coordinates: corners in VTK order, shape (E, 8, 3) [m].
        youngs: Young's modulus, shape (E,) [Pa].
        poisson: Poisson's ratio, shape (E,) [1].

    Returns:
        Stiffness, shape (E, 24, 24), degrees of freedom u0x, u0y, u0z, u1x and so on [N/m].

    Raises:
        ValueError: a cell is inside out, or a material constant is outside its range.
    """
    full = _elastic_products(_geometry(coordinates), *_lame(youngs, poisson))
    coupling = full[:, DOF_COUNT:, :DOF_COUNT]
    modes = np.linalg.solve(full[:, DOF_COUNT:, DOF_COUNT:], coupling)
    return full[:, :DOF_COUNT, :DOF_COUNT] - coupling.transpose(0, 2, 1) @ modes


def thermal_load(coordinates: Floats, youngs: Floats, poisson: Floats, expansion: Floats) -> Floats:
    """Nodal force for a unit rise of each nodal temperature, condensed as the stiffness is.

    Equation: f = integral of B^T D eps dV - K_ua K_aa^-1 integral of G^T D eps dV, with
    eps = alpha N T (1, 1, 1, 0, 0, 0), so that D eps = E alpha / (1 - 2 nu) N T (1, 1, 1, 0, 0, 0).
    Validity: as the stiffness; constant expansion coefficient.

    Args:
        coordinates: corners in VTK order, shape (E, 8, 3) [m].
        youngs: Young's modulus, shape (E,) [Pa].
        poisson: Poisson's ratio, shape (E,) [1].
        expansion: coefficient of linear expansion, shape (E,) [1/K].

    Returns:
        Load, shape (E, 24, 8) [N/K]; the displacement is K^-1 times the load times the rise.

    Raises:
        ValueError: a cell is inside out, or a material constant is outside its range.
    """
    geometry = _geometry(coordinates)
    first, second = _lame(youngs, poisson)
    full = _elastic_products(geometry, first, second)
    pressure = (3 * first + 2 * second) * expansion
    weighted = (geometry.gradients * geometry.volumes[:, :, None, None]).reshape(*geometry.volumes.shape, -1)
    load = pressure[:, None, None] * (weighted.transpose(0, 2, 1) @ geometry.values)
    modes = np.linalg.solve(full[:, DOF_COUNT:, DOF_COUNT:], load[:, DOF_COUNT:])
    return load[:, :DOF_COUNT] - full[:, :DOF_COUNT, DOF_COUNT:] @ modes


def conduction(coordinates: Floats, conductivity: Floats) -> Floats:
    """Conduction matrix of each cell.

    Equation: K = integral of k grad N . grad N dV by 2 x 2 x 2 Gauss points.
    Validity: isotropic, constant conductivity, convex cells.

    Args:
        coordinates: corners in VTK order, shape (E, 8, 3) [m].
        conductivity: thermal conductivity, shape (E,) [W/(m K)].

    Returns:
        Conduction, shape (E, 8, 8) [W/K].

    Raises:
        ValueError: a cell is inside out.
    """
    products = _products(_geometry(coordinates), CORNER_COUNT)
    matrices: Floats = conductivity[:, None, None] * np.einsum("eaibi->eab", products)
    return matrices


def lumped_capacity(coordinates: Floats, rho_c: Floats) -> Floats:
    """Heat capacity of each cell, lumped to its corners by row sums.

    Equation: C_a = integral of rho c N_a dV. Validity: positive on convex cells.

    Args:
        coordinates: corners in VTK order, shape (E, 8, 3) [m].
        rho_c: density times specific heat, shape (E,) [J/(m3 K)].

    Returns:
        Capacity, shape (E, 8) [J/K].

    Raises:
        ValueError: a cell is inside out.
    """
    geometry = _geometry(coordinates)
    return rho_c[:, None] * (geometry.volumes @ geometry.values)


def cell_volumes(coordinates: Floats) -> Floats:
    """Volume of each cell, exact for trilinear cells.

    Args:
        coordinates: corners in VTK order, shape (E, 8, 3) [m].

    Returns:
        Volumes, shape (E,) [m3].

    Raises:
        ValueError: a cell is inside out.
    """
    volumes: Floats = _geometry(coordinates).volumes.sum(axis=1)
    return volumes


def _geometry(coordinates: Floats) -> _Geometry:
    """Derivatives and volumes at the Gauss points.

    Raises:
        ValueError: a Jacobian is not positive: the cell is folded or its corners are out of order.
    """
    points, weights = gauss_hexahedron(2)
    natural = shape_gradients(points)
    jacobians = _jacobians(coordinates, natural)
    determinants = np.linalg.det(jacobians)
    if (determinants <= 0).any() or not np.isfinite(determinants).all():
        worst = int(np.argmin(determinants.min(axis=1)))
        raise ValueError(
            f"cell {worst} is inside out or flat: its Jacobian must be positive; check corner order"
        )
    shapes = natural @ np.linalg.inv(jacobians)
    centre = _jacobians(coordinates, shape_gradients(np.zeros((1, 3))))
    # Natural derivatives of the modes 1 - xi**2: minus 2 xi on the diagonal.
    bubbles = -2 * points[:, :, None] * np.eye(3) @ np.linalg.inv(centre)
    bubbles = bubbles * (np.linalg.det(centre) / determinants)[:, :, None, None]
    gradients = np.concatenate([shapes, bubbles], axis=2)
    return _Geometry(gradients, determinants * weights, shape_values(points))


def _jacobians(coordinates: Floats, natural: Floats) -> Floats:
    """dx_i/dxi_k at each point of each cell, shape (E, G, 3, 3) [m]."""
    return coordinates.transpose(0, 2, 1)[:, None] @ natural


def _products(geometry: _Geometry, functions: int) -> Floats:
    """Integrals of products of derivatives, shape (E, functions, 3, functions, 3) [m]."""
    cells, points = geometry.volumes.shape
    scaled = geometry.gradients[:, :, :functions] * np.sqrt(geometry.volumes)[:, :, None, None]
    flat = scaled.reshape(cells, points, 3 * functions)
    return (flat.transpose(0, 2, 1) @ flat).reshape(cells, functions, 3, functions, 3)


def _elastic_products(geometry: _Geometry, first: Floats, second: Floats) -> Floats:
    """Stiffness of the 8 corners and 3 modes before condensation, shape (E, 33, 33) [N/m].

    Equation: K_aibj = lambda H_aibj + mu H_ajbi + mu delta_ij H_akbk.
    """
    products = _products(geometry, CORNER_COUNT + 3)
    shear = products.transpose(0, 1, 4, 3, 2).copy()
    traces = np.einsum("eakbk->eab", products)
    for axis in range(3):
        shear[:, :, axis, :, axis] += traces
    full = first[:, None, None, None, None] * products + second[:, None, None, None, None] * shear
    size = 3 * (CORNER_COUNT + 3)
    return full.reshape(-1, size, size)


def _lame(youngs: Floats, poisson: Floats) -> tuple[Floats, Floats]:
    """Lame's constants lambda and mu, each of shape (E,) [Pa].

    Equation: lambda = E nu / ((1 + nu)(1 - 2 nu)), mu = E / (2 (1 + nu)).

    Raises:
        ValueError: Young's modulus is not positive, or Poisson's ratio not between -1 and 0.5.
    """
    if not (youngs > 0).all():
        raise ValueError("youngs must be positive in every cell")
    if not ((poisson > -1) & (poisson < 0.5)).all():
        raise ValueError("poisson must lie between -1 and 0.5 in every cell, both excluded")
    return youngs * poisson / ((1 + poisson) * (1 - 2 * poisson)), youngs / (2 * (1 + poisson))
