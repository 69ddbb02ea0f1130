"""All springs of a plan laid out in order of birth, and what they carry at a temperature."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.linalg import cholesky, solve_triangular

from axlewright.distortion.functionals import SPRINGS
from axlewright.distortion.springs import fillet_stiffness
from axlewright.distortion.tacked import spring_rows
from axlewright.distortion.walk import Laying
from axlewright.plan.bench import OnTheBench
from axlewright.solid.mesh import Floats, Ints
from axlewright.weld.steel import reduction_factors, steel
from axlewright.weld.strength import GAMMA_M2
from studies.yielding.return_mapping import Limits

WEAKEST = 1e-3
"""Least strength of steel that is not molten, as a share of cold strength; keeps the return mapping regular."""

SETS = 15.0
"""How long after its arc has stopped a bead is taken to bear again [s].

By then the skin beside it is below 400 degC, where steel has its full yield strength, and its heat growth is what
steel can hold without yielding (some 200 K are 0.24 %, f_y / E is 0.17 %). When the arc stops it is 400 to 800 K:
0.5 to 1 % that the linear model lets grow freely and steel does not.
"""


@dataclass(frozen=True)
class Yielding:
    """What is taken for yielding.

    Args:
        strength: over the strength of EN 1993-1-8; infinite if nothing yields [1].
        soft: how long after its arc has stopped a bead still carries nothing, its zero following the steel [s]; None if
            it is there from the start of its arc, as in the elastic walk.
        arc_end: whether other springs may yield at the moment an arc stops, besides those after it.
        after: moments after an arc stops at which springs may yield, before the next start [s].
        tacks_only: whether beads stay elastic.
    """

    strength: float = 1.0
    soft: float | None = SETS
    arc_end: bool = True
    after: tuple[float, ...] = (15.0,)
    tacks_only: bool = False

    @property
    def elastic(self) -> bool:
        """Whether nothing yields."""
        return not np.isfinite(self.strength)


def throat_strength(bench: OnTheBench) -> float:
    """f_u / (beta_w gamma_M2), the stress at which the plan calls a tack fully used [Pa].

    Source: EN 1993-1-8:2005 4.5.3.2, equation 4.1, first condition, gamma_M2 = 1.25.
    """
    grade = steel(bench.job.housing.steel)
    return grade.ultimate / (grade.correlation_factor * GAMMA_M2)


def tack_strength(bench: OnTheBench) -> Floats:
    """R of each tack, cold, shape (T,) [N]; see `return_mapping`."""
    return throat_strength(bench) * bench.settings.throat * bench.tack_lengths


@dataclass(frozen=True)
class LaidOut:
    """Springs of a plan: tacks in the order of tacking, then stretches in the order laid.

    Args:
        bench: the job.
        rule: what is taken for yielding.
        stretches: the stretch each spring sits on, shape (n,).
        tacks: how many of them are tacks.
        rows: their rows of the structure, shape (4 n,).
        stiffness: shape (n, 4) [N/m, N m/rad].
        inverse: L^-1 with L L^T = 1/k + C, shape (4 n, 4 n).
        force: R of each spring, cold, shape (n,) [N].
        moment: plastic moment of each spring, cold, shape (n,) [N m].
        melted_by: the bead that melts each tack, shape (tacks,); their number if none does.
    """

    bench: OnTheBench
    rule: Yielding
    stretches: Ints
    tacks: int
    rows: Ints
    stiffness: Floats
    inverse: Floats
    force: Floats
    moment: Floats
    melted_by: Ints

    def limits(self, state: Floats, active: int) -> Limits:
        """What the first springs carry at their temperature (EN 1993-1-2:2005 table 3.1, k_y of the host's skin)."""
        spots = self.bench.model.modes.spot[self.stretches[:active]] @ state
        share = np.maximum(reduction_factors(self.bench.job.ambient.temperature + spots)[0], WEAKEST)
        force, moment = self.force[:active] * share, self.moment[:active] * share
        if self.rule.tacks_only:
            force[self.tacks :], moment[self.tacks :] = np.inf, np.inf
        return Limits(force, moment)


def laid_out(bench: OnTheBench, rule: Yielding, laying: Laying) -> LaidOut:
    """Lay out the springs of a plan."""
    grade, throat = steel(bench.job.housing.steel), bench.settings.throat
    stretches = np.concatenate([bench.tacks.stretches, laying.stretches])
    lengths = np.concatenate([bench.tack_lengths, laying.lengths])
    beads = (
        bench.inputs.bead_stiffness * fillet_stiffness(bench.settings.leg, grade) * laying.lengths[:, None]
    )
    stiffness = np.concatenate([bench.tacked.stiffness.reshape(-1, SPRINGS), beads])
    rows = spring_rows(stretches)
    flexible = bench.held.compliance[np.ix_(rows, rows)] + np.diag(1.0 / stiffness.ravel())
    inverse = solve_triangular(cholesky(flexible, lower=True), np.eye(len(rows)), lower=True)
    scale = 0.0 if rule.elastic else rule.strength
    bead_of = np.full(len(bench.model.lengths), len(laying.first) - 1)
    bead_of[laying.stretches] = np.repeat(np.arange(len(laying.first) - 1), np.diff(laying.first))
    return LaidOut(
        bench,
        rule,
        stretches,
        len(bench.tacks.stretches),
        rows,
        stiffness,
        inverse,
        scale * throat_strength(bench) * throat * lengths,
        scale * grade.yield_strength * throat**2 / 4 * lengths,
        bead_of[bench.tacks.stretches],
    )
