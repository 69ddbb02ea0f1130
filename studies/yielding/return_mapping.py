"""Springs that yield: what a fillet's throat carries, and the force nearest to an elastic one that it can carry.

A spring has forces along F, normal N (above zero where it opens) and side S (above zero where the guest moves toward
the fillet) [N], and a moment M [N m]. On a throat at 45 degrees the normal stress is (N - S) / (sqrt(2) a l), the
shear across (N + S) / (sqrt(2) a l), the shear along F / (a l), and

    normal^2 + 3 across^2 + 3 along^2 <= f^2    is    2 N^2 + 2 N S + 2 S^2 + 3 F^2 <= R^2,    R = f a l.

What presses guest onto host goes through their contact, which takes any part of N below zero. Sides and opening
that some contact pressure brings within the limit are within it, so with v = max(N + S / 2, 0)

    2 v^2 + 1.5 S^2 + 3 F^2 <= R^2,    and separately |M| <= f l a^2 / 4.

Both are convex and smooth. Source: EN 1993-1-8:2005 4.5.3.2, equation 4.1, first condition; plastic moment of a
rectangle of height a (elementary plasticity); contact by the statical theorem of limit analysis.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axlewright.solid.mesh import Floats

TURNS = 60
"""Newton steps for a multiplier at most; some six are usual."""

WEIGHTS = np.array([3.0, 3.0, 1.0])
"""Of the forces along, (N + S) / sqrt(2) and (N - S) / sqrt(2) in the criterion where the throat opens."""

PRINCIPAL = np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 1.0], [0.0, 1.0, -1.0]]) / np.sqrt([[1.0], [2.0], [2.0]])
"""From along, normal, side to those three forces."""

PRESSED = np.array([3.0, 0.0, 1.5])
"""Of along, normal, side where contact presses."""


@dataclass(frozen=True)
class Limits:
    """What springs carry now.

    Args:
        force: R of each spring, shape (n,) [N].
        moment: of each spring, shape (n,) [N m].
    """

    force: Floats
    moment: Floats

    def of(self, chosen: np.ndarray) -> Limits:
        """Those of some springs."""
        return Limits(self.force[chosen], self.moment[chosen])


def throat_load(force: Floats) -> Floats:
    """Equivalent force on the throat, to be held against R.

    Args:
        force: along, normal and side, shape (..., 3 or more) [N].

    Returns:
        sqrt(2 v^2 + 1.5 S^2 + 3 F^2), shape (...) [N].

    Source: module docstring.
    Valid: throats at 45 degrees.
    Raises: nothing.
    """
    along, normal, side = np.moveaxis(force[..., :3], -1, 0)
    opening = np.maximum(normal + side / 2, 0.0)
    return np.asarray(np.sqrt(2 * opening**2 + 1.5 * side**2 + 3 * along**2))


def overload(force: Floats, limits: Limits) -> Floats:
    """How far each spring's force goes beyond what it carries, as a share, shape (n,); below zero where it does not."""
    moment = np.abs(force[:, 3]) / np.maximum(limits.moment, 1e-300)
    return np.maximum(throat_load(force) / np.maximum(limits.force, 1e-300), moment) - 1.0


def returned(trial: Floats, stiffness: Floats, limits: Limits) -> tuple[Floats, Floats]:
    """The forces springs carry at given elastic ones, and how they change with the springs' stretch.

    The force f is the nearest to the trial t that the spring can carry, distance squared being the energy
    (f - t)^2 / k: associated flow, backward Euler. Normal and side must be equally stiff.

    Args:
        trial: forces if the spring did not yield further, shape (n, 4) [N, N m].
        stiffness: of each spring, shape (n, 4) [N/m, N m/rad].
        limits: what they carry.

    Returns:
        forces, shape (n, 4), and tangents df / de, shape (n, 4, 4).
    """
    force, tangent = trial.copy(), np.zeros((len(trial), 4, 4))
    tangent[:, range(4), range(4)] = stiffness
    beyond = np.flatnonzero(throat_load(trial) > limits.force)
    if len(beyond):
        force[beyond, :3], tangent[beyond, :3, :3] = _nearest(
            trial[beyond, :3], stiffness[beyond, :3], limits.force[beyond]
        )
    turned = np.abs(trial[:, 3]) > limits.moment
    force[:, 3] = np.clip(trial[:, 3], -limits.moment, limits.moment)
    tangent[turned, 3, 3] = 0.0
    return force, tangent


def _nearest(trial: Floats, stiffness: Floats, limit: Floats) -> tuple[Floats, Floats]:
    """Forces on the limit nearest to those beyond it; the pressed solution if that presses, else the opened one."""
    force, tangent = _on_limit(trial, stiffness, limit, PRESSED)
    opens = force[:, 1] + force[:, 2] / 2 > 0
    if opens.any():
        # Normal and side are equally stiff, so the energy looks the same along the principal forces.
        turned, slope = _on_limit(trial[opens] @ PRINCIPAL.T, stiffness[opens], limit[opens], WEIGHTS)
        force[opens] = turned @ PRINCIPAL
        tangent[opens] = PRINCIPAL.T @ slope @ PRINCIPAL
    return force, tangent


def _on_limit(trial: Floats, stiffness: Floats, limit: Floats, weights: Floats) -> tuple[Floats, Floats]:
    """Nearest force on sum(w f^2) = R^2: f = t / (1 + x k w), x from a scalar equation, by Newton on R / sqrt(sum)."""
    strong = stiffness * weights
    factor = np.zeros(len(trial))
    for _ in range(TURNS):
        force = trial / (1 + factor[:, None] * strong)
        total = np.maximum(np.sum(weights * force**2, axis=1), 1e-300)
        slope = -2 * np.sum(weights * strong * force**2 / (1 + factor[:, None] * strong), axis=1)
        # The pressed surface may lie beyond the trial even where the opened one does not; then it is not the one.
        step = np.zeros(len(trial))
        out = total > limit**2
        step[out] = (1 - limit[out] / np.sqrt(total[out])) * -2 * total[out] ** 1.5 / (limit * slope)[out]
        factor = np.maximum(factor + step, 0.0)
        if np.all(np.abs(step) <= 1e-15 * factor):
            break
    force = trial / (1 + factor[:, None] * strong)
    soft = stiffness / (1 + factor[:, None] * strong)
    flow = soft * weights * force
    along_flow = np.maximum(np.sum(weights * force * flow, axis=1), 1e-300)
    tangent = -flow[:, :, None] * flow[:, None, :] / along_flow[:, None, None]
    tangent[:, range(3), range(3)] += soft
    return force, tangent
