"""Guards against programming misuse: a length, speed or heat that cannot exist."""

from __future__ import annotations

from typing import TypeVar

import numpy as np
from numpy.typing import ArrayLike, NDArray

#: A float, or an array of them; a formula returns what it was given.
Real = TypeVar("Real", float, NDArray[np.float64])


def positive(**values: ArrayLike) -> None:
    """Raise ValueError, naming the argument, unless every value is finite and above zero."""
    for name, value in values.items():
        number = np.asarray(value, dtype=float)
        if not (np.isfinite(number) & (number > 0.0)).all():
            raise ValueError(f"{name} must be a finite number above zero, not {value!r}")


def not_negative(**values: ArrayLike) -> None:
    """Raise ValueError, naming the argument, unless every value is finite and zero or more."""
    for name, value in values.items():
        number = np.asarray(value, dtype=float)
        if not (np.isfinite(number) & (number >= 0.0)).all():
            raise ValueError(f"{name} must be a finite number of zero or more, not {value!r}")


def fraction(**values: ArrayLike) -> None:
    """Raise ValueError, naming the argument, unless every value lies above 0 and at or below 1."""
    positive(**values)
    for name, value in values.items():
        if not (np.asarray(value, dtype=float) <= 1.0).all():
            raise ValueError(f"{name} must not exceed 1, not {value!r}")


def root(value: Real) -> Real:
    """Square root of a float or an array, typed as what was given."""
    result: Real = value**0.5
    return result
