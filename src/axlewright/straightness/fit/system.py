"""All readings of a set as one system of equations, and how each goes with the rest."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np
from scipy.special import chdtrc, log_ndtr

from axlewright.solid.mesh import Flags, Floats, Ints
from axlewright.straightness.axis import PARAMETERS
from axlewright.straightness.fit.equations import (
    Equation,
    Ground,
    Unknown,
    angle_equation,
    dot_equation,
    gap_equation,
    height_equation,
    tape_equation,
)
from axlewright.straightness.fit.least_squares import Solution, least_squares
from axlewright.straightness.fit.priors import shape_prior
from axlewright.straightness.fit.turning import turning_equation
from axlewright.straightness.readings.reading import (
    Angle,
    Dot,
    FourPoint,
    Gap,
    Height,
    Reading,
    Runout,
    ToeTape,
)

_COMPARABLE = 0.5
"""Freedom below which a set holds nothing to compare."""

_LEAST_FREEDOM = 1e-6
"""A reading that the others leave freer than this tells its own unknown and cannot be held against them."""


def equation_of(ground: Ground, reading: Reading, near: Floats | None = None) -> Equation:
    """What a reading says of the shape over the one that was built.

    Args:
        ground: the housing.
        reading: the reading.
        near: about what it should read, as far as that is known [m].
    """
    found = _plain_equation(ground, reading, near)
    return replace(found, value=found.value - found.shape @ ground.built) if ground.built.any() else found


def _plain_equation(ground: Ground, reading: Reading, near: Floats | None) -> Equation:
    match reading:
        case Gap():
            return gap_equation(ground, reading)
        case Height():
            return height_equation(ground, reading)
        case Runout() | FourPoint():
            return turning_equation(ground, reading, near)
        case Angle():
            return angle_equation(ground, reading)
        case ToeTape():
            return tape_equation(ground, reading)
        case Dot():
            return dot_equation(ground, reading)


@dataclass(frozen=True)
class Solved:
    """Readings and the shape, over the one that was built, that goes with them best.

    Args:
        equations: what each reading says.
        unknowns: unknowns of the set-ups, after the parameters of the shape.
        solution: of all rows, those of the readings first, then one of each prior.
        owner: reading each row belongs to, shape (m,).
        informed: rows whose scatter is known: the readings', and priors that know something, shape (m + n,).
    """

    equations: tuple[Equation, ...]
    unknowns: tuple[Unknown, ...]
    solution: Solution
    owner: Ints
    informed: Flags

    @property
    def freedom(self) -> float:
        """How many readings more there are than it takes: what is left to compare."""
        leverage = np.einsum("ij,ij->i", self.solution.basis, self.solution.basis)
        return float(np.sum((1.0 - leverage)[self.informed]))

    @property
    def scatter(self) -> float:
        """Sum of squares of the residuals, each in units of its error; about `freedom` where all is well."""
        return float(np.sum(self.solution.residuals[self.informed] ** 2))

    @property
    def chance(self) -> float:
        """How often readings as good as their errors say scatter more than these."""
        return float(chdtrc(self.freedom, self.scatter)) if self.freedom > _COMPARABLE else 1.0

    def against_the_rest(self) -> tuple[Floats, Floats]:
        """How far each reading is from what the others say: square in units of its spread, and log of the chance of it.

        The studentised deleted residual with known errors: for the rows of a reading e' (1 - H)^-1 e, distributed as
        chi-square with as many degrees of freedom. Source: Cook and Weisberg, Residuals and Influence in Regression,
        1982, section 2.2 (from memory).
        """
        basis, residuals = self.solution.basis, self.solution.residuals
        sizes = np.bincount(self.owner, minlength=len(self.equations))
        begins = np.cumsum(sizes) - sizes
        squares = np.zeros(len(sizes))
        ones, twos = begins[sizes == 1], begins[sizes == 2]
        squares[sizes == 1] = _quotient(residuals[ones] ** 2, 1.0 - _products(basis[ones], basis[ones]))
        # Readings of two planes: the inverse of a two by two matrix, written out.
        first, second = basis[twos], basis[twos + 1]
        up, aside = 1.0 - _products(first, first), 1.0 - _products(second, second)
        shared = -_products(first, second)
        one, other = residuals[twos], residuals[twos + 1]
        form = one**2 * aside - 2.0 * one * other * shared + other**2 * up
        squares[sizes == 2] = _quotient(form, up * aside - shared**2)
        # Logarithms, as the chance of a slip of the pen is less than the smallest number.
        chances = np.where(sizes == 1, np.log(2.0) + log_ndtr(-np.sqrt(squares)), -squares / 2.0)
        return squares, chances

    def misfit(self, equation: Equation) -> Floats | None:
        """What a reading says more than the shape does, shape (k,) [m] or [rad]; None where its set-up is unknown."""
        found = dict(zip(self.unknowns, self.solution.values[len(PARAMETERS) :], strict=True))
        if any(unknown not in found for unknown in equation.setup):
            return None
        setup = sum(
            (row * found[unknown] for unknown, row in equation.setup.items()), np.zeros(len(equation.value))
        )
        return equation.value - equation.shape @ self.solution.values[: len(PARAMETERS)] - setup


def solve(equations: Iterable[Equation]) -> Solved:
    """The shape that goes best with what readings say."""
    equations = tuple(equations)
    unknowns = tuple(dict.fromkeys(unknown for equation in equations for unknown in equation.setup))
    prior = np.concatenate([shape_prior(), [unknown.prior for unknown in unknowns]])
    column = {unknown: len(PARAMETERS) + number for number, unknown in enumerate(unknowns)}
    sizes = [len(equation.value) for equation in equations]
    rows, values = np.zeros((sum(sizes), len(prior))), np.zeros(sum(sizes))
    begin = 0
    for equation, size in zip(equations, sizes, strict=True):
        own = slice(begin, begin + size)
        rows[own, : len(PARAMETERS)] = equation.shape
        for unknown, coefficients in equation.setup.items():
            rows[own, column[unknown]] = coefficients
        rows[own], values[own] = _whitened(equation, rows[own])
        begin += size
    solution = least_squares(
        np.vstack([rows, np.diag(1.0 / prior)]), np.concatenate([values, np.zeros(len(prior))])
    )
    owner = np.repeat(np.arange(len(equations)), sizes)
    knows = ["flange" in name for name in PARAMETERS] + [unknown.seat for unknown in unknowns]
    return Solved(equations, unknowns, solution, owner, np.array([True] * len(values) + knows))


def _products(first: Floats, second: Floats) -> Floats:
    """Row by row, the products of two matrices' rows."""
    products: Floats = np.einsum("ij,ij->i", first, second)
    return products


def _quotient(squares: Floats, freedom: Floats) -> Floats:
    """Squares over what the others leave free, nought where that is nothing."""
    return squares / np.where(freedom > _LEAST_FREEDOM, freedom, np.inf)


def _whitened(equation: Equation, rows: Floats) -> tuple[Floats, Floats]:
    """Rows and values of a reading in units of its error, with no correlation left (Cholesky, by hand)."""
    covariance, values = equation.covariance, equation.value
    first = math.sqrt(covariance[0, 0])
    if len(rows) == 1:
        return rows / first, values / first
    shared = covariance[0, 1] / first
    second = math.sqrt(covariance[1, 1] - shared**2)
    both = np.column_stack([rows, values])
    both[0] /= first
    both[1] = (both[1] - shared * both[0]) / second
    return both[:, :-1], both[:, -1]
