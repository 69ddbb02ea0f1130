"""Which attachments would stand on the same place.

On the tubes every foot is a rectangle in distance along the axle and clock position; two feet that share
any of it collide. Guards share the centre's face, spacers their perch.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from axlewright.job.faults import Misfit
from axlewright.job.fit_attachments import hours_between
from axlewright.job.lines import Path
from axlewright.job.outline import Outline
from axlewright.job.schema import Guard, Job

_LEEWAY = 1e-6
"""Feet that only touch do not collide [m], [h]."""


@dataclass(frozen=True)
class Footprint:
    """Ground taken on a tube: distances [m], clock position and half the hours covered [h]."""

    path: Path
    name: str
    begin: float
    end: float
    clock: float
    half_hours: float

    def meets(self, other: Footprint) -> bool:
        """Whether two feet share ground."""
        along = min(self.end, other.end) - max(self.begin, other.begin)
        return along > _LEEWAY and self.hours_from(other.clock) < self.half_hours + other.half_hours - _LEEWAY

    def hours_from(self, clock: float) -> float:
        """Hours the shorter way round from its middle to a clock position, 0 to 6 [h]."""
        apart = abs(self.clock - clock) % 12.0
        return min(apart, 12.0 - apart)


def collisions(job: Job) -> Iterator[Misfit]:
    """Every pair that would stand on the same place."""
    for one, other in combinations(_footprints(job), 2):
        if one.meets(other):
            yield _collision(other.path, other.name, one.name)
    for (_, first), (n, second) in combinations(enumerate(job.guards), 2):
        if first.side == second.side and _share_rim(first, second):
            yield _collision(("guard", n), second.name, first.name)
    for (_, below), (n, above) in combinations(enumerate(job.spacers), 2):
        if below.perch == above.perch:
            yield _collision(("spacer", n), above.name, below.name)


def feet(job: Job) -> tuple[Footprint, ...]:
    """The feet of everything that stands on a tube, perches included."""
    return tuple(_footprints(job))


def _collision(path: Path, name: str, other: str) -> Misfit:
    allowed = f'it would stand on the same place as "{other}"'
    return Misfit((*path, "name"), f'"{name}"', allowed, "Check the positions of both, or remove one.")


def _share_rim(one: Guard, other: Guard) -> bool:
    """Whether two guards cover the same stretch of the clock face."""
    after = (other.from_clock - one.from_clock) % 12.0
    before = (one.from_clock - other.from_clock) % 12.0
    return (
        after < hours_between(one.from_clock, one.to_clock) - _LEEWAY
        or before < hours_between(other.from_clock, other.to_clock) - _LEEWAY
    )


def _footprints(job: Job) -> list[Footprint]:
    """The feet of everything that stands on a tube, perches included."""
    outline = Outline(job)
    return [*_perches(outline), *_trusses(outline), *_gussets(outline), *_brackets(outline)]


def _hours(half_width: float, radius: float) -> float:
    """Hours that half a flat width covers on a tube [h]."""
    return math.asin(min(half_width / radius, 1.0)) * 6.0 / math.pi


def _perches(outline: Outline) -> Iterator[Footprint]:
    for n, perch in enumerate(outline.job.housing.perches):
        half = perch.length / 2.0
        hours = _hours(perch.width / 2.0, outline.tube_radius(perch.at))
        path = ("housing", "perch", n)
        yield Footprint(path, perch.name, perch.at - half, perch.at + half, 12.0, hours)


def _trusses(outline: Outline) -> Iterator[Footprint]:
    for n, truss in enumerate(outline.job.trusses):
        radius = min(outline.tube_radius(truss.start), outline.tube_radius(truss.end))
        hours = _hours((truss.width or truss.thickness) / 2.0, radius)
        yield Footprint(("truss", n), truss.name, truss.start, truss.end, 12.0, hours)


def _gussets(outline: Outline) -> Iterator[Footprint]:
    first, last = outline.tube_span
    for n, gusset in enumerate(outline.job.gussets):
        begin, end = (first, first + gusset.length) if gusset.end == "left" else (last - gusset.length, last)
        hours = _hours(gusset.thickness / 2.0, outline.tube_radius(begin))
        yield Footprint(("gusset", n), gusset.name, begin, end, gusset.clock, hours)


def _brackets(outline: Outline) -> Iterator[Footprint]:
    for n, bracket in enumerate(outline.job.brackets):
        radius, path = outline.tube_radius(bracket.at), ("bracket", n)
        if bracket.lies == "along":
            half, hours = bracket.length / 2.0, _hours(bracket.thickness / 2.0, radius)
        else:
            half, hours = bracket.thickness / 2.0, bracket.length / 2.0 / radius * 6.0 / math.pi
        yield Footprint(path, bracket.name, bracket.at - half, bracket.at + half, bracket.clock, hours)
