"""Reduce the heat balance once; afterwards time stepping is exact and costs a few multiplications.

The reduced space is spanned by rational Krylov vectors of the heat patterns of the stretches,
(A + s M)^-1 P and (A + s M)^-1 M (A + s M)^-1 P, at shifts s from fast to slow, orthonormal in M and then
diagonalised: every mode decays by exp(-rate dt). Method: Ruhe, "Rational Krylov sequence methods for
eigenvalue computation", Linear Algebra and its Applications 58 (1984).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.linalg import eigh
from scipy.sparse import csc_array, diags_array

from axlewright.heat.system import HeatSystem
from axlewright.solid.factor import Factor
from axlewright.solid.mesh import Floats, Ints

FAST_SHIFTS = (1 / 5, 1 / 50)
"""Shifts for the patterns of single stretches [1/s]: the first minute after an arc."""

SLOW_SHIFTS = (1 / 500, 1 / 5000)
"""Shifts for the patterns of whole beads [1/s]: later, two halves of a bead look the same."""

KEPT = 1e-4
"""Directions weaker than this share of the strongest are left out of the reduced space."""


@dataclass(frozen=True)
class HeatModes:
    """The reduced heat balance: dq/dt = -rate q + inlet @ power, temperatures = rows @ q.

    Args:
        rate: decay rates of the modes, shape (m,) [1/s].
        inlet: how heat into each stretch drives the modes, shape (m, S) [K/J].
        spot: rise of the host's skin over each stretch, shape (S, m) [1].
        places: named watch places.
        watch: rise at the watch places, shape (W, m) [1].
    """

    rate: Floats
    inlet: Floats
    spot: Floats
    places: tuple[str, ...]
    watch: Floats


def reduce_heat(system: HeatSystem, bead_of_stretch: Ints) -> tuple[HeatModes, Floats]:
    """Reduce the heat balance of a job to its modes.

    Args:
        system: the full heat balance.
        bead_of_stretch: bead number of each stretch, shape (S,).

    Returns:
        The modes, and their nodal temperatures, shape (N, m) [1].
    """
    root = np.sqrt(system.capacity)
    # The uniform rise is kept exactly: without loss, no heat is gained or lost by reducing.
    uniform = (root / np.linalg.norm(root))[:, None]
    basis = root[:, None] * _krylov(system, bead_of_stretch)
    basis /= np.linalg.norm(basis, axis=0)
    basis = np.concatenate([uniform, _orthonormal(basis - uniform @ (uniform.T @ basis))], axis=1)
    flow = basis.T @ ((system.flow @ (basis / root[:, None])) / root[:, None])
    rate, turn = eigh((flow + flow.T) / 2)
    shapes = (basis @ turn) / root[:, None]
    inlet, spot, watch = (system.inlet.T @ shapes).T, system.spot @ shapes, system.watch @ shapes
    return HeatModes(rate, np.ascontiguousarray(inlet), spot, system.places, watch), shapes


def _krylov(system: HeatSystem, bead_of_stretch: Ints) -> Floats:
    stretches = system.inlet.toarray()
    beads = np.zeros((len(stretches), bead_of_stretch.max() + 1))
    np.add.at(beads.T, bead_of_stretch, stretches.T)
    vectors: list[Floats] = []
    for shifts, patterns in ((FAST_SHIFTS, stretches), (SLOW_SHIFTS, beads)):
        for shift in shifts:
            factor = Factor(csc_array(system.flow + diags_array(shift * system.capacity)))
            once = factor.solve(patterns)
            vectors += [once, factor.solve(system.capacity[:, None] * once)]
    return np.concatenate(vectors, axis=1)


def _orthonormal(vectors: Floats) -> Floats:
    """Orthonormal directions of unit columns, the weakest left out.

    The Gram matrix is small beside the vectors, and squaring the condition number does no harm because
    directions below `KEPT` are dropped anyway.
    """
    strength, directions = eigh(vectors.T @ vectors)
    kept = strength > KEPT**2 * strength[-1]
    basis = vectors @ (directions[:, kept] / np.sqrt(strength[kept]))
    return np.linalg.qr(basis)[0]
