"""The heat balance of the assembly before reduction: M dT/dt + A T = heat put in.

T is the rise over ambient at every node [K]. M holds heat capacities [J/K]; A = K + H + S holds conduction,
loss from the skin and conductance across seams [W/K]. All are constant, so the system is linear.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse import csc_array, csr_array, diags_array

from axlewright.housing.assembly import Assembly
from axlewright.housing.part import HOUSING
from axlewright.housing.seam import Stretch
from axlewright.housing.seam_points import SAMPLES, SeamPoints, sample_points
from axlewright.solid.assembly import assemble
from axlewright.solid.hexahedron import conduction, lumped_capacity
from axlewright.solid.locate import Location, locate, temperature_rows
from axlewright.solid.mesh import Floats, Ints
from axlewright.solid.surface import quad_areas
from axlewright.weld.shrinkage import flange_share
from axlewright.weld.steel import DENSITY, conductivity, heat_capacity
from axlewright.weld.surface_loss import surface_loss

PROPERTIES_AT = 100.0
"""Temperature at which conductivity and heat capacity are taken [degC]: the skin between beads is at 20-200."""

LOSS_AT_RISE = 40.0
"""Rise over ambient at which the surface loss is linearised [K]."""

SEAM_CONDUCTANCE = 10.0
"""Heat passed across a metre of seam for each kelvin [W/(m K)].

A laid fillet of 4 mm throat passes about 35 W/(m K) (conductivity times throat over leg), a fitted-up edge
that only touches about 1-5; the constant lies between. Five times less moves spot temperatures by a few kelvin.
"""

TIE_CONDUCTANCE = 1.0
"""Heat passed at each point where the maker joined a perch [W/K]: about a full fillet over 30 mm."""


@dataclass(frozen=True)
class HeatSystem:
    """Matrices of the heat balance.

    Args:
        capacity: lumped heat capacities, shape (N,) [J/K].
        flow: conduction, loss and seam conductance, shape (N, N) [W/K].
        inlet: share of each stretch's heat that goes to each node, shape (N, S) [1].
        spot: host's skin temperature over each stretch, shape (S, N) [1].
        places: named watch places, in the order of the rows of `watch`.
        watch: temperature rise at watch places, shape (W, N) [1].
        loss: the part of `flow` that leaves the skin, shape (N, N) [W/K].
        across_seams: the part of `flow` that crosses seams, shape (N, N) [W/K].
        jump: what a watt across each stretch's seam takes from host and brings to guest, shape (N, S) [1].
    """

    capacity: Floats
    flow: csc_array
    inlet: csc_array
    spot: csr_array
    places: tuple[str, ...]
    watch: csr_array
    loss: csc_array
    across_seams: csc_array
    jump: csc_array


def heat_system(
    assembly: Assembly,
    ambient_c: float,
    seals: tuple[tuple[str, float], ...] = (),
    loss_factor: float = 1.0,
    seam_factor: float = 1.0,
) -> HeatSystem:
    """Assemble the heat balance of a job.

    Args:
        assembly: the meshed job.
        ambient_c: air temperature [degC].
        seals: names of seals and their distance from the left flange [m].
        loss_factor: surface loss over what natural convection and radiation give [1].
        seam_factor: conductance across seams over `SEAM_CONDUCTANCE` [1].
    """
    points = sample_points(assembly)
    host, guest = (temperature_rows(assembly.mesh, place) for place in (points.host, points.guest))
    average = averaging(len(assembly.stretches), len(SAMPLES))
    share = host_share(assembly)
    inlet = (average @ host).multiply(share[:, None]) + (average @ guest).multiply(1 - share[:, None])
    places, watch = _watch(assembly, seals)
    loss = loss_factor * _loss(assembly, ambient_c)
    across = seam_factor * across_seams(assembly, points)
    flow = _conduction(assembly) + loss + across + _ties(assembly)
    return HeatSystem(
        _capacity(assembly),
        csc_array(flow),
        csc_array(inlet.T),
        csr_array(average @ host),
        places,
        watch,
        csc_array(loss),
        csc_array(across),
        csc_array((average @ (guest - host)).T),
    )


def averaging(stretches: int, samples: int) -> csr_array:
    """Matrix that averages `samples` consecutive rows, shape (stretches, stretches * samples)."""
    pointer = np.arange(0, stretches * samples + 1, samples)
    values = np.full(stretches * samples, 1.0 / samples)
    return csr_array(
        (values, np.arange(stretches * samples), pointer), shape=(stretches, stretches * samples)
    )


def host_share(assembly: Assembly) -> Floats:
    """Share of each stretch's heat that the host takes, by plate thickness, shape (S,) [1]; all of it on a line."""
    return np.array([_share(assembly, s) for s in assembly.stretches])


