"""The bare housing as one swept mesh: tubes, centre and knuckle flanges."""

from __future__ import annotations

import numpy as np

from axlewright.housing.part import Part, evenly, hexahedra_between
from axlewright.housing.section import Section
from axlewright.job.schema import Housing
from axlewright.solid.mesh import Flags, Floats, HexMesh, Ints

AROUND = 24
"""Cells round the section; a tube of 89 mm gets cells about 12 mm wide."""

FACETS = float((6 * np.pi / (AROUND * np.sin(2 * np.pi / AROUND) * (2 + np.cos(2 * np.pi / AROUND)))) ** 0.25)
"""How much larger than the skin the mesh's polygon is drawn, so that it bends like the round section: fourth root of
the ratio of the second moments, circle to regular polygon; 1.0057 for 24 sides."""

DRAWN = np.array([1.0, FACETS, FACETS])

ALONG = 0.013
"""Longest cell along the axle [m]."""

ALONG_CORNER = 0.007
"""Longest cell where the tube runs into the centre [m]."""

RIM = 0.03
"""Width of the carrier's flange round the opening [m]; it is taken twice as thick as the wall."""

FLANGE_RAMP = 0.002
"""Length over which the skin steps up to the knuckle flange [m]."""


def housing_part(housing: Housing) -> Part:
    """Mesh the bare housing.

    Raises:
        ValueError: the dimensions turn a hexahedron inside out.
    """
    section = Section(housing)
    stations, flanged = _stations(section)
    angles = np.linspace(0.0, 2 * np.pi, AROUND, endpoint=False)
    outer = _outer_grid(section, stations, flanged, angles)
    inner = _inner_grid(section, stations, flanged, angles)
    mesh, skin, _ = hexahedra_between(outer, inner, closed=True)
    kept = ~_in_opening(housing, mesh)
    mesh = HexMesh(mesh.nodes, mesh.cells[kept])
    mesh, (skin,) = _without_loose_nodes(mesh, (skin[kept],))
    return Part("housing", housing.steel, mesh, skin, housing.left_tube.wall, _cast_cells(section, mesh))


def _stations(section: Section) -> tuple[Floats, Flags]:
    """Stations along the axle [m] and, for each, whether it stands on a knuckle flange."""
    half, centre = section.half_length, section.housing.centre
    face = half - section.housing.knuckle_flange.thickness
    corner_from, corner_to = 0.38 * centre.width, 0.54 * centre.width
    marks = [-face + FLANGE_RAMP]
    steps = []
    for mark, step in (
        (section.middle - corner_to, ALONG),
        (section.middle - corner_from, ALONG_CORNER),
        (section.middle + corner_from, ALONG),
        (section.middle + corner_to, ALONG_CORNER),
        (face - FLANGE_RAMP, ALONG),
    ):
        if mark > marks[-1]:
            steps.append((marks[-1], mark, step))
            marks.append(mark)
    run = np.concatenate([evenly(a, b, step)[:-1] for a, b, step in steps])
    stations = np.concatenate([[-half, -face], run, [face - FLANGE_RAMP, face, half]])
    return stations, np.abs(stations) >= face - 1e-9


def _outer_grid(section: Section, stations: Floats, flanged: Flags, angles: Floats) -> Floats:
    grid = section.point(stations[:, None], angles[None, :]) * DRAWN
    radius = section.housing.knuckle_flange.diameter / 2
    grid[flanged, :, 1] = radius * np.sin(angles)
    grid[flanged, :, 2] = radius * np.cos(angles)
    return grid


def _inner_grid(section: Section, stations: Floats, flanged: Flags, angles: Floats) -> Floats:
    skin = section.point(stations[:, None], angles[None, :])
    wall = section.wall(stations)[:, None] * np.where(_on_rim(section.housing, skin), 2.0, 1.0)
    inner = (skin - wall[:, :, None] * section.outward(skin)) * DRAWN
    bore = FACETS * (section.tube_radius(stations) - section.tube_wall(stations))[flanged]
    inner[flanged, :, 1] = bore[:, None] * np.sin(angles)
    inner[flanged, :, 2] = bore[:, None] * np.cos(angles)
    return inner


def _in_opening(housing: Housing, mesh: HexMesh) -> Flags:
    """Cells that the opening for the carrier leaves out, as a mask."""
    return _within(housing, mesh.cell_coordinates.mean(axis=1), 0.0)


def _on_rim(housing: Housing, skin: Floats) -> Flags:
    """Points of the skin that lie on the carrier's flange, as a mask."""
    return _within(housing, skin, RIM) & ~_within(housing, skin, -RIM)


def _within(housing: Housing, points: Floats, margin: float) -> Flags:
    """Points within the opening's radius plus a margin [m], on the opening's side, as a mask."""
    centre = housing.centre
    if centre.opening_diameter is None:
        return np.zeros(points.shape[:-1], dtype=bool)
    side = 1.0 if centre.opening_side == "front" else -1.0
    distance = np.hypot(points[..., 0] - centre.offset, points[..., 2])
    return (distance < centre.opening_diameter / 2 + margin) & (side * points[..., 1] > 0)


def _without_loose_nodes(mesh: HexMesh, faces: tuple[Ints, ...]) -> tuple[HexMesh, tuple[Ints, ...]]:
    used = np.unique(mesh.cells)
    renumber = np.full(len(mesh.nodes), -1)
    renumber[used] = np.arange(len(used))
    return HexMesh(mesh.nodes[used], renumber[mesh.cells]), tuple(renumber[f] for f in faces)


def _cast_cells(section: Section, mesh: HexMesh) -> Ints | None:
    if section.housing.family != "cast":
        return None
    middle = mesh.cell_coordinates.mean(axis=1)[:, 0]
    return np.flatnonzero(np.abs(middle - section.middle) < section.housing.centre.width / 2)
