"""Spring perches, which belong to the housing, and the spacers welded on top of them."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from axlewright.housing.part import Part, evenly
from axlewright.housing.plate import slab
from axlewright.housing.seam import Seam, arc_length
from axlewright.housing.section import Section
from axlewright.job.schema import Perch, Spacer
from axlewright.solid.mesh import Floats

CELL = 0.02
"""Longest cell of a perch or spacer [m]."""

SADDLE = 0.8
"""Share of the tube's radius over which the perch sits on the tube."""


def perch_part(section: Section, perch: Perch) -> Part:
    """Mesh a perch as a solid saddle from the tube's skin to its flat top."""
    x, y = _grid(section, perch, perch.length, perch.width)
    reach = SADDLE * section.tube_radius(x)
    bottom = section.top_at(x, np.clip(y, -reach, reach))
    top = np.full_like(x, perch.height)
    upper, lower = (np.stack([x, y, z], axis=-1) for z in (top, bottom))
    stands = perch.height - float(section.tube_radius(x).mean())
    return slab(perch.name, section.housing.steel, upper, lower, stands)


def perch_ties(section: Section, perch: Perch) -> Floats:
    """Points where the perch is joined to the tube by its maker's weld, shape (P, 3) [m]."""
    centre = section.half_length - perch.at
    along = centre + np.linspace(-0.45, 0.45, 7) * perch.length
    across = np.array([-0.95, 0.0, 0.95]) * SADDLE
    x, share = np.meshgrid(along, across, indexing="ij")
    y = np.clip(share * section.tube_radius(x), -0.45 * perch.width, 0.45 * perch.width)
    return np.stack([x, y, section.top_at(x, y)], axis=-1).reshape(-1, 3)


def spacer_part(section: Section, spacer: Spacer, perch: Perch) -> Part:
    """Mesh a spacer: a flat plate on the perch's top."""
    x, y = _grid(section, perch, spacer.length, spacer.width)
    heights = (perch.height + spacer.thickness, perch.height)
    upper, lower = (np.stack([x, y, np.full_like(x, z)], axis=-1) for z in heights)
    return slab(spacer.name, section.housing.steel, upper, lower, spacer.thickness)


def spacer_seams(section: Section, spacer: Spacer, perch: Perch, host: int, guest: int) -> tuple[Seam, ...]:
    """The all-round seam of a spacer, from its left rear corner along the rear edge first."""
    centre = section.half_length - perch.at
    corner = np.array([[1, -1], [-1, -1], [-1, 1], [1, 1], [1, -1]]) / 2 * [spacer.length, spacer.width]
    edge_normals = np.array([[0.0, -1, 0], [-1, 0, 0], [0, 1, 0], [1, 0, 0]])
    pieces = [np.linspace(a, b, 25) for a, b in pairwise(corner)]
    flat = np.concatenate([piece[:-1] for piece in pieces] + [corner[-1:]])
    path = np.column_stack([centre + flat[:, 0], flat[:, 1], np.full(len(flat), perch.height)])
    sideways = np.concatenate([np.repeat(edge_normals, 24, axis=0), edge_normals[-1:]])
    corners = tuple(float(s) for s in arc_length(path)[24:-1:24])
    up = np.tile([0.0, 0, 1], (len(path), 1))
    name = "all-round seam"
    return (Seam(spacer.name, "spacer", name, host, guest, path, up, sideways, corners=corners, closed=True),)


def _grid(section: Section, perch: Perch, length: float, width: float) -> tuple[Floats, Floats]:
    centre = section.half_length - perch.at
    x = evenly(centre + length / 2, centre - length / 2, CELL)
    x, y = np.meshgrid(x, evenly(-width / 2, width / 2, CELL), indexing="ij")
    return x, y
