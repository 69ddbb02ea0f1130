"""The heat balance with other losses or another steel, from the modes alone.

The modes Phi are orthonormal in the heat capacities, so with the capacity taken c times as large the reduced balance is
c dq/dt + F q = inlet q_arc with F = k (rates - H - S) + h H + s S, where H and S are the loss from the skin and the
conductance across seams seen from the modes. A small symmetric eigenproblem makes it diagonal again.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.linalg import eigh

from axlewright.heat.reduce import HeatModes
from axlewright.solid.mesh import Floats


@dataclass(frozen=True)
class HeatFactors:
    """What the heat flow is taken to be, over what the model was built with [1].

    Args:
        loss: loss from the skin to the air.
        seam: conductance across seams.
        capacity: heat capacity of the steel.
        conduction: conductivity of the steel.
    """

    loss: float = 1.0
    seam: float = 1.0
    capacity: float = 1.0
    conduction: float = 1.0


def varied_modes(modes: HeatModes, factors: HeatFactors) -> tuple[HeatModes, Floats]:
    """Modes of a varied heat balance, inside the space of the modes it was built with.

    The space was made for the flow it was built with; `docs/theory/uncertainty.md` says how far varied modes are
    from modes built afresh.

    Args:
        modes: modes of the model as built.
        factors: all above zero.

    Returns:
        The varied modes, and the turn that makes rows on the old modes into rows on the new ones, shape (m, m):
        new = old @ turn.

    Raises:
        ValueError: the modes have been varied already.
    """
    if modes.parts is None:
        raise ValueError(
            "modes that have been varied do not know their parts; vary those of the model as built"
        )
    flow = (factors.loss - factors.conduction) * modes.parts.loss
    flow += (factors.seam - factors.conduction) * modes.parts.across_seams
    flow[np.diag_indices_from(flow)] += factors.conduction * modes.rate
    rate, turn = eigh(flow / factors.capacity, overwrite_a=True, check_finite=False)
    inlet = (turn.T @ modes.inlet) / factors.capacity
    return HeatModes(rate, inlet, modes.spot @ turn, modes.places, modes.watch @ turn), turn
