"""The reduced model of a scrap tube on two supports: the housing's own mesh, heat flow and stiffness on a plain tube.

What the shop learns here is used on housings, so the tube is made of the same cells, loses heat by the same law and is
pulled by the same rows as a housing. Only what is read differs: the skin under the tube at the dial, over the line
through the skin at the supports; and the skin at the thermometer's spot.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from scipy.sparse import csr_array

from axlewright.distortion.condense import full_model
from axlewright.distortion.functionals import SPRINGS
from axlewright.heat.reduce import HeatModes, reduce_heat
from axlewright.heat.system import heat_system
from axlewright.heat.varied import HeatFactors, varied_modes
from axlewright.housing.assembly import Assembly
from axlewright.housing.body import housing_part
from axlewright.housing.lines import POINTS, Line, line_seam
from axlewright.housing.part import HOUSING
from axlewright.housing.seam import Seam, cut_into_beads, cut_into_stretches, stretches_of
from axlewright.housing.section import Section
from axlewright.job.bare_housing import Centre, Housing, KnuckleFlange, Tube
from axlewright.solid.factor import Factor
from axlewright.solid.locate import displacement_rows, locate, temperature_rows
from axlewright.solid.mesh import Floats
from axlewright.straightness.learn.trial import TrialTube

PLACE_ERROR = 0.002
"""How far off its mark a thermometer's spot usually is [m]; judgement."""

Place = tuple[float, float]
"""Distance from the tube's left end, and along the skin from the top toward the front [m]."""


@dataclass(frozen=True)
class TubeModel:
    """The reduced model of a scrap tube.

    Args:
        assembly: the tube, its beads as seams, and their stretches.
        modes: the reduced heat balance; the places watched are the spots, three rows each: on the mark, off it
            along and off it round the tube by `PLACE_ERROR`.
        heat_bend: movement of the dial away from the beads by each mode, shape (m,) [m].
        pull_bend: the same for a unit tendon pull in each stretch, shape (S,) [m/N].
        across_bend: the same for a unit pull across a metre of each stretch, shape (S,) [m/N].
    """

    assembly: Assembly
    modes: HeatModes
    heat_bend: Floats
    pull_bend: Floats
    across_bend: Floats

    @property
    def lengths(self) -> Floats:
        """Length of every stretch, shape (S,) [m]."""
        return np.array([stretch.length for stretch in self.assembly.stretches])

    def of_bead(self, bead: int) -> tuple[int, ...]:
        """Numbers of the stretches of a bead, from its start to its end."""
        return tuple(stretches_of(self.assembly.stretches, bead).tolist())

    def varied(self, flow: HeatFactors) -> TubeModel:
        """The same tube with other heat flow."""
        modes, turn = varied_modes(self.modes, flow)
        return replace(self, modes=modes, heat_bend=self.heat_bend @ turn)


def bead_along(tube: TrialTube, start: float, end: float) -> Callable[[Section], Seam]:
    """A bead along the top between two distances from the left end [m]."""
    line = Line("counter-bead", tube.length / 2.0 - start, tube.length / 2.0 - end, 0.0, "bead")
    return lambda section: line_seam(section, line)


def bead_round(tube: TrialTube, at: float, start: float, end: float) -> Callable[[Section], Seam]:
    """A bead round the tube at a distance from the left end, between two distances along the skin from the top [m]."""

    def seam(section: Section) -> Seam:
        angle = np.linspace(start, end, POINTS) / (tube.outside_diameter / 2.0)
        path = section.point(np.full(POINTS, tube.length / 2.0 - at), angle)
        normal = np.stack([np.zeros(POINTS), np.sin(angle), np.cos(angle)], axis=1)
        side = np.tile([1.0, 0.0, 0.0], (POINTS, 1))
        return Seam("bead", "counter-bead", "line", HOUSING, HOUSING, path, normal, side)

    return seam


