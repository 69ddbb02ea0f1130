"""The thermal state and how it moves in time."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axlewright.heat.reduce import HeatModes
from axlewright.solid.mesh import Floats, Ints


def cold(modes: HeatModes) -> Floats:
    """The state at ambient temperature everywhere, shape (m,)."""
    return np.zeros(len(modes.rate))


def cooled(modes: HeatModes, state: Floats, seconds: float) -> Floats:
    """The state after a time without arc. Exact: q exp(-rate t)."""
    return state * np.exp(-modes.rate * seconds)


@dataclass(frozen=True)
class Pass:
    """What an arc that passes over some stretches does to any state: q becomes q kept + gained.

    Args:
        kept: share of each mode that is left, shape (m,).
        gained: what the arc adds, shape (m,) [K].
    """

    kept: Floats
    gained: Floats


def arc_pass(modes: HeatModes, stretches: Ints, power: float, seconds: Floats) -> Pass:
    """The effect of an arc that passes over stretches one after another.

    Exact for constant power: q exp(-rate t) + inlet power (1 - exp(-rate t)) / rate, stretch by stretch.

    Args:
        modes: the reduced heat balance.
        stretches: numbers of the stretches in the order of the arc's travel.
        power: net arc power [W].
        seconds: time the arc spends on each stretch, shape (len(stretches),) [s].
    """
    kept, gained = np.ones(len(modes.rate)), np.zeros(len(modes.rate))
    for stretch, duration in zip(stretches, seconds, strict=True):
        lost = np.expm1(-modes.rate * duration)
        # A mode that hardly decays takes heat in proportion to time.
        gain = np.where(modes.rate * duration > 1e-12, -lost / np.maximum(modes.rate, 1e-300), duration)
        kept = kept * (1.0 + lost)
        gained = gained * (1.0 + lost) + modes.inlet[:, stretch] * (power * gain)
    return Pass(kept, gained)


def welded(modes: HeatModes, state: Floats, stretches: Ints, power: float, seconds: Floats) -> Floats:
    """The state after an arc has passed over stretches one after another; see `arc_pass`."""
    passed = arc_pass(modes, stretches, power, seconds)
    return state * passed.kept + passed.gained
