"""What is read off, and pulled at, along the seams: rows on the displacements of the full mesh.

For each stretch of seam there are six rows, averages over the stretch:

    along, normal, side   displacement of the guest past the host [m]
    rotation              of the guest toward the fillet, past the host [rad]
    tendon                lengthening of the stretch [m]; pulling at it is the tendon force
    across                strain of the host's wall across the seam, plus Poisson's ratio times that along
                          it [1]; pulling at it is transverse shrinkage, which leaves the length alone

Each row is zero for any rigid motion of the assembly, so every load made from them is in balance by itself.
"""

from __future__ import annotations

import numpy as np
from scipy.sparse import coo_array, csr_array, diags_array, vstack

from axlewright.heat.system import averaging, host_share
from axlewright.housing.assembly import Assembly
from axlewright.housing.seam_points import SAMPLES, SeamPoints, end_points, sample_points
from axlewright.solid.locate import Location, displacement_rows, gradient_rows, locate
from axlewright.solid.mesh import Floats
from axlewright.solid.shape import shape_values
from axlewright.weld.steel import POISSON

ZONE_HALF_WIDTH = 0.016
"""Half the width of the zone that yields and shrinks beside a seam [m].

The tendon force is yield stress times the section of the yielded zone: 0.6 kJ/mm pulls with 120 kN, which is
355 MPa on 340 mm2, a strip 16 mm to each side in an 8 mm wall and 16 mm up a 5 mm web.
"""

SPRINGS = 4
"""Spring directions of a stretch: along, normal, side, rotation."""


def seam_rows(assembly: Assembly) -> csr_array:
    """All rows of all stretches, shape (6 S, 3 N).

    Springs come first, stretch by stretch (row 4 j + direction), then the S tendon and the S across rows.
    """
    if not assembly.stretches:  # A bare housing.
        return csr_array((0, 3 * len(assembly.mesh.nodes)))
    points = sample_points(assembly)
    average = averaging(len(assembly.stretches), len(SAMPLES))
    jump = displacement_rows(assembly.mesh, points.guest) - displacement_rows(assembly.mesh, points.host)
    directions = (points.along, points.normal, points.weld_side)
    springs = [average @ (_dot(direction) @ jump) for direction in directions]
    springs.append(average @ _relative_rotation(assembly, points))
    across = average @ _strain_across(assembly, points)
    return csr_array(vstack([_interleaved(springs), _tendon(assembly), across]))


def _dot(directions: Floats) -> csr_array:
    """Matrix that takes the component of each point's vector along its direction, shape (P, k P)."""
    count, width = directions.shape
    pointer = np.arange(0, count * width + 1, width)
    return csr_array((directions.ravel(), np.arange(count * width), pointer), shape=(count, count * width))


def _interleaved(rows: list[csr_array]) -> csr_array:
    """Rows of several kinds, sorted so that those of one stretch stand together."""
    stacked = csr_array(vstack(rows))
    order = np.arange(stacked.shape[0]).reshape(len(rows), -1).T.ravel()
    return stacked[order]


def _relative_rotation(assembly: Assembly, points: SeamPoints) -> csr_array:
    """Rotation of guest past host about the axis that turns the normal toward the weld side."""
    axis = np.cross(points.normal, points.weld_side)
    permutation = np.zeros((3, 3, 3))
    for i, j, k in ((0, 1, 2), (1, 2, 0), (2, 0, 1)):
        permutation[i, j, k], permutation[i, k, j] = 1.0, -1.0
    half_curl = 0.5 * np.einsum("pi,ijk->pkj", axis, permutation).reshape(-1, 9)
    jump = gradient_rows(assembly.mesh, points.guest) - gradient_rows(assembly.mesh, points.host)
    return _dot(half_curl) @ jump


def _strain_across(assembly: Assembly, points: SeamPoints) -> csr_array:
    """Plane-stress partner of a shrinkage across the seam: mid-wall strain of the host, averaged over the zone."""
    across, along = (np.einsum("pi,pj->pij", v, v).reshape(-1, 9) for v in (points.weld_side, points.along))
    reader = _dot(across + POISSON * along)
    rows = [reader @ gradient_rows(assembly.mesh, place) for place in _zone(assembly, points)]
    return csr_array(sum(rows[1:], start=rows[0]) / len(rows))


def _zone(assembly: Assembly, points: SeamPoints) -> list[Location]:
    """Places in the middle of the host's wall across the zone that shrinks."""
    seams = np.repeat([s.seam for s in assembly.stretches], len(SAMPLES))
    hosts = np.array([seam.host for seam in assembly.seams])[seams]
    middles = seam_places(assembly, points)
    places = []
    for offset in ZONE_HALF_WIDTH * np.array([-0.75, -0.25, 0.25, 0.75]):
        cells, natural = np.zeros(len(seams), dtype=np.int64), np.zeros((len(seams), 3))
        for host in np.unique(hosts):
            chosen = np.flatnonzero(hosts == host)
            found = locate(
                assembly.mesh, middles[chosen] + offset * points.weld_side[chosen], assembly.cells_of(host)
            )
            cells[chosen], natural[chosen] = found.cells, np.clip(found.natural, -1.0, 1.0)
        natural[:, 2] = 0.0  # The third natural coordinate of every part runs through its wall.
        places.append(Location(cells, natural))
    return places


def seam_places(assembly: Assembly, points: SeamPoints) -> Floats:
    """Where the points lie in space, shape (P, 3) [m]."""
    corners = assembly.mesh.nodes[assembly.mesh.cells[points.host.cells]]
    return np.einsum("pa,pai->pi", shape_values(points.host.natural), corners)


def _tendon(assembly: Assembly) -> csr_array:
    """Lengthening of each stretch along its chord, host and guest weighed by their share of the heat."""
    ends, share = end_points(assembly), host_share(assembly)
    places = np.array([_chord(assembly, n) for n in range(len(assembly.stretches))])
    host, guest = (displacement_rows(assembly.mesh, place) for place in (ends.host, ends.guest))
    weighed = host.multiply(np.repeat(share, 6)[:, None]) + guest.multiply(np.repeat(1 - share, 6)[:, None])
    signs = np.concatenate([-places, places], axis=1)
    return csr_array(_dot(signs) @ csr_array(weighed))


def _chord(assembly: Assembly, number: int) -> Floats:
    stretch = assembly.stretches[number]
    seam = assembly.seams[stretch.seam]
    start, end = seam.at(seam.path, np.array([stretch.start, stretch.end]))
    return (end - start) / np.linalg.norm(end - start)


def spring_stiffness(assembly: Assembly, per_length: Floats) -> csr_array:
    """Diagonal stiffness of springs over whole stretches, shape (4 S, 4 S).

    Args:
        assembly: the meshed job.
        per_length: stiffness a metre of seam along, normal, side [N/m2] and in rotation [N/rad], shape (4,).
    """
    lengths = np.array([s.length for s in assembly.stretches])
    return csr_array(diags_array((lengths[:, None] * per_length).ravel()))


def unit_rows(columns: list[int], width: int) -> csr_array:
    """Rows that read single unknowns."""
    ones = np.ones(len(columns))
    return csr_array(coo_array((ones, (np.arange(len(columns)), columns)), shape=(len(columns), width)))
