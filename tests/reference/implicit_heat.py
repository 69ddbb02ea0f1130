"""The heat balance stepped the long way: all nodes, implicit in time, nothing reduced.

TR-BDF2 is L-stable and of second order: with g = 2 - sqrt(2) a trapezoidal step to t + g dt is followed by a
second-order backward difference to t + dt, and both solve with the same matrix M + (g / 2) dt A.

Source: Bank, Coughran, Fichtner, Grosse, Rose and Smith, "Transient simulation of silicon devices and circuits",
IEEE Trans. Electron Devices 32 (1985) 1992, from memory.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from scipy.sparse import csc_array, diags_array
from scipy.sparse.linalg import SuperLU, splu

from axlewright.heat.system import HeatSystem
from axlewright.solid.mesh import Floats

_GAMMA = 2.0 - np.sqrt(2.0)


@dataclass
class FullOrder:
    """All nodal temperatures of a heat balance, moved in time by steps no longer than `longest` [s]."""

    system: HeatSystem
    longest: float
    rise: Floats = field(init=False)
    factors: dict[float, SuperLU] = field(default_factory=dict, init=False)

    def __post_init__(self) -> None:
        """Start at ambient temperature."""
        self.rise = np.zeros(len(self.system.capacity))

    def pass_time(self, seconds: float, stretch: int | None = None, power: float = 0.0) -> None:
        """Let time pass, with an arc of constant power [W] on a stretch or without one."""
        heat = np.zeros_like(self.rise)
        if stretch is not None:
            heat = power * self.system.inlet[:, [stretch]].toarray().ravel()
        steps = max(1, int(np.ceil(seconds / self.longest - 1e-9)))
        for _ in range(steps):
            self.rise = self._stepped(self.rise, heat, seconds / steps)

    def _stepped(self, rise: Floats, heat: Floats, step: float) -> Floats:
        capacity, flow = self.system.capacity, self.system.flow
        factor, half = self._factor(step), _GAMMA / 2 * step
        middle = factor.solve(capacity * rise - half * (flow @ rise) + 2 * half * heat)
        old, new = (1 - _GAMMA) ** 2 / (_GAMMA * (2 - _GAMMA)), 1 / (_GAMMA * (2 - _GAMMA))
        return factor.solve(capacity * (new * middle - old * rise) + half * heat)

    def _factor(self, step: float) -> SuperLU:
        key = round(step, 9)
        if key not in self.factors:
            matrix = diags_array(self.system.capacity) + _GAMMA / 2 * step * self.system.flow
            self.factors[key] = splu(
                csc_array(matrix), permc_spec="MMD_AT_PLUS_A", options={"SymmetricMode": True}
            )
        return self.factors[key]
