"""A mesh of 8-node hexahedra."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True)
class HexMesh:
    """Nodes and cells of a hexahedral mesh.

    Args:
        nodes: coordinates, shape (N, 3) [m].
        cells: node numbers, shape (E, 8), in VTK order (bottom face anticlockwise seen from
            above, then the top face), so that every Jacobian is positive.
    """

    nodes: Floats
    cells: Ints

    @property
    def cell_coordinates(self) -> Floats:
        """Corner coordinates of each cell, shape (E, 8, 3) [m]."""
        return self.nodes[self.cells]
