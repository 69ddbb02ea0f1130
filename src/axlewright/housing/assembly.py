"""The whole of it: parts, seams, and the joints the maker made."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from axlewright.errors import Fault, GeometryError
from axlewright.housing.body import housing_part
from axlewright.housing.guard import guard_part, guard_seams
from axlewright.housing.gusset import bracket_part, bracket_seams, gusset_part, gusset_seams
from axlewright.housing.lines import Line, line_seam
from axlewright.housing.part import HOUSING, Part
from axlewright.housing.perch import perch_part, perch_ties, spacer_part, spacer_seams
from axlewright.housing.seam import Bead, Seam, Stretch, cut_into_beads, cut_into_stretches
from axlewright.housing.section import Section
from axlewright.housing.truss import truss_part, truss_seams
from axlewright.job.schema import Job
from axlewright.solid.mesh import Floats, HexMesh, Ints


@dataclass(frozen=True)
class Tie:
    """Points where the maker joined two parts: part numbers and points, shape (P, 3) [m]."""

    host: int
    guest: int
    points: Floats


@dataclass(frozen=True)
class Assembly:
    """Everything that gets welded together, in one mesh.

    Args:
        parts: the housing first, then perches and attachments.
        seams: where attachments are welded on.
        ties: where perches are already joined to the tube.
        beads: all seams cut into beads.
        stretches: all beads cut into stretches.
        mesh: one mesh of all parts; parts share no nodes.
        part_of_cell: part number of every cell, shape (E,).
        airy_faces: faces that lose heat to the air, shape (F, 4).
    """

    section: Section
    parts: tuple[Part, ...]
    seams: tuple[Seam, ...]
    ties: tuple[Tie, ...]
    beads: tuple[Bead, ...]
    stretches: tuple[Stretch, ...]
    mesh: HexMesh
    part_of_cell: Ints
    airy_faces: Ints

    def cells_of(self, part: int) -> Ints:
        """Numbers of the cells of one part."""
        return np.flatnonzero(self.part_of_cell == part)


def assemble_job(job: Job, lines: tuple[Line, ...] = ()) -> Assembly:
    """Mesh everything in a job and cut its seams into beads.

    Args:
        job: the job.
        lines: counter-beads and heat lines on the bare tube; their seams and beads come last.

    Raises:
        GeometryError: the dimensions turn some part inside out.
    """
    section = Section(job.housing)
    parts, seams, ties = [_meshed("housing", housing_part, job.housing)], [], []
    number_of_perch = {}
    for perch in job.housing.perches:
        number_of_perch[perch.name] = len(parts)
        ties.append(Tie(HOUSING, len(parts), perch_ties(section, perch)))
        parts.append(_meshed(perch.name, perch_part, section, perch))
    for attachment, make_part, make_seams, *extra in _attachments(job):
        host = number_of_perch[extra[0].name] if extra else HOUSING
        seams.extend(make_seams(section, attachment, *extra, host, len(parts)))
        parts.append(_meshed(attachment.name, make_part, section, attachment, *extra))
    seams.extend(line_seam(section, line) for line in lines)
    return _joined(section, tuple(parts), tuple(seams), tuple(ties), job.welder.bead_length)


def _attachments(job: Job) -> list[tuple[Any, ...]]:
    """Every attachment with the functions that make its part and seams, in the order of the trade."""
    perches = {perch.name: perch for perch in job.housing.perches}
    return [
        *((truss, truss_part, truss_seams) for truss in job.trusses),
        *((guard, guard_part, guard_seams) for guard in job.guards),
        *((spacer, spacer_part, spacer_seams, perches[spacer.perch]) for spacer in job.spacers),
        *((gusset, gusset_part, gusset_seams) for gusset in job.gussets),
        *((bracket, bracket_part, bracket_seams) for bracket in job.brackets),
    ]


def _meshed(name: str, make: Callable[..., Part], *arguments: Any) -> Part:
    try:
        return make(*arguments)
    except ValueError as error:
        allowed = "its dimensions must leave a body with no part folded over itself"
        remedy = f"Check the heights, widths and thicknesses of {name!r} against the tape ({error})"
        raise GeometryError(Fault(name, "", allowed, remedy)) from error


def _joined(
    section: Section, parts: tuple[Part, ...], seams: tuple[Seam, ...], ties: tuple[Tie, ...], longest: float
) -> Assembly:
    shift = np.cumsum([0] + [len(part.mesh.nodes) for part in parts])
    nodes = np.concatenate([part.mesh.nodes for part in parts])
    cells = np.concatenate([part.mesh.cells + s for part, s in zip(parts, shift[:-1], strict=True)])
    faces = np.concatenate([part.airy_faces + s for part, s in zip(parts, shift[:-1], strict=True)])
    owner = np.repeat(np.arange(len(parts)), [len(part.mesh.cells) for part in parts])
    beads = cut_into_beads(seams, longest)
    stretches = cut_into_stretches(beads)
    return Assembly(section, parts, seams, ties, beads, stretches, HexMesh(nodes, cells), owner, faces)
