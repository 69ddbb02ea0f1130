"""A truss: plate webs standing on the housing's top, single or folded to a box."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from axlewright.housing.part import Part, evenly
from axlewright.housing.plate import ROWS, folded_plate, standing_plate
from axlewright.housing.seam import Seam, arc_length
from axlewright.housing.section import Section
from axlewright.job.outline import BRIDGE_RAMP
from axlewright.job.schema import Truss
from axlewright.solid.mesh import Floats

ALONG = 0.013
"""Longest cell along the truss [m]."""


def truss_part(section: Section, truss: Truss) -> Part:
    """Mesh a truss."""
    return _box(section, truss) if truss.form == "box" else _single_web(section, truss)


def truss_seams(section: Section, truss: Truss, host: int, guest: int) -> tuple[Seam, ...]:
    """The two seams of a truss, along the front and the rear of its lower edge.

    A box is welded along the outside of its two webs, a single web along both faces of the one. The
    bridged part of a truss that clears the centre is an opening of the seam.
    """
    x = evenly(*_ends(section, truss), 0.002)
    return tuple(_seam(section, truss, x, side, host, guest) for side in (1.0, -1.0))


def _ends(section: Section, truss: Truss) -> tuple[float, float]:
    """Both ends as x [m], the end nearer the left flange first, so that arc length runs as the tape does."""
    return section.half_length - truss.start, section.half_length - truss.end


def _stations(section: Section, truss: Truss) -> Floats:
    """Stations of the mesh along the truss, with one at every corner of a bridging lower edge, x [m]."""
    begin, end = _ends(section, truss)
    half, marks = section.housing.centre.width / 2, [begin, end]
    if truss.clear_of_centre is not None:
        marks += [section.middle + side * (half + ramp) for side in (1, -1) for ramp in (0.0, BRIDGE_RAMP)]
    marks = sorted({mark for mark in marks if end <= mark <= begin}, reverse=True)
    return np.concatenate([evenly(a, b, ALONG)[:-1] for a, b in pairwise(marks)] + [[end]])


def _width(truss: Truss) -> float:
    return truss.thickness if truss.width is None else truss.width


def _top(section: Section, truss: Truss, x: Floats) -> Floats:
    distance, height = np.array(truss.top).T
    return np.interp(section.half_length - x, distance, height)


def _lower_edge(section: Section, truss: Truss, x: Floats) -> Floats:
    """Height of the lower edge at the web's outer face [m]."""
    on_skin = section.top_at(x, _width(truss) / 2)
    if truss.clear_of_centre is None:
        return on_skin
    half = section.housing.centre.width / 2
    bridge = section.housing.centre.height / 2 + truss.clear_of_centre
    rise = np.clip((half + BRIDGE_RAMP - np.abs(x - section.middle)) / BRIDGE_RAMP, 0.0, 1.0)
    return np.where(
        rise > 0, np.maximum(on_skin, section.tube_radius(x) * (1 - rise) + bridge * rise), on_skin
    )


def _single_web(section: Section, truss: Truss) -> Part:
    x = _stations(section, truss)
    flat = np.zeros_like(x)
    lower = np.stack([x, flat, _lower_edge(section, truss, x)], axis=-1)
    upper = np.stack([x, flat, _top(section, truss, x)], axis=-1)
    return standing_plate(
        truss.name, section.housing.steel, lower, upper, np.array([0.0, 1, 0]), truss.thickness
    )


def _box(section: Section, truss: Truss) -> Part:
    x = _stations(section, truss)
    low, top = _lower_edge(section, truss, x), _top(section, truss, x)
    outer = _profile(x, low, top, _width(truss) / 2)
    inner = _profile(x, low, top - truss.thickness, _width(truss) / 2 - truss.thickness)
    return folded_plate(truss.name, section.housing.steel, outer, inner, truss.thickness)


def _profile(x: Floats, low: Floats, top: Floats, half_width: float) -> Floats:
    """Up the front web, across the top, down the rear web, shape (len(x), 3*ROWS+1, 3) [m]."""
    up = np.linspace(0.0, 1.0, ROWS + 1)
    share = np.concatenate([up, np.ones(ROWS - 1), up[::-1]])
    across = np.concatenate([np.ones(ROWS), np.linspace(1, -1, ROWS + 1), -np.ones(ROWS)])
    z = low[:, None] + (top - low)[:, None] * share
    return np.stack(np.broadcast_arrays(x[:, None], half_width * across, z), axis=-1)


def _seam(section: Section, truss: Truss, x: Floats, side: float, host: int, guest: int) -> Seam:
    y = side * _width(truss) / 2
    path = np.stack([x, np.full_like(x, y), section.top_at(x, y)], axis=-1)
    normal = section.outward(path)
    tangent = np.gradient(path, axis=0)
    sideways = side * np.cross(tangent, normal)
    sideways *= np.sign(sideways[:, 1:2] * side)
    sideways /= np.linalg.norm(sideways, axis=-1, keepdims=True)
    name = "front seam" if side > 0 else "rear seam"
    openings = _openings(section, truss, path, "front" if side > 0 else "rear")
    up = np.tile([0.0, 0, 1], (len(path), 1))
    return Seam(
        truss.name, "truss", name, host, guest, path, normal, sideways, openings=openings, guest_side=up
    )


def _openings(section: Section, truss: Truss, path: Floats, side: str) -> tuple[tuple[float, float], ...]:
    arc, distance = arc_length(path), section.half_length - path[:, 0]
    spans = [(o.start, o.end) for o in truss.openings if o.seam in (side, "both")]
    if truss.clear_of_centre is not None:
        middle, half = section.half_length - section.middle, section.housing.centre.width / 2 + BRIDGE_RAMP
        spans.append((middle - half, middle + half))
    return tuple(
        sorted((float(np.interp(a, distance, arc)), float(np.interp(b, distance, arc))) for a, b in spans)
    )
