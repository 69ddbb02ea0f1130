"""The bare housing as lines to draw, without a mesh: what a picture of readings or corrections stands on."""

from __future__ import annotations

from dataclasses import dataclass

from axlewright.job.footprints import feet
from axlewright.job.outline import Outline
from axlewright.job.schema import Job
from axlewright.straightness.readings.stations import stations

_STEPS = 24


@dataclass(frozen=True)
class Foot:
    """What stands on a tube: its name, distances [m], clock position and half the hours it covers [h]."""

    name: str
    begin: float
    end: float
    clock: float
    half_hours: float
    perch: bool


@dataclass(frozen=True)
class HousingOutline:
    """A housing seen from behind and from above; distances count from the left flange [m].

    Args:
        inch: whether the shop works in inches.
        length: outer face to outer face of the flanges [m].
        distances: along the axle, shape (n,) [m].
        half_heights: half the height there, shape (n,) [m].
        half_depths: half the depth there, shape (n,) [m].
        centre: where the centre begins and ends [m].
        flange: thickness and diameter of the knuckle flanges [m].
        feet: what stands on the tubes.
        stations: usual places to read at [m].
    """

    inch: bool
    length: float
    distances: tuple[float, ...]
    half_heights: tuple[float, ...]
    half_depths: tuple[float, ...]
    centre: tuple[float, float]
    flange: tuple[float, float]
    feet: tuple[Foot, ...]
    stations: tuple[float, ...]

    def radius(self, at: float) -> float:
        """Half the height of the nearest tube end to a distance [m]."""
        near = min(range(len(self.distances)), key=lambda n: abs(self.distances[n] - at))
        return self.half_heights[near]


def housing_outline(job: Job) -> HousingOutline:
    """The outline of a job's housing."""
    outline = Outline(job)
    begin, end = outline.centre_span
    # The centre's ellipse is steep at its ends: steps there are small, as of a circle seen on edge.
    swell = [begin + (end - begin) * _eased(n / _STEPS) for n in range(_STEPS + 1)]
    distances = (0.0, *swell, job.housing.length)
    flange = job.housing.knuckle_flange
    perches = {perch.name for perch in job.housing.perches}
    return HousingOutline(
        inch=job.inch,
        length=job.housing.length,
        distances=distances,
        half_heights=tuple(outline.half_height(at) for at in distances),
        half_depths=tuple(outline.half_depth(at) for at in distances),
        centre=(begin, end),
        flange=(flange.thickness, flange.diameter),
        feet=tuple(
            Foot(foot.name, foot.begin, foot.end, foot.clock, foot.half_hours, foot.name in perches)
            for foot in feet(job)
        ),
        stations=tuple(station.at for station in stations(job)),
    )


def _eased(share: float) -> float:
    """A share of 0 to 1 with small steps at both ends: 3 s^2 - 2 s^3."""
    return share * share * (3.0 - 2.0 * share)
