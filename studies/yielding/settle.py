"""The forces of springs that may yield, on one structure at one moment.

With C the structure's compliance at the springs, k their stiffness, A = 1/k + C, and b what their rows would read
without any spring less what they read unloaded, yielding springs slip by q and

    A f + q = b,    f within what the springs carry, q square to its limit (associated flow).

That is the minimum of f A f / 2 - f b over all f the springs can carry (Haar and von Karman's principle, for a step):
one answer in f. Springs that do not yield are condensed out: with L L^T = A and Y the springs that may yield, those see

    e + (H^-1 - 1/k) f(e) = H^-1 f_elastic,    H = (A^-1)_YY,

e being their stretch and f(e) the return mapping. This is solved by Newton's method with its tangents (semismooth).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axlewright.distortion.functionals import SPRINGS
from axlewright.solid.mesh import Floats
from studies.yielding.return_mapping import Limits, overload, returned

EXACT = 1e-10
"""Error of a force that is left, as a share of what the spring carries."""

STEPS = 80
"""Newton steps at most; three or four are usual."""

Flags = np.ndarray
"""One true or false for each spring."""


@dataclass(frozen=True)
class Settled:
    """Springs in balance.

    Args:
        force: of each spring, shape (n, 4) [N, N m].
        slip: by which each has slipped since before, shape (n, 4) [m, rad].
        steps: Newton steps taken.
    """

    force: Floats
    slip: Floats
    steps: int


def settle(
    inverse: Floats, stretch: Floats, stiffness: Floats, limits: Limits | None, loose: Flags, hint: Flags
) -> Settled:
    """Let springs yield until all carry what they can.

    Args:
        inverse: L^-1 of A, shape (4 n, 4 n) or larger [(N/m)^0.5].
        stretch: b, shape (n, 4) [m, rad].
        stiffness: of the springs, shape (n, 4).
        limits: what they carry; None if nothing yields.
        loose: springs that carry nothing at all, shape (n,).
        hint: springs that yielded last time, shape (n,); only saves time.

    Raises:
        ArithmeticError: Newton's method does not converge.
    """
    size = stretch.size
    seen = inverse[:size, :size]
    elastic = (seen.T @ (seen @ stretch.ravel())).reshape(-1, SPRINGS)
    force, slip, steps = elastic, np.zeros_like(elastic), 0
    chosen = loose.copy()
    if limits is not None:
        chosen |= hint | (overload(elastic, limits) > 0)
    while chosen.any():
        yielding = np.flatnonzero(chosen)
        rows = (SPRINGS * yielding[:, None] + np.arange(SPRINGS)).ravel()
        part = seen[:, rows]
        own, taken = _condensed(
            np.asarray(np.linalg.inv(part.T @ part), dtype=np.float64),
            elastic[yielding],
            stiffness[yielding],
            None if limits is None else limits.of(yielding),
            loose[yielding],
        )
        steps += taken
        slip = np.zeros_like(elastic)
        slip[yielding] = own
        force = elastic - (seen.T @ (part @ own.ravel())).reshape(-1, SPRINGS)
        if limits is None:
            break
        beyond = (overload(force, limits) > EXACT) & ~chosen
        if not beyond.any():
            break
        chosen |= beyond
    return Settled(force, slip, steps)


def _condensed(
    flexible: Floats, elastic: Floats, stiffness: Floats, limits: Limits | None, loose: Flags
) -> tuple[Floats, int]:
    """Slips of the springs that may yield, shape (m, 4), and the Newton steps it took."""
    compliant, k = 1.0 / stiffness, stiffness
    around = flexible - np.diag(compliant.ravel())
    free = (flexible @ elastic.ravel()).reshape(-1, SPRINGS)
    scale = np.sqrt(k)
    stretch = elastic * compliant
    force, tangent = _carried(stretch, k, limits, loose)
    left = stretch + (around @ force.ravel()).reshape(-1, SPRINGS) - free
    enough = EXACT * float(np.abs(scale * free).max())
    for step in range(STEPS):
        if np.abs(scale * left).max() <= enough:
            return stretch - force * compliant, step
        matrix = np.einsum("mnj,njk->mnk", around.reshape(len(around), -1, SPRINGS), tangent).reshape(
            around.shape
        )
        matrix[np.diag_indices(len(matrix))] += 1.0
        move = -np.linalg.solve(matrix, left.ravel()).reshape(-1, SPRINGS)
        before, share = float(np.sum((scale * left) ** 2)), 1.0
        for _ in range(12):
            there = stretch + share * move
            force, tangent = _carried(there, k, limits, loose)
            left = there + (around @ force.ravel()).reshape(-1, SPRINGS) - free
            if float(np.sum((scale * left) ** 2)) < (1 - 0.1 * share) * before:
                break
            share /= 2
        stretch = there
    raise ArithmeticError(
        f"springs do not settle: error {np.abs(scale * left).max():.2e}, allowed {enough:.2e}"
    )


def _carried(
    stretch: Floats, stiffness: Floats, limits: Limits | None, loose: Flags
) -> tuple[Floats, Floats]:
    trial = stiffness * stretch
    if limits is None:
        tangent = np.zeros((len(trial), SPRINGS, SPRINGS))
        tangent[:, range(SPRINGS), range(SPRINGS)] = stiffness
        force = trial
    else:
        force, tangent = returned(trial, stiffness, limits)
    force[loose], tangent[loose] = 0.0, 0.0
    return force, tangent
