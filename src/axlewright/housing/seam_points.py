"""Points along the seams, located in the meshes of the two parts that meet there."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axlewright.housing.assembly import Assembly
from axlewright.solid.locate import Location, locate
from axlewright.solid.mesh import Floats, Ints

SAMPLES = np.array([1, 3, 5]) / 6
"""Where a stretch is sampled, as shares of its length: the midpoint rule with three equal pieces."""


@dataclass(frozen=True)
class SeamPoints:
    """Points on seams and the directions there.

    Args:
        host: where they lie in the part welded to.
        guest: where they lie in the part welded on.
        along: unit vectors along the seam, shape (P, 3).
        normal: unit vectors out of the host, shape (P, 3).
        weld_side: unit vectors along the skin toward the fillet, shape (P, 3).
    """

    host: Location
    guest: Location
    along: Floats
    normal: Floats
    weld_side: Floats


def sample_points(assembly: Assembly) -> SeamPoints:
    """Three points on every stretch, stretch by stretch, shape P = 3 S."""
    seams, arcs = _numbers_and_arcs(assembly, SAMPLES)
    return seam_points(assembly, seams, arcs)


def end_points(assembly: Assembly) -> SeamPoints:
    """Both ends of every stretch, stretch by stretch, shape P = 2 S."""
    seams, arcs = _numbers_and_arcs(assembly, np.array([0.0, 1.0]))
    return seam_points(assembly, seams, arcs)


def _numbers_and_arcs(assembly: Assembly, shares: Floats) -> tuple[Ints, Floats]:
    arcs = np.array([s.start + shares * s.length for s in assembly.stretches])
    seams = np.repeat([s.seam for s in assembly.stretches], len(shares))
    return seams, arcs.ravel()


def seam_points(assembly: Assembly, seams: Ints, arcs: Floats) -> SeamPoints:
    """Locate points given by seam number and arc length [m], shapes (P,)."""
    frames = np.empty((len(seams), 4, 3))
    host, guest = (_empty(len(seams)) for _ in range(2))
    for number in np.unique(seams):
        chosen, seam = np.flatnonzero(seams == number), assembly.seams[number]
        s = arcs[chosen]
        frames[chosen, 0] = seam.at(seam.path, s)
        frames[chosen, 1] = seam.tangent(s)
        frames[chosen, 2:] = np.stack([seam.at(seam.normal, s), seam.at(seam.weld_side, s)], axis=1)
        for location, part in ((host, seam.host), (guest, seam.guest)):
            found = locate(assembly.mesh, frames[chosen, 0], assembly.cells_of(part))
            location.cells[chosen], location.natural[chosen] = found.cells, found.natural
    along, normal, weld_side = _square(frames)
    return SeamPoints(host, guest, along, normal, weld_side)


def _empty(count: int) -> Location:
    return Location(np.zeros(count, dtype=np.int64), np.zeros((count, 3)))


def _square(frames: Floats) -> tuple[Floats, Floats, Floats]:
    """Make the interpolated directions unit length and square to each other again."""
    along = frames[:, 1]
    normal = _unit(frames[:, 2] - along * np.sum(frames[:, 2] * along, axis=1, keepdims=True))
    across = np.cross(along, normal)
    across *= np.sign(np.sum(across * frames[:, 3], axis=1, keepdims=True))
    return along, normal, across


def _unit(vectors: Floats) -> Floats:
    return vectors / np.linalg.norm(vectors, axis=1, keepdims=True)
