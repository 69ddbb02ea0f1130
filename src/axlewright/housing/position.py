"""Welding positions (ISO 6947): from how a seam slopes and where the face of its fillet looks to a name.

The face of a fillet looks along the bisector of the two skins it joins. The slope is the angle of the seam to the
horizontal; the rotation is the angle of the face about the seam, from where it would look up as far as the seam lets
it: 0 looks up, 90 sideways, 180 down.

Limits. A level fillet takes the main position nearest to its rotation: PA at 0, PB at 45, PC at 90, PD at 135, PE at
180 degrees (ISO 6947:2011, 3.1, from memory). A seam is level up to 15 degrees of slope, and what looks down is
overhead up to 80 degrees; everything else climbs or falls, PF or PG. The 15 and 80 degrees are the slopes of fillet
welds in production in table 2 of the standard, from memory. The same table, from memory, ends PA at 30, PB at 55 and PC
at 100 degrees of rotation: that tells what a welder's qualification covers. Here the question is how to lay the
housing, so the nearest main position is taken instead.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axlewright.housing.assembly import Assembly
from axlewright.housing.seam import Bead, Seam
from axlewright.housing.seam_points import SAMPLES
from axlewright.solid.mesh import Floats, Ints

LEVEL = 15.0
"""Greatest slope of a level seam [deg]."""

OVERHEAD = 80.0
"""Greatest slope at which a face that looks down still counts as overhead [deg]."""

NAMES = ("PA", "PB", "PC", "PF", "PD", "PE", "PG")
"""Positions from the most comfortable to the worst; the numbers used here count along it."""

PA, PB, PC, PF, PD, PE, PG = range(7)
_LEVEL_NAMES = np.array([PA, PB, PC, PD, PE])
"""Positions of a level seam as its face rolls over from up to down, one every 45 degrees."""


@dataclass(frozen=True)
class BeadDirections:
    """Directions along every bead, in the middle of each third.

    Args:
        along: unit vectors along the seam, from the bead's start to its end, shape (B, 3, 3).
        face: unit vectors in which the open face of the fillet looks, square to `along`, shape (B, 3, 3).
    """

    along: Floats
    face: Floats


def bead_directions(assembly: Assembly) -> BeadDirections:
    """Directions of all beads of a housing that lies as on the vehicle."""
    along, face = np.empty((2, len(assembly.beads), len(SAMPLES), 3))
    on_seam = np.array([bead.seam for bead in assembly.beads], dtype=np.int64)
    for number in np.unique(on_seam):
        chosen = np.flatnonzero(on_seam == number)
        seam = assembly.seams[number]
        places = _places([assembly.beads[n] for n in chosen])
        along[chosen], face[chosen] = _directions(seam, places)
    return BeadDirections(along, face)


def _places(beads: list[Bead]) -> Floats:
    """Arc lengths of the middles of each bead's thirds, shape (k, 3) [m]."""
    return np.array([bead.start + SAMPLES * bead.length for bead in beads])


def _directions(seam: Seam, places: Floats) -> tuple[Floats, Floats]:
    along = seam.tangent(places)
    standing = seam.normal if seam.guest_side is None else seam.guest_side
    # A line on the bare tube has no second skin: its face looks straight out.
    both = (standing,) if seam.on_bare_skin else (standing, seam.weld_side)
    skins = [_square(seam.at(skin, places), along) for skin in both]
    return along, _square(np.sum(skins, axis=0), along)


def _square(vectors: Floats, along: Floats) -> Floats:
    """The part of vectors square to a seam, as unit vectors."""
    square: Floats = vectors - along * np.sum(vectors * along, axis=-1, keepdims=True)
    square /= np.linalg.norm(square, axis=-1, keepdims=True)
    return square


def turned(vectors: Floats, degrees: float) -> Floats:
    """Vectors of a housing turned about its axle, front side up, shape (..., 3).

    y' = y cos t - z sin t, z' = y sin t + z cos t.

    Args:
        vectors: in the housing's axes as on the vehicle.
        degrees: turn t [deg]; 90 brings the front to the top.
    """
    cosine, sine = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
    x, y, z = np.moveaxis(vectors, -1, 0)
    return np.stack([x, y * cosine - z * sine, y * sine + z * cosine], axis=-1)


def slope(along: Floats) -> Floats:
    """Slope of a seam against the horizontal, positive where it climbs [deg].

    S = arcsin(a_z) (ISO 6947:2011, 2.3: the angle of the weld's axis, here to a level one).

    Args:
        along: unit vectors a along the seam, z up, shape (..., 3).
    """
    slopes: Floats = np.degrees(np.arcsin(np.clip(along[..., 2], -1.0, 1.0)))
    return slopes


def rotation(along: Floats, face: Floats) -> Floats:
    """How far a face is rolled over about its seam: 0 looks up, 90 sideways, 180 down [deg].

    cos R = f_z / |e_z - a_z a| (ISO 6947:2011, 2.4: the angle of the weld's face, here to one that looks up). On an
    upright seam no face looks up; the rotation is 90 there.

    Args:
        along: unit vectors a along the seam, z up, shape (..., 3).
        face: unit vectors f in which the face looks, square to a, shape (..., 3).
    """
    uppermost = np.array([0.0, 0.0, 1.0]) - along * along[..., 2:]
    height = np.linalg.norm(uppermost, axis=-1)
    up = np.where(height > 1e-9, face[..., 2] / np.maximum(height, 1e-9), 0.0)
    rolled: Floats = np.degrees(np.arccos(np.clip(up, -1.0, 1.0)))
    return rolled


def position(slopes: Floats, rotations: Floats) -> Ints:
    """Numbers in `NAMES` of points on fillets that are welded upward where they climb.

    Args:
        slopes: slope of the seam, -90 to 90 [deg].
        rotations: rotation of the face, 0 to 180 [deg].
    """
    steepness = np.round(np.abs(slopes), 6)
    # A face right between two positions takes the better one.
    rolled = np.ceil(np.round((rotations - 22.5) / 45.0, 6)).astype(np.int64)
    level = _LEVEL_NAMES[np.clip(rolled, 0, 4)]
    overhead = (level >= PD) & (steepness <= OVERHEAD)
    return np.where((steepness <= LEVEL) | overhead, level, PF)


def bead_positions(beads: BeadDirections, turn: float) -> tuple[Ints, Ints]:
    """Position of every bead at one turn, and the sense in which it climbs.

    A bead that spans positions has the worst of them. One that climbs steeply from both ends, or falls steeply
    to both, cannot be welded upward in one go; it is PG.

    Args:
        beads: directions of the beads.
        turn: how the housing lies [deg].

    Returns:
        Numbers in `NAMES`, shape (B,), and the sense, shape (B,): 1 where the bead climbs from start to end,
        -1 from end to start, 0 where it is level or overhead.
    """
    along, face = turned(beads.along, turn), turned(beads.face, turn)
    slopes = slope(along)
    found = position(slopes, rotation(along, face))
    climbs, falls = (((found == PF) & (slopes * sense > 0)).any(axis=1) for sense in (1.0, -1.0))
    worst = np.where(climbs & falls, PG, found.max(axis=1))
    return worst, np.where(worst == PF, climbs.astype(np.int64) - falls, 0)
