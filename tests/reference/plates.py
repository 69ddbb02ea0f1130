"""Plates and rods as assemblies: two mirror-image halves that meet at y = 0, the arc where they meet.

The room `heat` takes assemblies of a housing and what is welded on. Here part 0, the "housing", is the half at
y < 0 and the guest the half at y > 0. A butt joint heats both halves alike; the T-joint rule of the room gives
that share to a guest of twice the host's thickness, so that is what the guest is labelled with. What is heated
alike stays alike, so no heat crosses the seam and its conductance does not matter.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from axlewright.housing.assembly import Assembly
from axlewright.housing.part import Part, hexahedra_between
from axlewright.housing.seam import Bead, Seam, Stretch, cut_into_stretches
from axlewright.housing.section import Section
from axlewright.solid.locate import locate, temperature_rows
from axlewright.solid.mesh import Floats, HexMesh, Ints
from reference.jobs import plain_tube, strip

BARE = np.zeros((0, 4), dtype=np.int64)


@dataclass(frozen=True)
class Halves:
    """Two halves of a plate.

    Args:
        x: grid lines along the joint [m].
        y: grid lines from the joint at 0 outwards [m].
        thickness: of the plate, z from minus to plus half of it [m].
        bare_from: faces are bare to the air, or to a fixture, from this distance off the joint outwards [m].
        faces: how many of the two faces are: 0, 1 or 2.
    """

    x: Floats
    y: Floats
    thickness: float
    bare_from: float = 0.0
    faces: int = 0

    def part(self, side: float, label: float) -> Part:
        """One half, at y < 0 for side -1."""
        x, y = np.meshgrid(self.x, side * self.y, indexing="ij")
        upper, lower = (
            np.stack([x, y, np.full_like(x, z)], -1) for z in self.thickness * np.array([0.5, -0.5])
        )
        mesh, top, bottom = hexahedra_between(upper, lower, closed=False)
        bare = np.concatenate([BARE, top, bottom][: 1 + self.faces])
        kept = np.abs(mesh.nodes[bare, 1]).min(axis=1) >= self.bare_from - 1e-9
        return Part(f"half at {side:+.0f}", "S355", mesh, bare[kept], label)

    def joined(self, path: Floats, normal: tuple[float, float, float], beads: int = 1) -> Assembly:
        """Both halves with one seam on y = 0, cut into beads of one length.

        Args:
            path: ends of the seam, shape (2, 3) [m].
            normal: a direction square to the seam.
            beads: number of beads.
        """
        directions = np.tile(normal, (2, 1)).astype(float), np.tile([0.0, 1.0, 0.0], (2, 1))
        seam = Seam("half", "bracket", "joint", 0, 1, path, *directions)
        marks = np.linspace(0.0, seam.length, beads + 1)
        laid = tuple(Bead(0, float(a), float(b)) for a, b in pairwise(marks))
        halves = self.part(-1.0, self.thickness), self.part(1.0, 2 * self.thickness)
        return joined(halves, (seam,), laid, self.thickness)


def joined(
    parts: tuple[Part, Part], seams: tuple[Seam, ...], beads: tuple[Bead, ...], wall: float
) -> Assembly:
    """An assembly of two parts; the section lends the host its wall thickness."""
    shift = len(parts[0].mesh.nodes)
    nodes = np.concatenate([part.mesh.nodes for part in parts])
    cells, faces = (
        np.concatenate([first, second + shift])
        for first, second in ((p.mesh.cells for p in parts), (p.airy_faces for p in parts))
    )
    owner = np.repeat([0, 1], [len(part.mesh.cells) for part in parts])
    section = Section(plain_tube(strip(), wall=1e3 * wall).housing)
    return Assembly(section, parts, seams, (), beads, _whole(beads), HexMesh(nodes, cells), owner, faces)


def _whole(beads: tuple[Bead, ...]) -> tuple[Stretch, ...]:
    """Stretches as the house cuts them, but a short bead alone on its seam stays one line source."""
    return tuple(
        piece
        for number, bead in enumerate(beads)
        for piece in (
            (Stretch(bead.seam, number, bead.start, bead.end),)
            if bead.length < 0.03
            else tuple(s for s in cut_into_stretches(beads) if s.bead == number)
        )
    )


def through_the_thickness(thickness: float) -> Floats:
    """A seam at the origin from the lower to the upper face: heat into it is a line source."""
    return np.array([[0.0, 0.0, -thickness / 2], [0.0, 0.0, thickness / 2]])


def beads_of(assembly: Assembly) -> Ints:
    """Bead number of every stretch."""
    return np.array([stretch.bead for stretch in assembly.stretches])


def readings(assembly: Assembly, points: Floats) -> Floats:
    """Rows that read the temperature at points of the guest half, shape (P, N)."""
    return temperature_rows(assembly.mesh, locate(assembly.mesh, points, assembly.cells_of(1))).toarray()
