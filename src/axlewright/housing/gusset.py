"""Gussets between tube and knuckle flange, and plain brackets: plates standing on the tube."""

from __future__ import annotations

import numpy as np

from axlewright.housing.part import Part, evenly
from axlewright.housing.plate import standing_plate
from axlewright.housing.seam import Seam, arc_length
from axlewright.housing.section import Section
from axlewright.job.schema import Bracket, Gusset
from axlewright.solid.mesh import Floats

CELL = 0.013
"""Longest cell along the plate's lower edge [m]."""

TIP = 0.25
"""Height of a gusset's thin end over its height at the flange."""


def gusset_part(section: Section, gusset: Gusset) -> Part:
    """Mesh a gusset, tapering from its full height at the flange."""
    x = evenly(*_gusset_ends(section, gusset), CELL)
    lower = _on_tube(section, x, _angle(gusset.clock))
    height = gusset.height * np.linspace(1.0, TIP, len(x))
    upper = lower + height[:, None] * _radial(_angle(gusset.clock))
    facing = _around(_angle(gusset.clock))
    return standing_plate(gusset.name, section.housing.steel, lower, upper, facing, gusset.thickness)


def gusset_seams(section: Section, gusset: Gusset, host: int, guest: int) -> tuple[Seam, ...]:
    """Two seams, one on each face: down the knuckle flange, then along the tube."""
    angle = _angle(gusset.clock)
    flange_x, tip_x = _gusset_ends(section, gusset)
    foot = float(section.radius_toward(np.array(flange_x), np.array(angle)))
    top = min(foot + gusset.height, section.housing.knuckle_flange.diameter / 2)
    down = np.array([flange_x, 0, 0]) + np.linspace(top, foot, 21)[:, None] * _radial(angle)
    along = _on_tube(section, np.linspace(flange_x, tip_x, 41), angle)
    inward = np.array([np.sign(tip_x - flange_x), 0.0, 0.0])
    path = np.concatenate([down[:-1], along])
    normal = np.concatenate([np.tile(inward, (20, 1)), np.tile(_radial(angle), (41, 1))])
    corner = (float(arc_length(path)[20]),)
    return _both_faces(
        gusset.name, "gusset", host, guest, path, normal, _around(angle), gusset.thickness, corner
    )


def bracket_part(section: Section, bracket: Bracket) -> Part:
    """Mesh a plain bracket, a rectangular plate along or across the tube."""
    lower, facing = _bracket_foot(section, bracket, CELL)
    upper = lower + _bracket_rise(section, bracket, lower)
    return standing_plate(bracket.name, section.housing.steel, lower, upper, facing, bracket.thickness)


def bracket_seams(section: Section, bracket: Bracket, host: int, guest: int) -> tuple[Seam, ...]:
    """Two seams, one on each face of the plate."""
    path, facing = _bracket_foot(section, bracket, 0.002)
    normal = section.outward(path)
    return _both_faces(bracket.name, "bracket", host, guest, path, normal, facing, bracket.thickness, ())


def _angle(clock: float) -> float:
    """Angle from the top toward the front [rad]; seen from the driver's right end, 3 o'clock is the front."""
    return clock * np.pi / 6


def _radial(angle: float) -> Floats:
    return np.array([0.0, np.sin(angle), np.cos(angle)])


def _around(angle: float) -> Floats:
    return np.array([0.0, np.cos(angle), -np.sin(angle)])


def _on_tube(section: Section, x: Floats, angle: float) -> Floats:
    x = np.asarray(x)
    radius = section.radius_toward(x, np.full_like(x, angle))
    return np.stack([x, np.zeros_like(x), np.zeros_like(x)], axis=-1) + radius[:, None] * _radial(angle)


def _gusset_ends(section: Section, gusset: Gusset) -> tuple[float, float]:
    """Position of the flange end and of the thin end, x [m]."""
    face = section.half_length - section.housing.knuckle_flange.thickness
    sign = 1.0 if gusset.end == "left" else -1.0
    return sign * face, sign * (face - gusset.length)


def _bracket_foot(section: Section, bracket: Bracket, step: float) -> tuple[Floats, Floats]:
    """Points of the lower edge and the unit vector square to the plate."""
    middle, angle = section.half_length - bracket.at, _angle(bracket.clock)
    half = bracket.length / 2
    if bracket.lies == "along":
        return _on_tube(section, evenly(middle + half, middle - half, step), angle), _around(angle)
    radius = float(section.tube_radius(np.array(middle)))
    spread = evenly(-half, half, step) / radius
    return section.point(np.full_like(spread, middle), angle + spread), np.array([1.0, 0, 0])


def _bracket_rise(section: Section, bracket: Bracket, lower: Floats) -> Floats:
    """Vectors from the lower edge to a straight upper edge at the bracket's height above the tube."""
    out = _radial(_angle(bracket.clock))
    foot = lower @ out
    return (foot.max() + bracket.height - foot)[:, None] * out


def _both_faces(
    name: str,
    kind: str,
    host: int,
    guest: int,
    path: Floats,
    normal: Floats,
    facing: Floats,
    thickness: float,
    corners: tuple[float, ...],
) -> tuple[Seam, ...]:
    sides = ((1.0, _word(facing)), (-1.0, _word(-facing)))
    return tuple(
        Seam(
            name,
            kind,
            f"{word} side",
            host,
            guest,
            path + sign * facing * thickness / 2,
            normal,
            np.tile(sign * facing, (len(path), 1)),
            corners=corners,
        )
        for sign, word in sides
    )


def _word(direction: Floats) -> str:
    """The plain word for a direction: left or right, front or rear, upper or lower."""
    axis = int(np.argmax(np.abs(direction)))
    words = (("right", "left"), ("rear", "front"), ("lower", "upper"))[axis]
    return words[int(direction[axis] > 0)]