def tube_model(
    tube: TrialTube,
    beads: tuple[Callable[[Section], Seam], ...],
    spots: tuple[Place, ...],
    longest: float = 1.0,
) -> TubeModel:
    """Build the reduced model of a tube.

    Args:
        tube: the tube.
        beads: seams of the beads.
        spots: where a thermometer may read.
        longest: seams are cut into beads no longer than this [m].
    """
    section = _section(tube)
    part = housing_part(section.housing)
    seams = tuple(make(section) for make in beads)
    cut = cut_into_beads(seams, longest)
    owner = np.zeros(len(part.mesh.cells), dtype=np.int64)
    assembly = Assembly(
        section, (part,), seams, (), cut, cut_into_stretches(cut), part.mesh, owner, part.airy_faces
    )
    watched = _spot_rows(tube, assembly, spots)
    named = tuple(f"spot {number}" for number in range(watched.shape[0]))
    system = replace(heat_system(assembly, tube.air), places=named, watch=watched)
    modes, shapes = reduce_heat(system, np.array([stretch.bead for stretch in assembly.stretches]))
    return _mechanics(tube, assembly, modes, shapes)


def _mechanics(tube: TrialTube, assembly: Assembly, modes: HeatModes, shapes: Floats) -> TubeModel:
    """What bends the tube, by Betti's theorem from one load at the dial."""
    full = full_model(assembly)
    moved = Factor(full.stiffness).solve(_dial_row(tube, assembly).toarray().T)[:, 0]
    count = len(assembly.stretches)
    # A shrinking bead pulls its row together: the load is the row itself, taken negative.
    seen = -(full.rows[SPRINGS * count : (SPRINGS + 2) * count] @ moved)
    heat = (full.thermal_load.T @ moved) @ shapes
    lengths = np.array([stretch.length for stretch in assembly.stretches])
    return TubeModel(assembly, modes, heat, seen[:count], seen[count:] * lengths)


def _dial_row(tube: TrialTube, assembly: Assembly) -> csr_array:
    """Row that reads how far the skin under the dial moves down from the line through the supports."""
    marks = np.array([tube.dial, tube.left_support, tube.right_support])
    share = (tube.dial - tube.left_support) / tube.span
    below = assembly.section.point(_x(tube, marks), np.full(3, np.pi))
    down = -displacement_rows(assembly.mesh, locate(assembly.mesh, below))[[2, 5, 8]]
    return csr_array(np.array([[1.0, share - 1.0, -share]]) @ down.toarray())


def _spot_rows(tube: TrialTube, assembly: Assembly, spots: tuple[Place, ...]) -> csr_array:
    """Skin temperature at each spot, and off its mark along and round the tube, shape (3 P, N)."""
    places = np.array([place for at, around in spots for place in _on_and_off(at, around)]).reshape(-1, 2)
    angle = places[:, 1] / (tube.outside_diameter / 2.0)
    points = assembly.section.point(_x(tube, places[:, 0]), angle)
    if not len(points):
        return csr_array((0, len(assembly.mesh.nodes)))
    return temperature_rows(assembly.mesh, locate(assembly.mesh, points))


def _on_and_off(at: float, around: float) -> tuple[Place, Place, Place]:
    return (at, around), (at + PLACE_ERROR, around), (at, around + PLACE_ERROR)


def _x(tube: TrialTube, distance: Floats) -> Floats:
    """Position x [m] of distances from the left end, as for housings."""
    return tube.length / 2.0 - distance


def _section(tube: TrialTube) -> Section:
    """A housing that is nothing but its tube: its centre has no size, its flanges are as wide as the tube.

    It is made without the job file's checks, which know axles only.
    """
    pipe = Tube.model_construct(outside_diameter=tube.outside_diameter, wall=tube.wall)
    centre = Centre.model_construct(
        offset=0.0, height=1e-6, depth=1e-6, width=0.2, wall=tube.wall, opening_diameter=None, casting=None
    )
    flange = KnuckleFlange.model_construct(diameter=tube.outside_diameter, thickness=0.01)
    return Section(
        Housing.model_construct(
            family="pressed",
            length=tube.length,
            steel=tube.steel,
            left_tube=pipe,
            right_tube=pipe,
            centre=centre,
            knuckle_flange=flange,
            perches=(),
            seals=(),
        )
    )
