"""The skin as a picture draws it: faces, where it is smooth, and its edges."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from axlewright.solid.mesh import Flags, Floats, HexMesh, Ints
from axlewright.solid.surface import boundary_faces

CREASE = 35.0
"""Two faces that meet at a greater angle have an edge between them [deg]; a tube of 24 sides bends by 15."""


@dataclass(frozen=True)
class Surface:
    """The closed skin of all parts.

    Args:
        nodes: numbers in the mesh of the V skin nodes, in rising order, shape (V,).
        corner_node: skin node of every corner; a node on an edge has a corner for each side of it, shape (C,).
        faces: corners of each face, the normal outward by the right hand, shape (F, 4).
        edges: skin nodes at both ends of every edge, shape (G, 2).
    """

    nodes: Ints
    corner_node: Ints
    faces: Ints
    edges: Ints


def surface_of(mesh: HexMesh) -> Surface:
    """The skin of a mesh."""
    quads, _, _ = boundary_faces(mesh.cells)
    nodes = np.unique(quads)
    quads = np.searchsorted(nodes, quads)
    places = mesh.nodes[nodes]
    pairs, sides = _shared(quads)
    smooth = _smooth(_normals(places[quads]), sides)
    corner_node, faces = _corners(quads, pairs[smooth], sides[smooth])
    return Surface(nodes, corner_node, faces, _sharp_edges(quads, pairs, sides, smooth))


def _normals(corners: Floats) -> Floats:
    normals = np.cross(corners[:, 2] - corners[:, 0], corners[:, 3] - corners[:, 1])
    return normals / np.linalg.norm(normals, axis=1, keepdims=True)


def _shared(quads: Ints) -> tuple[Ints, Ints]:
    """Edges between two faces: node pairs, shape (M, 2), and the faces at either side, shape (M, 2)."""
    ends = np.sort(_edges(quads), axis=1)
    face = np.repeat(np.arange(len(quads)), 4)
    order = np.lexsort(ends.T)
    ends, face = ends[order], face[order]
    first = np.flatnonzero(np.concatenate([[True], (np.diff(ends, axis=0) != 0).any(axis=1)]))
    # Where cells touch along an edge only, four faces meet; that is an edge to be drawn and joins nothing.
    two = first[np.diff(np.append(first, len(ends))) == 2]
    return ends[two], np.stack([face[two], face[two + 1]], axis=1)


def _edges(quads: Ints) -> Ints:
    return np.stack([quads, np.roll(quads, -1, axis=1)], axis=2).reshape(-1, 2)


def _smooth(normals: Floats, sides: Ints) -> Flags:
    return np.sum(normals[sides[:, 0]] * normals[sides[:, 1]], axis=1) > np.cos(np.radians(CREASE))


def _corners(quads: Ints, pairs: Ints, sides: Ints) -> tuple[Ints, Ints]:
    """Corners of faces that meet smoothly at a node become one: its node, shape (C,), and the faces, shape (F, 4)."""
    count = quads.size
    links = []
    for end in (0, 1):
        at = [4 * sides[:, n] + np.argmax(quads[sides[:, n]] == pairs[:, [end]], axis=1) for n in (0, 1)]
        links.append(np.stack(at))
    rows, columns = np.concatenate(links, axis=1)
    joined = coo_array((np.ones(len(rows), dtype=np.int8), (rows, columns)), shape=(count, count))
    found, label = connected_components(joined, directed=False)
    node = np.empty(found, dtype=np.int64)
    node[label] = quads.ravel()
    return node, label.reshape(-1, 4).astype(np.int64)


def _sharp_edges(quads: Ints, pairs: Ints, sides: Ints, smooth: Flags) -> Ints:
    """All edges of faces less those the skin runs smoothly over."""
    every = np.unique(np.sort(_edges(quads), axis=1), axis=0)
    key = every @ [len(np.unique(quads)) + 1, 1]
    gone = pairs[smooth] @ [len(np.unique(quads)) + 1, 1]
    return every[~np.isin(key, gone)]
