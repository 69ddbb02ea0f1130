"""One meshed piece of steel."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axlewright.solid.mesh import Floats, HexMesh, Ints

HOUSING = 0
"""Number of the part that is the housing itself."""


@dataclass(frozen=True)
class Part:
    """A piece of steel meshed with one layer of hexahedra.

    Args:
        name: as in the job file, or "housing".
        grade: steel grade or casting kind, from which stiffness and strength follow.
        mesh: its hexahedra [m].
        airy_faces: node numbers of faces that lose heat to the air, shape (F, 4).
        thickness: wall or plate thickness [m].
        cast_cells: numbers of the cells that belong to a casting, or None.
    """

    name: str
    grade: str
    mesh: HexMesh
    airy_faces: Ints
    thickness: float
    cast_cells: Ints | None = None


def hexahedra_between(outer: Floats, inner: Floats, closed: bool) -> tuple[HexMesh, Ints, Ints]:
    """Hexahedra between two matching grids of points.

    Args:
        outer: points of the outer face, shape (U, V, 3) [m].
        inner: points of the inner face, same shape [m].
        closed: True where the last row in V joins the first.

    Returns:
        The mesh, the outer and the inner faces as node numbers, shape (U-1)*(V or V-1) by 4.

    Raises:
        ValueError: a hexahedron is turned inside out.
    """
    rows, columns = outer.shape[:2]
    number = np.arange(rows * columns).reshape(rows, columns)
    if closed:
        number = np.concatenate([number, number[:, :1]], axis=1)
    quads = np.stack([number[:-1, :-1], number[1:, :-1], number[1:, 1:], number[:-1, 1:]], axis=-1).reshape(
        -1, 4
    )
    nodes = np.concatenate([outer.reshape(-1, 3), inner.reshape(-1, 3)])
    inner_quads = quads + rows * columns
    cells = _right_way_round(nodes, np.concatenate([inner_quads, quads], axis=1))
    return HexMesh(nodes, cells), quads, inner_quads


def _right_way_round(nodes: Floats, cells: Ints) -> Ints:
    corner = nodes[cells]
    edges = corner[:, [1, 3, 4]] - corner[:, [0]]
    volume = np.einsum("ei,ei->e", np.cross(edges[:, 0], edges[:, 1]), edges[:, 2])
    if np.all(volume > 0):
        return cells
    if np.all(volume < 0):
        return cells[:, [4, 5, 6, 7, 0, 1, 2, 3]]
    raise ValueError(f"{int(np.sum(volume > 0))} of {len(cells)} hexahedra are turned inside out")


def evenly(start: float, end: float, longest: float) -> Floats:
    """Points from start to end in equal steps no longer than `longest`, both ends included."""
    steps = max(1, int(np.ceil(abs(end - start) / longest - 1e-9)))
    return np.linspace(start, end, steps + 1)