def _share(assembly: Assembly, stretch: Stretch) -> float:
    seam = assembly.seams[stretch.seam]
    if seam.on_bare_skin:
        return 1.0
    return float(flange_share(*thicknesses(assembly, stretch.seam, stretch.middle)))


def thicknesses(assembly: Assembly, seam_number: int, arc: float) -> tuple[float, float]:
    """Thickness of host and guest at a place on a seam [m]."""
    seam = assembly.seams[seam_number]
    guest = assembly.parts[seam.guest].thickness
    if seam.host != HOUSING:
        return assembly.parts[seam.host].thickness, guest
    if abs(seam.at(seam.normal, np.array(arc))[0]) > 0.7:
        return assembly.section.housing.knuckle_flange.thickness, guest
    return float(assembly.section.wall(seam.at(seam.path, np.array(arc))[0])), guest


def _capacity(assembly: Assembly) -> Floats:
    rho_c = np.full(len(assembly.mesh.cells), DENSITY * float(heat_capacity(PROPERTIES_AT)))
    lumps = lumped_capacity(assembly.mesh.cell_coordinates, rho_c)
    sums = np.bincount(assembly.mesh.cells.ravel(), lumps.ravel(), minlength=len(assembly.mesh.nodes))
    return np.asarray(sums, dtype=np.float64)


def _conduction(assembly: Assembly) -> csc_array:
    value = np.full(len(assembly.mesh.cells), float(conductivity(PROPERTIES_AT)))
    matrices = conduction(assembly.mesh.cell_coordinates, value)
    return assemble(assembly.mesh.cells, matrices, len(assembly.mesh.nodes), 1)


def _loss(assembly: Assembly, ambient_c: float) -> csc_array:
    diameter = assembly.section.housing.left_tube.outside_diameter
    coefficient = surface_loss(ambient_c + LOSS_AT_RISE, ambient_c, diameter)
    areas = quad_areas(assembly.mesh.nodes[assembly.airy_faces])
    lumps = np.bincount(assembly.airy_faces.ravel(), areas.ravel(), minlength=len(assembly.mesh.nodes))
    return csc_array(diags_array(coefficient * lumps))


def across_seams(assembly: Assembly, points: SeamPoints) -> csc_array:
    """Conductance across all seams, shape (N, N) [W/K]."""
    lengths = np.repeat([s.length / len(SAMPLES) for s in assembly.stretches], len(SAMPLES))
    return _coupling(assembly, points.host, points.guest, SEAM_CONDUCTANCE * lengths)


def _ties(assembly: Assembly) -> csc_array:
    total = csc_array((len(assembly.mesh.nodes),) * 2)
    for tie in assembly.ties:
        host, guest = (
            locate(assembly.mesh, tie.points, assembly.cells_of(part)) for part in (tie.host, tie.guest)
        )
        total = total + _coupling(assembly, host, guest, np.full(len(tie.points), TIE_CONDUCTANCE))
    return total


def _coupling(assembly: Assembly, host: Location, guest: Location, conductance: Floats) -> csc_array:
    jump = temperature_rows(assembly.mesh, guest) - temperature_rows(assembly.mesh, host)
    return csc_array(jump.T @ diags_array(conductance) @ jump)


def _watch(assembly: Assembly, seals: tuple[tuple[str, float], ...]) -> tuple[tuple[str, ...], csr_array]:
    half = assembly.section.half_length
    named = [("left bearing seat", half), ("right bearing seat", -half)]
    named += [(name, half - distance) for name, distance in seals]
    rows = [_ring(assembly, x) for _, x in named]
    return tuple(name for name, _ in named), csr_array(np.array(rows))


def _ring(assembly: Assembly, x: float) -> Floats:
    """Row that averages the housing's nodes at the station nearest to x."""
    nodes = housing_nodes(assembly)
    distance = np.abs(assembly.mesh.nodes[nodes, 0] - x)
    chosen = nodes[distance < distance.min() + 1e-3]
    row = np.zeros(len(assembly.mesh.nodes))
    row[chosen] = 1.0 / len(chosen)
    return row


def housing_nodes(assembly: Assembly) -> Ints:
    """Node numbers of the housing."""
    return np.arange(len(assembly.parts[HOUSING].mesh.nodes))
