"""A guard on the centre: a dished plate whose rim is welded round the clock face."""

from __future__ import annotations

import numpy as np

from axlewright.housing.part import Part, evenly, hexahedra_between
from axlewright.housing.seam import Seam, arc_length
from axlewright.housing.section import Section
from axlewright.job.schema import Guard
from axlewright.solid.mesh import Floats

HUB = 0.2
"""Radius of the mesh's inner edge over the rim's: keeps the innermost cells from closing to a point."""

RINGS = 5
"""Cells from the inner edge to the rim."""


def guard_part(section: Section, guard: Guard) -> Part:
    """Mesh a guard; its inner face touches the housing along the rim and stands proud by `dish` inside."""
    full = _hours(guard) >= 12.0
    clock = evenly(guard.from_clock, guard.from_clock + _hours(guard), 12 * 0.018 / (np.pi * guard.diameter))
    clock = clock[:-1] if full else clock
    share = np.linspace(1.0, HUB, RINGS + 1)
    inner = np.stack([_ring(section, guard, clock, r) for r in share], axis=0)
    outer = inner + _side(guard) * np.array([0.0, guard.thickness, 0.0])
    mesh, outside, _ = hexahedra_between(outer, inner, closed=bool(full))
    return Part(guard.name, section.housing.steel, mesh, outside, guard.thickness)


def guard_seams(section: Section, guard: Guard, host: int, guest: int) -> tuple[Seam, ...]:
    """The one seam of a guard, round its rim, clockwise from `from_clock` as seen facing the guard."""
    clock = evenly(guard.from_clock, guard.from_clock + _hours(guard), 0.02)
    path = _ring(section, guard, clock, 1.0)
    radial = _radial(guard, clock)
    normal = section.outward(path)
    outward = radial - normal * np.sum(radial * normal, axis=-1, keepdims=True)
    outward /= np.linalg.norm(outward, axis=-1, keepdims=True)
    arc = arc_length(path)
    openings = tuple(sorted(_opening(guard, *pair, clock, arc) for pair in guard.openings))
    return (
        Seam(
            guard.name,
            "guard",
            "rim",
            host,
            guest,
            path,
            normal,
            outward,
            clock=clock,
            openings=openings,
            closed=bool(_hours(guard) >= 12.0),
            guest_side=np.tile([0.0, _side(guard), 0.0], (len(path), 1)),
        ),
    )


def _side(guard: Guard) -> float:
    return 1.0 if guard.side == "front" else -1.0


def _hours(guard: Guard) -> float:
    """Hours of the clock face that the guard covers, 12 for all round."""
    return (guard.to_clock - guard.from_clock) % 12.0 or 12.0


def _opening(guard: Guard, begin: float, end: float, clock: Floats, arc: Floats) -> tuple[float, float]:
    """Arc lengths of a drain opening; its end is counted on from its beginning, past 12 if need be."""
    first = _after(guard, begin)
    last = first + ((end - begin) % 12.0 or 12.0)
    return float(np.interp(first, clock, arc)), float(np.interp(last, clock, arc))


def _after(guard: Guard, clock: float) -> float:
    """The same clock position counted on past 12 from the guard's beginning."""
    return guard.from_clock + (clock - guard.from_clock) % 12.0


def _radial(guard: Guard, clock: Floats) -> Floats:
    """Unit vectors from the middle of the face toward clock positions.

    Seen from the front, the driver's left (+x) is on the viewer's right: 3 o'clock. Seen from the rear it
    is on the viewer's left: 9 o'clock.
    """
    angle = np.asarray(clock) * np.pi / 6
    return np.stack([_side(guard) * np.sin(angle), np.zeros_like(angle), np.cos(angle)], axis=-1)


def _ring(section: Section, guard: Guard, clock: Floats, share: float) -> Floats:
    """Points of the inner face at a share of the rim's radius, shape (len(clock), 3) [m]."""
    points = np.array([section.middle, 0.0, 0.0]) + share * guard.diameter / 2 * _radial(guard, clock)
    skin = section.front_at(points[:, 0], points[:, 2])
    edge = section.front_at(*(_rim(section, guard, clock)[:, axis] for axis in (0, 2)))
    # From the rim inward the plate rises evenly to `dish` above the rim's mean plane, but never into the housing.
    proud = edge * share**2 + (edge.mean() + guard.dish) * (1.0 - share**2)
    points[:, 1] = _side(guard) * np.maximum(proud, skin)
    return points


def _rim(section: Section, guard: Guard, clock: Floats) -> Floats:
    """Points of the rim in the plane of the face, shape (len(clock), 3) [m]."""
    return np.array([section.middle, 0.0, 0.0]) + guard.diameter / 2 * _radial(guard, clock)
