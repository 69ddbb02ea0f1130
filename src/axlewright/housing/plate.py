"""Plates that stand on the housing's skin: truss webs, gussets, brackets."""

from __future__ import annotations

import numpy as np

from axlewright.housing.part import Part, hexahedra_between
from axlewright.solid.mesh import Floats

ROWS = 4
"""Cells over the height of a standing plate."""


def standing_plate(
    name: str, grade: str, lower: Floats, upper: Floats, facing: Floats, thickness: float
) -> Part:
    """Mesh a flat plate between a lower and an upper edge, with air on both faces.

    Args:
        name: name of the attachment.
        grade: its steel.
        lower: points of the lower edge in the plate's middle plane, shape (U, 3) [m].
        upper: points of the upper edge, same shape [m].
        facing: unit vector square to the plate, shape (3,).
        thickness: plate thickness [m].
    """
    share = np.linspace(0.0, 1.0, ROWS + 1)[None, :, None]
    middle = lower[:, None] * (1 - share) + upper[:, None] * share
    half = facing * thickness / 2
    mesh, one, other = hexahedra_between(middle + half, middle - half, closed=False)
    return Part(name, grade, mesh, np.concatenate([one, other]), thickness)


def folded_plate(name: str, grade: str, outer: Floats, inner: Floats, thickness: float) -> Part:
    """Mesh a plate folded to a box from its outer and inner faces, shape (U, V, 3) [m]; air outside only.

    The inside of a box with drain openings is nearly still air at the plate's own temperature, so it is
    taken to lose no heat.
    """
    mesh, outside, _ = hexahedra_between(outer, inner, closed=False)
    return Part(name, grade, mesh, outside, thickness)


def slab(name: str, grade: str, top: Floats, bottom: Floats, thickness: float) -> Part:
    """Mesh a block or flat plate between a top and a bottom grid, shape (U, V, 3) [m]; air on top."""
    mesh, above, _ = hexahedra_between(top, bottom, closed=False)
    return Part(name, grade, mesh, above, thickness)
