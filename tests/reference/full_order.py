"""The lock-in walk done the long way: the whole mesh re-solved for every bead, nothing condensed.

Stiffness gets the springs of what has been laid so far and is factorised anew each time; a spring's zero is the
relative displacement read at its birth; a tack under a bead is taken out before the bead is laid. It shares
with the fast walk only the element matrices and the rows that read the seams.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from scipy.sparse import csc_array, diags_array
from scipy.sparse.linalg import splu

from axlewright.distortion.condense import FullModel, full_model
from axlewright.distortion.functionals import SPRINGS
from axlewright.distortion.springs import Shrinkage
from axlewright.distortion.tacked import spring_rows
from axlewright.heat.reduce import reduce_heat
from axlewright.heat.system import heat_system
from axlewright.plan.bench import OnTheBench
from axlewright.solid.mesh import Floats, Ints


@dataclass
class FullOrderWalk:
    """A structure that is welded step by step on its full mesh."""

    model: FullModel
    mode_shapes: Floats
    load: Floats = field(init=False)
    springs: dict[int, tuple[float, float]] = field(default_factory=dict, init=False)

    def __post_init__(self) -> None:
        """Start unloaded and without springs."""
        self.rows = self.model.rows.tocsr()
        self.load = np.zeros(self.model.stiffness.shape[0])

    def displacement(self, state: Floats) -> Floats:
        """Displacement of all nodes at a thermal state, with the springs there are."""
        keys = sorted(self.springs)
        stiffness, zero = (np.array([self.springs[key][n] for key in keys]) for n in (0, 1))
        base, right = self.model.stiffness, self.load + self.model.thermal_load @ (self.mode_shapes @ state)
        if keys:
            # Each key is a row number times two, plus one for a bead, so that tack and bead share a row.
            rows = self.rows[[key // 2 for key in keys]]
            base = base + rows.T @ diags_array(stiffness) @ rows
            right = right + rows.T @ (stiffness * zero)
        factor = splu(
            csc_array(base),
            permc_spec="MMD_AT_PLUS_A",
            diag_pivot_thresh=0.0,
            options={"SymmetricMode": True},
        )
        return factor.solve(right)

    def set_tack(self, stretch: int, stiffness: Floats, state: Floats) -> None:
        """Set a tack, stress-free in the present shape."""
        self._born(2 * spring_rows(np.array([stretch])), stiffness, state, 0.0)

    def lay_bead(
        self, stretches: Ints, stiffness: Floats, shrink: Shrinkage, lengths: Floats, state: Floats
    ) -> None:
        """Melt the tacks under a bead, lay it stress-free and let it shrink."""
        rows = spring_rows(stretches)
        melted = {
            int(2 * row): self.springs.pop(int(2 * row)) for row in rows if int(2 * row) in self.springs
        }
        present = self._born(2 * rows + 1, stiffness, state, shrink.rotation)
        for key, (stiff, _) in melted.items():
            # The steel of the tack stays where it is; only its force has gone.
            self.springs[key] = (stiff, present[key // 2])
        total = len(shrink.across)
        pulls = np.zeros(self.rows.shape[0])
        pulls[SPRINGS * total + stretches] = -shrink.tendon
        pulls[(SPRINGS + 1) * total + stretches] = -shrink.across[stretches] * lengths
        self.load = self.load + self.rows.T @ pulls

    def _born(self, keys: Ints, stiffness: Floats, state: Floats, rotation: float) -> dict[int, float]:
        reading = self.rows[keys // 2] @ self.displacement(state)
        turned = np.tile([0.0, 0.0, 0.0, rotation], len(keys) // SPRINGS)
        for key, stiff, zero in zip(keys, stiffness, reading + turned, strict=True):
            self.springs[int(key)] = (float(stiff), float(zero))
        return {int(key) // 2: float(value) for key, value in zip(keys, reading, strict=True)}


def full_order_for(bench: OnTheBench) -> FullOrderWalk:
    """The full mesh of a job, with its thermal modes signed as in the reduced model."""
    assembly, job = bench.model.assembly, bench.job
    seals = tuple((seal.name, seal.at) for seal in job.housing.seals)
    beads = np.array([stretch.bead for stretch in assembly.stretches])
    modes, shapes = reduce_heat(heat_system(assembly, job.ambient.temperature, seals), beads)
    # The sign of an eigenvector is free; a cached model may have the other one.
    signs = np.sign(np.sum(modes.inlet * bench.model.modes.inlet, axis=1))
    return FullOrderWalk(full_model(assembly), shapes * signs)
