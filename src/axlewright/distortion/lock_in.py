"""Lock-in: how springs that appear stress-free one after another hold on to the shape they were born in.

Let C be the compliance of the structure without the springs, seen from their rows, k their stiffness and g(t)
what their rows would read without any of them (heat, shrinkage). With A = 1/k + C, ordered by birth, the
forces of the springs born so far are

    lambda(t) = A^-1 (g(t) - d0),

where d0 is what each spring's row read when it was born. The leading blocks of the one Cholesky factor
A = L L^T serve every moment of the walk, and so do the leading rows of W = L^-1 g(t). The zero of a spring
born at time b turns out to be z = (L^-1 d0) = W(b) on its own rows: it carries nothing at birth, and what is
done to the others before and after is already in W. So a whole walk is one factorisation, two triangular
solutions and a copy.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.linalg.lapack import dpotrf, dtrtrs

from axlewright.solid.mesh import Floats


@dataclass(frozen=True)
class SpringSet:
    """Springs in order of birth.

    Args:
        lower: Cholesky factor of 1/k + C, shape (n, n), rows contiguous [m/N].
    """

    lower: Floats

    def forward(self, right: Floats) -> Floats:
        """L^-1 right, shape (n, ...)."""
        return self._solve(right, 1)

    def backward(self, right: Floats) -> Floats:
        """L^-T right, shape (n, ...); rows of springs not yet born must be zero."""
        return self._solve(right, 0)

    def _solve(self, right: Floats, transposed: int) -> Floats:
        # LAPACK counts columns first: it sees L, whose rows are contiguous, as the upper factor L^T.
        answer, info = dtrtrs(self.lower.T, right, lower=0, trans=transposed)
        assert info == 0, "the diagonal of a Cholesky factor is positive"
        return np.asarray(answer)


def spring_set(compliance: Floats, stiffness: Floats) -> SpringSet:
    """Factorise once for a walk.

    Args:
        compliance: of the structure at the springs' rows in order of birth, shape (n, n) [m/N].
        stiffness: of the springs, shape (n,) [N/m].

    Raises:
        ValueError: the compliance is not positive definite, which no held structure shows.
    """
    flexible = np.array(compliance)
    flexible[np.diag_indices_from(flexible)] += 1.0 / stiffness
    return factorised(flexible)


def factorised(flexible: Floats) -> SpringSet:
    """Factorise 1/k + C in place.

    Args:
        flexible: 1/k + C, symmetric, shape (n, n), rows contiguous [m/N]; it is overwritten.

    Raises:
        ValueError: as for `spring_set`.
    """
    upper, info = dpotrf(flexible.T, lower=0, clean=1, overwrite_a=1)
    if info != 0:
        raise ValueError("the structure's compliance is not positive definite: a part is not held")
    return SpringSet(upper.T)
