"""How the heat balance's modes answer to more or less loss to the air, and to another air temperature."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from scipy.linalg import solve

from axlewright.heat.reduce import HeatModes
from axlewright.solid.mesh import Floats

SMALL = 1e-9
"""Added to rates so that the one state that no conduction cools can be solved for [1/s]."""


def uniform_rise(modes: HeatModes) -> Floats:
    """The state in which every place is one kelvin over ambient, shape (m,) [K].

    Nothing is conducted in it, so all it loses goes to the air: rate u = H u with H the loss seen from the modes.
    The reduced space holds it exactly. Inverse iteration finds it, and the rows that read 1 scale it.

    Args:
        modes: the reduced heat balance, as built.

    Raises:
        ValueError: the modes have been varied and do not know their loss any more.
    """
    if modes.parts is None:
        raise ValueError("modes that have been varied do not know their loss")
    conducted = np.diag(modes.rate + SMALL) - modes.parts.loss
    # A joule anywhere warms the whole: the inlets, added up, are far from having none of it.
    u = modes.inlet.sum(axis=1)
    for _ in range(3):
        u = solve(conducted, u, assume_a="sym")
        u /= np.linalg.norm(u)
    return np.asarray(u / np.mean(modes.spot @ u))


def loss_rates(modes: HeatModes) -> Floats:
    """How much of each mode's decay rate is loss to the air, shape (m,) [1/s].

    d rate_i / d ln(loss) = phi_i^T H phi_i. Walls of one thickness with bare skin lose alike everywhere, so the
    uniform rise stands for all modes: h A / (M c) = u^T H u / u^T u. That also leaves the modes what they are, which
    the diagonal of H would not: the slowest modes lie so close together that it mixes them.

    Args:
        modes: the reduced heat balance, as built.

    Valid: measured on the 36-bead demo with 1.3 times the loss: spot temperatures within 0.6 K of a model made
        afresh, where doing nothing is off by 5 K (docs/theory/thermometer.md).
    Raises:
        ValueError: as for `uniform_rise`.
    """
    u = uniform_rise(modes)
    return np.full(len(modes.rate), float(u @ (modes.rate * u)) / float(u @ u))


def with_loss(modes: HeatModes, rates: Floats, factor: float) -> HeatModes:
    """The modes with their loss to the air multiplied.

    Args:
        modes: the reduced heat balance.
        rates: its `loss_rates` [1/s].
        factor: loss over what the model has [1].
    """
    return replace(modes, rate=np.maximum(modes.rate + (factor - 1.0) * rates, 0.0), parts=None)
