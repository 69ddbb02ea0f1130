"""What is measured on the housing: rows on the displacements that give axis points and flange rotations."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse import csr_array

from axlewright.heat.system import housing_nodes
from axlewright.housing.assembly import Assembly
from axlewright.solid.mesh import Floats, Ints

AXIS_POINTS = 27
"""Number of sections at which the axis is followed."""


@dataclass(frozen=True)
class Readings:
    """Where the axis is followed and the rows that read it.

    Args:
        stations: x of the sections, from the left flange to the right one, shape (R,) [m].
        rows: shape (2 R + 6, 3 N): y of each section, z of each section, then rotations about
            x, y, z of the left flange and of the right one [rad].
    """

    stations: Floats
    rows: csr_array


def readings(assembly: Assembly) -> Readings:
    """Rows that read the housing's axis and its flanges."""
    nodes = housing_nodes(assembly)
    places = assembly.mesh.nodes[nodes]
    rings = _rings(assembly, places)
    stations = np.array([places[ring, 0].mean() for ring in rings])
    width = 3 * len(assembly.mesh.nodes)
    rows = [_mean(nodes[ring], axis, width) for axis in (1, 2) for ring in rings]
    for ring in (rings[0], rings[-1]):
        rows += _rotations(nodes[ring], places[ring], width)
    return Readings(stations, csr_array(np.array(rows)))


def section_middles(assembly: Assembly) -> Floats:
    """Middle of what is read at each section, y and z, shape (2, R) [m]: off the axis where the section has a hole."""
    places = assembly.mesh.nodes[housing_nodes(assembly)]
    return np.array([places[ring, 1:].mean(axis=0) for ring in _rings(assembly, places)]).T


def _rings(assembly: Assembly, places: Floats) -> list[Ints]:
    """Nodes of each section, from left to right."""
    wanted = np.linspace(1, -1, AXIS_POINTS) * assembly.section.half_length
    return [_ring(places, x) for x in wanted]


def _ring(places: Floats, x: float) -> Ints:
    distance = np.abs(places[:, 0] - x)
    return np.flatnonzero(distance < distance.min() + 2e-3)


def _mean(nodes: Ints, axis: int, width: int) -> Floats:
    row = np.zeros(width)
    row[3 * nodes + axis] = 1.0 / len(nodes)
    return row


def _rotations(nodes: Ints, places: Floats, width: int) -> list[Floats]:
    """Least-squares rotation of a flat ring: about x from its plane, about y and z from the tilt of its face."""
    y, z = (places[:, axis] - places[:, axis].mean() for axis in (1, 2))
    about_x, about_y, about_z = (np.zeros(width) for _ in range(3))
    about_x[3 * nodes + 2], about_x[3 * nodes + 1] = y / np.sum(y**2 + z**2), -z / np.sum(y**2 + z**2)
    about_y[3 * nodes] = z / np.sum(z**2)
    about_z[3 * nodes] = -y / np.sum(y**2)
    return [about_x, about_y, about_z]
