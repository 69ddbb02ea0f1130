"""Temperature of the whole skin: what the modes look like there, for pictures.

A plan needs the modes at seams and watch places only; their shapes over the skin are as large as all the rest of a
model together and are kept apart from it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from axlewright.heat.reduce import HeatModes
from axlewright.heat.varied import HeatFactors, varied_modes
from axlewright.solid.mesh import Floats, Ints
from axlewright.solid.surface import boundary_faces


@dataclass(frozen=True)
class SkinHeat:
    """The modes over the skin.

    Args:
        modes: the reduced heat balance the shapes belong to.
        shapes: rise of every skin node by each mode, shape (V, m) [1]; single precision, which is exact to 0.01 K.
    """

    modes: HeatModes
    shapes: NDArray[np.float32]

    def varied(self, factors: HeatFactors) -> SkinHeat:
        """The skin with another heat flow; see `heat.varied`."""
        modes, turn = varied_modes(self.modes, factors)
        return replace(self, modes=modes, shapes=self.shapes @ turn.astype(np.float32))

    def rises(self, states: Floats) -> NDArray[np.float32]:
        """Rise over ambient of every skin node at some states of shape (m, K), shape (V, K) [K]."""
        return self.shapes @ states.astype(np.float32)


def skin_nodes(cells: Ints) -> Ints:
    """Numbers of the nodes on the outside of a mesh, in rising order."""
    return np.unique(boundary_faces(cells)[0])


def skin_heat(modes: HeatModes, shapes: Floats, cells: Ints) -> SkinHeat:
    """The skin's part of the modes.

    Args:
        modes: the reduced heat balance.
        shapes: nodal temperatures of its modes, shape (N, m) [1].
        cells: of the mesh, shape (E, 8).
    """
    return SkinHeat(modes, shapes[skin_nodes(cells)].astype(np.float32))
