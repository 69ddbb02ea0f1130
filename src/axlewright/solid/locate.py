"""Where points lie in a mesh, and what the mesh's fields are there."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse import csr_array
from scipy.spatial import cKDTree

from axlewright.solid.mesh import Floats, HexMesh, Ints
from axlewright.solid.shape import shape_gradients, shape_values

_NEWTON_STEPS = 25
_NEAREST = 64
_TRIED = 4
_STEP_LIMIT = 1.0
_REACH = 20.0


@dataclass(frozen=True)
class Location:
    """Cells and natural coordinates of points.

    Args:
        cells: cell of each point, shape (P,).
        natural: natural coordinates, unclipped, shape (P, 3) [1].
    """

    cells: Ints
    natural: Floats

    @property
    def overshoot(self) -> Floats:
        """How far each point lies outside its cell, in half cell sizes; 0 inside, shape (P,) [1]."""
        outside: Floats = np.maximum(np.abs(self.natural).max(axis=1) - 1, 0.0)
        return outside


def locate(mesh: HexMesh, points: Floats, candidates: Ints | None = None) -> Location:
    """Cell of each point and the natural coordinates in it.

    Of the 64 cells with the nearest centroids, the four that come closest by the linear map of their centre
    are solved by Newton's method on x(xi) = point, and the one with the smallest overshoot is taken. Natural
    coordinates are not clipped: a point a little off a faceted skin keeps its true position, so that rigid
    motion is reproduced exactly there.

    Validity: cells up to about ten times as long as thick.

    Args:
        mesh: the mesh.
        points: shape (P, 3) [m].
        candidates: cells to look in; all when None.

    Returns:
        The location of each point; its overshoot tells how far outside the mesh the point lies.

    Raises:
        ValueError: there is no candidate, or a point is so far from every cell tried that it has no
            natural coordinates there.
    """
    allowed = np.arange(len(mesh.cells), dtype=np.int64) if candidates is None else candidates
    if not len(allowed):
        raise ValueError("candidates is empty: give at least one cell to look in")
    cells, start = _likely(mesh, points, allowed)
    count, tried = cells.shape
    natural = _natural(
        mesh.nodes[mesh.cells[cells.ravel()]], np.repeat(points, tried, axis=0), start.reshape(-1, 3)
    ).reshape(count, tried, 3)
    rows, choice = np.arange(count), np.abs(natural).max(axis=2).argmin(axis=1)
    found = Location(cells[rows, choice], natural[rows, choice])
    lost = np.flatnonzero(~np.isfinite(found.natural).all(axis=1))
    if len(lost):
        raise ValueError(f"point {points[lost[0]]} lies too far from every cell it may belong to")
    return found


def _likely(mesh: HexMesh, points: Floats, allowed: Ints) -> tuple[Ints, Floats]:
    """Cells worth solving for each point, shape (P, k), and where to start in them, shape (P, k, 3)."""
    corners = mesh.nodes[mesh.cells[allowed]]
    centres = corners.mean(axis=1)
    inverses = np.linalg.inv(corners.transpose(0, 2, 1) @ shape_gradients(np.zeros((1, 3)))[0])
    near = cKDTree(centres).query(points, k=np.arange(1, min(_NEAREST, len(allowed)) + 1))[1]
    # Centroid distance alone misleads where cells are long and thin; natural distance does not.
    estimate = np.einsum("pkij,pkj->pki", inverses[near], points[:, None] - centres[near])
    order = np.argsort(np.abs(estimate).max(axis=2), axis=1, kind="stable")[:, :_TRIED]
    start = np.take_along_axis(estimate, order[:, :, None], axis=1)
    return allowed[np.take_along_axis(near, order, axis=1)], np.clip(start, -2.0, 2.0)


def _natural(corners: Floats, points: Floats, start: Floats) -> Floats:
    """Natural coordinates by Newton's method, infinite where it does not converge, shape (P, 3) [1]."""
    xi = start
    # Round-off of the coordinates themselves, and a share of the cell.
    tolerance = 8 * np.finfo(float).eps * np.abs(corners).max(axis=(1, 2)) + 1e-14 * np.ptp(
        corners, axis=1
    ).max(axis=1)
    for _ in range(_NEWTON_STEPS):
        residual = points - np.einsum("pa,pai->pi", shape_values(xi), corners)
        converged = np.linalg.norm(residual, axis=1) <= tolerance
        if converged.all():
            break
        jacobian = corners.transpose(0, 2, 1) @ shape_gradients(xi)
        jacobian[np.linalg.det(jacobian) == 0] = np.eye(3)
        step = np.linalg.solve(jacobian, residual[:, :, None])[:, :, 0]
        length = np.abs(step).max(axis=1, keepdims=True)
        xi = np.clip(xi + step / np.maximum(length / _STEP_LIMIT, 1.0), -_REACH, _REACH)
    residual = points - np.einsum("pa,pai->pi", shape_values(xi), corners)
    converged = np.linalg.norm(residual, axis=1) <= 100 * tolerance
    return np.where(converged[:, None], xi, np.inf)


def displacement_rows(mesh: HexMesh, location: Location) -> csr_array:
    """Interpolation of displacement.

    Args:
        mesh: the mesh with N nodes.
        location: where the P points lie.

    Returns:
        Matrix of shape (3 P, 3 N) [1], rows and columns point-major and node-major.
    """
    nodes = mesh.cells[location.cells]
    values = np.broadcast_to(shape_values(location.natural)[:, None, :], (len(nodes), 3, 8))
    columns = 3 * nodes[:, None, :] + np.arange(3)[:, None]
    return _rows(values, columns, 3 * len(mesh.nodes))


def temperature_rows(mesh: HexMesh, location: Location) -> csr_array:
    """Interpolation of temperature.

    Args:
        mesh: the mesh with N nodes.
        location: where the P points lie.

    Returns:
        Matrix of shape (P, N) [1].
    """
    return _rows(shape_values(location.natural), mesh.cells[location.cells], len(mesh.nodes))


def gradient_rows(mesh: HexMesh, location: Location) -> csr_array:
    """Displacement gradient du_i/dx_j of the compatible field (without the condensed modes).

    Args:
        mesh: the mesh with N nodes.
        location: where the P points lie.

    Returns:
        Matrix of shape (9 P, 3 N) [1/m], row 9 p + 3 i + j.
    """
    nodes = mesh.cells[location.cells]
    natural = shape_gradients(location.natural)
    jacobian = mesh.nodes[nodes].transpose(0, 2, 1) @ natural
    derivatives = (natural @ np.linalg.inv(jacobian)).transpose(0, 2, 1)
    values = np.broadcast_to(derivatives[:, None], (len(nodes), 3, 3, 8))
    columns = np.broadcast_to((3 * nodes[:, None, :] + np.arange(3)[:, None])[:, :, None], values.shape)
    return _rows(values, columns, 3 * len(mesh.nodes))


def _rows(values: Floats, columns: Ints, width: int) -> csr_array:
    """Matrix with eight entries a row."""
    numbers = np.broadcast_to(columns, values.shape).reshape(-1, 8)
    starts = np.arange(0, numbers.size + 1, 8)
    entries = (np.array(values).ravel(), np.array(numbers).ravel(), starts)
    matrix = csr_array(entries, shape=(len(numbers), width))
    matrix.sort_indices()
    return matrix
