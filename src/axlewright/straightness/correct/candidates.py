"""Places on the bare tubes where a counter-bead or a heat line may go.

Lines run along the axle only. A bead across a tube in bending is the worse fatigue detail: EN 1993-1-9:2005 gives a
longitudinal attachment weld class 80 while it is short, a transverse one class 80 or 71 by its length, and the whole
stress of the bend runs square to its toe (tables 8.2 and 8.4, from memory).
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from axlewright.housing.lines import Line, LineKind
from axlewright.housing.seam import Seam
from axlewright.job.footprints import Footprint, feet
from axlewright.job.outline import Outline
from axlewright.job.schema import Job
from axlewright.solid.mesh import Floats

APART = 0.025
"""Least distance from a line to a seam, an attachment, a perch, the centre or another line [m]: three walls of 8 mm, so
that no bead lies in what another has heated and shrunk; a judgement."""

FROM_FLANGE = 0.040
"""Least distance from a line to a knuckle flange, whose bearing seat must stay true [m]; a judgement."""

FROM_SEAL = 0.050
"""Least distance from a line to a seal that has been left in place [m]; a judgement."""

HOURS = tuple(range(1, 13))
"""Clock positions looked at, seen from the driver's right end."""


def candidates(
    job: Job, seams: tuple[Seam, ...], kind: LineKind, length: float, earlier: tuple[Line, ...] = ()
) -> tuple[Line, ...]:
    """All places for lines, in the order of their distance from the left flange and of the clock.

    Those at one distance share it at all hours, and neighbours along the axle keep `APART`.

    Args:
        job: the job.
        seams: its seams, which the lines keep clear of.
        kind: what the lines are.
        length: of a line [m].
        earlier: lines of earlier corrections, which they keep clear of too.
    """
    ground, old = feet(job), _points(job, seams, earlier)
    radius = Outline(job).tube_radius
    return tuple(
        Line(kind, job.x_at(begin), job.x_at(begin + length), math.pi * hour / 6.0, "")
        for begin in _beginnings(job, length)
        for hour in HOURS
        if _free(ground, begin, length, hour, radius(begin))
        and _clear(_skin(radius(begin), job.x_at(begin), length, hour), old)
    )


def _beginnings(job: Job, length: float) -> Iterator[float]:
    """Distances at which lines may begin, evenly from one end of each bare stretch of tube to the other [m]."""
    for begin, end in _stretches(job):
        count = int((end - begin + APART + 1e-9) / (length + APART))
        yield from np.linspace(begin, end - length, count).tolist() if count > 0 else ()


def _stretches(job: Job) -> Iterator[tuple[float, float]]:
    """Stretches of tube clear of flanges, centre and seals, distances [m]."""
    outline = Outline(job)
    (first, last), (left, right) = outline.tube_span, outline.centre_span
    for begin, end in ((first + FROM_FLANGE, left - APART), (right + APART, last - FROM_FLANGE)):
        at = begin
        for seal in sorted(
            seal.at for seal in job.housing.seals if begin - FROM_SEAL < seal.at < end + FROM_SEAL
        ):
            yield at, seal - FROM_SEAL
            at = max(at, seal + FROM_SEAL)
        yield at, end


def _free(ground: tuple[Footprint, ...], begin: float, length: float, hour: int, radius: float) -> bool:
    """Whether nothing stands on the place or nearer than `APART`."""
    aside = APART / radius * 6.0 / math.pi
    return not any(
        foot.begin - APART < begin + length
        and begin < foot.end + APART
        and foot.hours_from(hour) < foot.half_hours + aside
        for foot in ground
    )


def _skin(radius: float, x: float, length: float, hour: float) -> Floats:
    """Points along a line on the skin, shape (n, 3) [m]."""
    along = np.linspace(x, x - length, 7)
    angle = math.pi * hour / 6.0
    flat = np.full_like(along, radius)
    return np.stack([along, flat * math.sin(angle), flat * math.cos(angle)], axis=-1)


def _points(job: Job, seams: tuple[Seam, ...], earlier: tuple[Line, ...]) -> Floats:
    """Points of all seams and of earlier lines, shape (n, 3) [m]."""
    radius = Outline(job).tube_radius
    found = [seam.path for seam in seams]
    for line in earlier:
        hour = line.angle * 6.0 / math.pi
        found.append(_skin(radius(job.distance_at(line.start)), line.start, line.start - line.end, hour))
    return np.concatenate(found) if found else np.empty((0, 3))


def _clear(skin: Floats, old: Floats) -> bool:
    """Whether no seam and no earlier line lies nearer than `APART`."""
    distance = np.linalg.norm(skin[:, None] - old[None], axis=-1)
    return bool(distance.min(initial=np.inf) >= APART)
