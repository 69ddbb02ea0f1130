"""Condense the assembly to its seams: a compliance matrix of a few hundred rows.

The base structure is all parts, held in place without stress (six ground springs), with the maker's own
joints and a faint foundation along every seam, far softer than a bead, that only keeps loose attachments from
floating. Tacks and beads are added later as springs.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse import csc_array, csr_array, diags_array, vstack

from axlewright.distortion.functionals import SPRINGS, seam_rows, spring_stiffness, unit_rows
from axlewright.distortion.readings import Readings, readings
from axlewright.housing.assembly import Assembly
from axlewright.solid.assembly import assemble, assemble_rectangular
from axlewright.solid.factor import Factor
from axlewright.solid.hexahedron import stiffness, thermal_load
from axlewright.solid.locate import displacement_rows, locate
from axlewright.solid.mesh import Floats
from axlewright.weld.steel import casting, steel

FOUNDATION = np.array([6e6, 6e6, 6e6, 40.0])
"""Faint seam foundation [N/m2, N/m2, N/m2, N/rad]: about a ten-thousandth of a 4 mm fillet."""

TIE_STIFFNESS = 2e9
"""Stiffness of each point where the maker joined a perch [N/m]: a full fillet over some 30 mm."""

GROUND_STIFFNESS = 1e8
"""Stiffness of the six ground springs [N/m]; they carry nothing, so the value is free."""

BLOCK = 512
"""Right-hand sides solved at once; bounds peak memory."""


@dataclass(frozen=True)
class FullModel:
    """The base structure in full: stiffness (3N, 3N), thermal load (3N, N), rows (n, 3N) and what they read."""

    stiffness: csc_array
    thermal_load: csr_array
    rows: csr_array
    readings: Readings
    stretches: int


@dataclass(frozen=True)
class Condensed:
    """The base structure seen from its rows.

    Args:
        compliance: response of every row to a unit pull at every row, shape (n, n).
        thermal: response of every row to every thermal mode, shape (n, m).
    """

    compliance: Floats
    thermal: Floats


def full_model(assembly: Assembly) -> FullModel:
    """Assemble the base structure of a job."""
    mesh = assembly.mesh
    youngs, poisson, expansion = _elastic(assembly)
    size = 3 * len(mesh.nodes)
    corners = mesh.cell_coordinates
    parts = assemble(mesh.cells, stiffness(corners, youngs, poisson), size, 3)
    load = assemble_rectangular(
        mesh.cells, thermal_load(corners, youngs, poisson, expansion), len(mesh.nodes)
    )
    seams, read = seam_rows(assembly), readings(assembly)
    springs = seams[: SPRINGS * len(assembly.stretches)]
    faint = springs.T @ spring_stiffness(assembly, FOUNDATION) @ springs
    base = csc_array(parts + faint + _ties(assembly) + _ground(assembly))
    return FullModel(base, load, csr_array(vstack([seams, read.rows])), read, len(assembly.stretches))


def condense(model: FullModel, mode_shapes: Floats) -> Condensed:
    """Solve for every row and keep only what the rows see.

    Args:
        model: the base structure.
        mode_shapes: nodal temperatures of the thermal modes, shape (N, m).
    """
    factor = Factor(model.stiffness)
    rows, load = model.rows, model.thermal_load @ mode_shapes
    compliance = np.empty((rows.shape[0],) * 2)
    thermal = np.empty((rows.shape[0], mode_shapes.shape[1]))
    for start in range(0, rows.shape[0], BLOCK):
        block = slice(start, min(start + BLOCK, rows.shape[0]))
        answer = factor.solve(rows[block].toarray().T)
        compliance[:, block] = rows @ answer
        thermal[block] = answer.T @ load
    return Condensed((compliance + compliance.T) / 2, thermal)


def _elastic(assembly: Assembly) -> tuple[Floats, Floats, Floats]:
    """Young's modulus [Pa], Poisson's ratio [1] and expansion [1/K] of every cell, each shape (E,)."""
    values = []
    for part in assembly.parts:
        material = steel(part.grade)
        columns = np.tile([material.youngs, material.poisson, material.expansion], (len(part.mesh.cells), 1))
        kind = assembly.section.housing.centre.casting
        if part.cast_cells is not None and kind is not None:
            cast = casting(kind)
            columns[part.cast_cells] = [cast.youngs, cast.poisson, cast.expansion]
        values.append(columns)
    youngs, poisson, expansion = np.concatenate(values).T
    return youngs, poisson, expansion


def _ties(assembly: Assembly) -> csc_array:
    total = csc_array((3 * len(assembly.mesh.nodes),) * 2)
    for tie in assembly.ties:
        host, guest = (
            displacement_rows(assembly.mesh, locate(assembly.mesh, tie.points, assembly.cells_of(part)))
            for part in (tie.host, tie.guest)
        )
        jump = guest - host
        total = total + TIE_STIFFNESS * (jump.T @ jump)
    return csc_array(total)


def _ground(assembly: Assembly) -> csc_array:
    """Hold the housing without stress: three directions at one point, two at another, one at a third."""
    places = assembly.parts[0].mesh.nodes
    reach, radius = (
        0.6 * assembly.section.half_length,
        assembly.section.housing.left_tube.outside_diameter / 2,
    )
    corners = np.array([[reach, 0, -radius], [-reach, 0, -radius], [reach, 0, radius]])
    nodes = [int(np.argmin(np.linalg.norm(places - corner, axis=1))) for corner in corners]
    held = [
        3 * nodes[0],
        3 * nodes[0] + 1,
        3 * nodes[0] + 2,
        3 * nodes[1] + 1,
        3 * nodes[1] + 2,
        3 * nodes[2] + 1,
    ]
    rows = unit_rows(held, 3 * len(assembly.mesh.nodes))
    return csc_array(rows.T @ diags_array(np.full(6, GROUND_STIFFNESS)) @ rows)
