"""Outer faces of hexahedra and the areas that belong to their nodes."""

from __future__ import annotations

import numpy as np

from axlewright.solid.mesh import Floats, Ints
from axlewright.solid.shape import gauss_line

#: Corners of each local face, outward normal by the right hand: -x, +x, -y, +y, -z, +z of the natural cube.
FACE_CORNERS: Ints = np.array(
    [[0, 4, 7, 3], [1, 2, 6, 5], [0, 1, 5, 4], [3, 7, 6, 2], [0, 3, 2, 1], [4, 5, 6, 7]],
    dtype=np.int64,
)
_QUAD_CORNERS: Floats = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]], dtype=np.float64)


def quad_areas(points: Floats) -> Floats:
    """Area of 4-node faces, lumped to their nodes.

    Equation: A_a = integral of N_a |dx/dxi x dx/deta| by 2 x 2 Gauss points.
    Validity: exact for plane faces, approximate for warped ones; the normal may point either way.

    Args:
        points: corners in order round each face, shape (Q, 4, 3) [m].

    Returns:
        Nodal areas, shape (Q, 4) [m2].
    """
    line, _ = gauss_line(2)
    grid = np.stack(np.meshgrid(line, line, indexing="ij"), axis=-1).reshape(-1, 2)
    factors = (1 + grid[:, None, :] * _QUAD_CORNERS) / 2
    along = np.einsum("ga,qai->qgi", factors[:, :, 1] * _QUAD_CORNERS[:, 0] / 2, points)
    across = np.einsum("ga,qai->qgi", factors[:, :, 0] * _QUAD_CORNERS[:, 1] / 2, points)
    sizes = np.linalg.norm(np.cross(along, across), axis=2)
    areas: Floats = sizes @ factors.prod(axis=2)
    return areas


def boundary_faces(cells: Ints) -> tuple[Ints, Ints, Ints]:
    """Faces that belong to one cell only.

    Args:
        cells: node numbers in VTK order, shape (E, 8).

    Returns:
        Node numbers with the normal outward, shape (F, 4); the cell of each face, shape (F,); and its local
        face number in FACE_CORNERS, shape (F,).
    """
    faces = cells[:, FACE_CORNERS].reshape(-1, 4)
    _, inverse, counts = np.unique(np.sort(faces, axis=1), axis=0, return_inverse=True, return_counts=True)
    outer = np.flatnonzero(counts[inverse.ravel()] == 1)
    return faces[outer], outer // len(FACE_CORNERS), outer % len(FACE_CORNERS)
