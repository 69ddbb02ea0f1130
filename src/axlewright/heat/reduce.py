"""Reduce the heat balance once; afterwards time stepping is exact and costs a few multiplications.

The reduced space is spanned by rational Krylov vectors of the heat patterns of the stretches,
(A + s M)^-1 P and (A + s M)^-1 M (A + s M)^-1 P, at shifts s from fast to slow, and (A + s M)^-1 J of the heat that
crosses seams, orthonormal in M and then diagonalised: every mode decays by exp(-rate dt). Method: Ruhe, "Rational
Krylov sequence methods for eigenvalue computation", Linear Algebra and its Applications 58 (1984).
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

SEAM_SHIFT = 1 / 50
"""The one of these shifts at which patterns of the heat that crosses the seam under a bead are added [1/s].

They hold what changes with the conductance of seams, so that it can be varied within the space.
"""

KEPT = 1e-4
"""Directions weaker than this share of the strongest are left out of the reduced space."""


@dataclass(frozen=True)
class FlowParts:
    """What of the reduced heat flow can be varied apart from conduction.

    Args:
        loss: loss from the skin seen from the modes, shape (m, m) [1/s].
        across_seams: conductance across seams seen from the modes, shape (m, m) [1/s].
    """

    loss: Floats
    across_seams: Floats


@dataclass(frozen=True)
class HeatModes:
    """The reduced heat balance: dq/dt = -rate q + inlet @ power, temperatures = rows @ q.

    Args:
        rate: decay rates of the modes, shape (m,) [1/s].
        inlet: how heat into each stretch drives the modes, shape (m, S) [K/J].
        spot: rise of the host's skin over each stretch, shape (S, m) [1].
        places: named watch places.
        watch: rise at the watch places, shape (W, m) [1].
        parts: what of the flow can be varied; None in modes that have been varied already.
    """

    rate: Floats
    inlet: Floats
    spot: Floats
    places: tuple[str, ...]
    watch: Floats
    parts: FlowParts | None = None


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
    # A line on the bare tube takes nothing across it, which gives a direction of nothing.
    strength = np.linalg.norm(basis, axis=0)
    basis = basis[:, strength > 0] / strength[strength > 0]
    basis = np.concatenate([uniform, _orthonormal(basis - uniform @ (uniform.T @ basis))], axis=1)
    flow = basis.T @ ((system.flow @ (basis / root[:, None])) / root[:, None])
    rate, turn = eigh((flow + flow.T) / 2)
    shapes = (basis @ turn) / root[:, None]
    inlet, spot, watch = (system.inlet.T @ shapes).T, system.spot @ shapes, system.watch @ shapes
    parts = FlowParts(_seen(system.loss, shapes), _seen(system.across_seams, shapes))
    return HeatModes(rate, np.ascontiguousarray(inlet), spot, system.places, watch, parts), shapes


def _seen(matrix: csc_array, shapes: Floats) -> Floats:
    """shapes^T matrix shapes of a matrix that touches few nodes."""
    touched = np.flatnonzero(np.diff(matrix.indptr))
    seen = shapes[touched].T @ (matrix[touched][:, touched] @ shapes[touched])
    return np.asarray((seen + seen.T) / 2)


def _krylov(system: HeatSystem, bead_of_stretch: Ints) -> Floats:
    stretches = system.inlet.toarray()
    beads, across = (_by_bead(p, bead_of_stretch) for p in (stretches, system.jump.toarray()))
    vectors: list[Floats] = []
    for shifts, patterns in ((FAST_SHIFTS, stretches), (SLOW_SHIFTS, beads)):
        for shift in shifts:
            factor = Factor(csc_array(system.flow + diags_array(shift * system.capacity)))
            once = factor.solve(patterns)
            vectors += [once, factor.solve(system.capacity[:, None] * once)]
            vectors += [factor.solve(across)] if shift == SEAM_SHIFT else []
    return np.concatenate(vectors, axis=1)


def _by_bead(patterns: Floats, bead_of_stretch: Ints) -> Floats:
    """Patterns of the stretches of each bead together."""
    beads = np.zeros((len(patterns), bead_of_stretch.max() + 1))
    np.add.at(beads.T, bead_of_stretch, patterns.T)
    return beads


def _orthonormal(vectors: Floats) -> Floats:
    """Orthonormal directions of unit columns, the weakest left out.

    The Gram matrix is small beside the vectors, and squaring the condition number does no harm because
    directions below `KEPT` are dropped anyway.
    """
    strength, directions = eigh(vectors.T @ vectors)
    kept = strength > KEPT**2 * strength[-1]
    basis = vectors @ (directions[:, kept] / np.sqrt(strength[kept]))
    return np.linalg.qr(basis)[0]
