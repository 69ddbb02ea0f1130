"""The structure after fit-up: tacks appear one after another, cold or nearly so, and become part of it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axlewright.distortion.condense import Condensed
from axlewright.distortion.functionals import SPRINGS
from axlewright.distortion.lock_in import spring_set
from axlewright.solid.mesh import Floats, Ints


@dataclass(frozen=True)
class Tacked:
    """The structure with its tacks as part of it.

    Args:
        compliance: response of every row to a unit pull at every row, shape (n, n).
        thermal: response of every row to every thermal mode, shape (n, m).
        offset: what every row reads cold, from tacks set while the housing was warm, shape (n,).
        rows: the tacks' spring rows in the order of tacking, shape (4 T,).
        stiffness: of these springs, shape (4 T,).
        zero: what their rows read when they were set, shape (4 T,).
    """

    compliance: Floats
    thermal: Floats
    offset: Floats
    rows: Ints
    stiffness: Floats
    zero: Floats


def spring_rows(stretches: Ints) -> Ints:
    """Rows of the springs of stretches, in their order, shape (4 len(stretches),)."""
    return (SPRINGS * np.asarray(stretches)[:, None] + np.arange(SPRINGS)).ravel()


def tack_up(base: Condensed, stretches: Ints, stiffness: Floats, states: Floats) -> Tacked:
    """Set tacks one after another.

    Args:
        base: the structure before fit-up.
        stretches: the stretch each tack sits on, in the order of tacking, shape (T,).
        stiffness: of each tack along, normal, side and in rotation, shape (T, 4).
        states: thermal state when each tack is set, shape (m, T).
    """
    rows, k = spring_rows(stretches), stiffness.ravel()
    coupling = base.compliance[:, rows]
    springs = spring_set(coupling[rows], k)
    read = springs.forward(base.thermal[rows] @ states)
    born = read[np.arange(len(rows)), np.repeat(np.arange(len(stretches)), SPRINGS)]
    across = springs.forward(coupling.T)
    compliance = base.compliance - across.T @ across
    thermal = base.thermal - across.T @ springs.forward(base.thermal[rows])
    # Cold, the springs pull with A^-1 (0 - d0) = -L^-T z, which moves every row by C_T L^-T z.
    offset = across.T @ born
    zero = springs.lower @ born
    return Tacked(compliance, thermal, offset, rows, k, zero)
