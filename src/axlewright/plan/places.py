"""Where beads and stretches are in space, and how far apart."""

from __future__ import annotations

import numpy as np

from axlewright.housing.assembly import Assembly
from axlewright.solid.mesh import Floats, Ints


def stretch_middles(assembly: Assembly) -> Floats:
    """Middle points of all stretches, shape (S, 3) [m]."""
    seams = assembly.seams
    return np.array([seams[s.seam].at(seams[s.seam].path, np.array(s.middle)) for s in assembly.stretches])


def bead_middles(assembly: Assembly) -> Floats:
    """Middle points of all beads, shape (B, 3) [m]."""
    seams = assembly.seams
    return np.array(
        [seams[b.seam].at(seams[b.seam].path, np.array((b.start + b.end) / 2)) for b in assembly.beads]
    )


def distances(points: Floats) -> Floats:
    """Straight-line distances between all points, shape (P, P) [m]."""
    return np.linalg.norm(points[:, None] - points[None, :], axis=-1)


def farthest_first(distance: Floats, side: Ints, start: int) -> list[int]:
    """Order things so that each is far from all done before, changing side each time where possible.

    The trade's rule: as far from the last as possible, the third between the first two, change side. Equal
    distances are settled by the distance to the last one, then by number, so that the order is repeatable.

    Args:
        distance: between all things, shape (P, P) [m].
        side: number of the side (seam) each lies on, shape (P,).
        start: the first one.
    """
    order, left = [start], set(range(len(side))) - {start}
    while left:
        other = [n for n in sorted(left) if side[n] != side[order[-1]]] or sorted(left)
        order.append(max(other, key=lambda n: _farness(distance, order, n)))
        left.remove(order[-1])
    return order


def _farness(distance: Floats, done: list[int], candidate: int) -> tuple[float, float, int]:
    to_done = distance[candidate, done]
    return round(float(to_done.min()), 3), round(float(to_done[-1]), 3), -candidate
