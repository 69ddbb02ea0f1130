"""A round tube in bending: from the first yield of its skin to all of it yielding."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi
from typing import Protocol

import numpy as np

from axlewright.solid.mesh import Floats
from axlewright.weld._check import not_negative, positive
from axlewright.weld.steel import POISSON, YOUNGS


class Section(Protocol):
    """A doubly symmetric section of one steel."""

    @property
    def yield_moment(self) -> float:
        """Moment at which its skin begins to yield [Nm]."""
        ...

    @property
    def plastic_moment(self) -> float:
        """Moment at which all of it yields [Nm]."""
        ...

    @property
    def yield_curvature(self) -> float:
        """Curvature at the yield moment [1/m]."""
        ...

    def moment_ratio(self, bent: Floats) -> Floats:
        """Moment over the yield moment by curvature over the yield curvature [1]."""
        ...


@dataclass(frozen=True)
class RoundTube:
    """A round tube in bending.

    M = M(R) - M(r), each circle with M(R) = s R^3 [(asin u + u sqrt(1 - u^2)(2 u^2 - 1)) / 2 u + 4/3 (1 - u^2)^(3/2)],
    u = s / (E k R) where that is below 1 and elastic, E k pi R^4 / 4, where it is not.

    Args:
        outside: diameter 2 R [m]
        inside: diameter 2 r; 0 for a bar [m]
        yield_strength: s [Pa]
        youngs: E [Pa]

    Source: integration of min(E k y, s) y over the circle; Timoshenko, Strength of Materials II, 1956, art. 64, for
        the fully plastic moment s (D^3 - d^3) / 6.
    Valid: sections that stay plane and round, one yield stress in tension and compression.
    Raises: ValueError for a diameter, strength or modulus that is not above zero, or a wall that is not.
    """

    outside: float
    inside: float
    yield_strength: float
    youngs: float = YOUNGS

    def __post_init__(self) -> None:
        positive(outside=self.outside, yield_strength=self.yield_strength, youngs=self.youngs)
        not_negative(inside=self.inside)
        positive(wall=self.outside - self.inside)

    @property
    def second_moment(self) -> float:
        """Second moment of area [m4]."""
        return pi * (self.outside**4 - self.inside**4) / 64.0

    @property
    def yield_moment(self) -> float:
        """Moment at which the skin begins to yield [Nm]."""
        return self.yield_strength * self.second_moment / (self.outside / 2.0)

    @property
    def plastic_moment(self) -> float:
        """Moment at which all of it yields [Nm]."""
        return self.yield_strength * (self.outside**3 - self.inside**3) / 6.0

    @property
    def yield_curvature(self) -> float:
        """Curvature at which the skin begins to yield [1/m]."""
        return self.yield_strength / (self.youngs * self.outside / 2.0)

    def moment_ratio(self, bent: Floats) -> Floats:
        """Moment over the yield moment by curvature over the yield curvature [1]."""
        bent = np.asarray(bent, dtype=float)
        ratio = self.inside / self.outside
        hole = ratio**3 * _circle(bent * ratio) if ratio > 0.0 else 0.0
        return (_circle(bent) - hole) / (pi / 4.0 * (1.0 - ratio**4))

    def shear_push(self, load: float, arm: float) -> float:
        """What shear adds under the ram, P a / (2 k G A), all of which springs back [m].

        Args:
            load: of the ram P [N]
            arm: from each support to the load beside it a [m]

        Source: Timoshenko beam; k of a hollow circle by Cowper, J. Applied Mechanics 33 (1966) 335, from memory:
            6 (1 + n) (1 + m^2)^2 / [(7 + 6 n) (1 + m^2)^2 + (20 + 12 n) m^2], m = inside over outside.
        Valid: elastic shear; the flattening of the section under the saddle is not in it.
        Raises: ValueError for a load below zero or an arm that is not above zero.
        """
        not_negative(load=load)
        positive(arm=arm)
        m = self.inside / self.outside
        square = (1.0 + m * m) ** 2
        shear = 6.0 * (1.0 + POISSON) * square
        shear /= (7.0 + 6.0 * POISSON) * square + (20.0 + 12.0 * POISSON) * m * m
        area = pi * (self.outside**2 - self.inside**2) / 4.0
        return load * arm / (2.0 * shear * self.youngs / (2.0 * (1.0 + POISSON)) * area)


def _circle(bent: Floats) -> Floats:
    """Moment of a circle over s R^3, by curvature over the one at which its own skin yields."""
    u = 1.0 / np.maximum(bent, 1.0)
    root = np.sqrt(1.0 - u * u)
    yielding = (np.arcsin(u) + u * root * (2.0 * u * u - 1.0)) / (2.0 * u) + 4.0 / 3.0 * root**3
    return np.where(bent < 1.0, pi / 4.0 * bent, yielding)
