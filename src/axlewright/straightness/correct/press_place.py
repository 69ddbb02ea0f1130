"""Where on a tube there is room for a ram and two supports."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from axlewright.job.footprints import Footprint, feet
from axlewright.job.outline import Outline
from axlewright.job.schema import Job
from axlewright.straightness.correct.press_limits import SADDLE, SADDLE_HOURS

Tube = Literal["left", "right"]

SUPPORT = 0.050
"""Length of a support along the tube [m]."""
CLEAR = 0.010
"""Room between a saddle or support and what stands on the tube, its fillets included [m]."""
FROM_FLANGE = 0.010
"""Room between a support and the knuckle flange's weld [m]."""
FROM_SEAL = 0.030
"""Room between a saddle or support and a seal's seat [m]."""
_STEP = 0.005


@dataclass(frozen=True)
class Place:
    """Where a tube is pressed.

    Args:
        at: distance of the ram [m].
        half: from the ram to each support [m].
        in_the_way: why there is no room, in words; empty where there is.
    """

    at: float
    half: float
    in_the_way: tuple[str, ...] = ()

    @property
    def supports(self) -> tuple[float, float]:
        """Distances of the two supports [m]."""
        return self.at - self.half, self.at + self.half


def bare_stretch(job: Job, tube: Tube) -> tuple[float, float]:
    """Where supports may stand on a tube between knuckle flange and centre, whatever is welded on it [m].

    A tube pressed into a casting is left alone for half its diameter: the joint is not to be loaded.
    """
    outline = Outline(job)
    (first, last), (left, right) = outline.tube_span, outline.centre_span
    shape = job.housing.left_tube if tube == "left" else job.housing.right_tube
    clear = SUPPORT / 2.0 + FROM_FLANGE
    centre = clear + (shape.outside_diameter / 2.0 if job.housing.centre.casting is not None else 0.0)
    return (first + clear, left - centre) if tube == "left" else (right + centre, last - clear)


def place_for(job: Job, tube: Tube, clock: float, toward: float, old_welds: bool = True) -> Place:
    """The longest even span that a tube has room for, the ram as near to a wanted place as that allows.

    Args:
        job: the job.
        tube: the tube.
        clock: clock position of the skin the ram pushes on [h].
        toward: distance of the place the bend is at [m].
        old_welds: whether what the job welds on is already there.
    """
    begin, end = bare_stretch(job, tube)
    stands = [foot for foot in feet(job) if old_welds or foot.path[0] == "housing"]
    near = [foot for foot in stands if foot.end > begin - SUPPORT and foot.begin < end + SUPPORT]
    found = _longest(job, begin, end, near, clock, toward)
    if found is not None and found.half >= _shortest(job, tube):
        return found
    middle = Place((begin + end) / 2.0, max((end - begin) / 2.0, _shortest(job, tube)))
    return Place(middle.at, middle.half, _reasons(job, near))


def _shortest(job: Job, tube: Tube) -> float:
    """Half of the shortest span that bends rather than flattens a tube, three diameters in all [m]."""
    shape = job.housing.left_tube if tube == "left" else job.housing.right_tube
    return max(1.5 * shape.outside_diameter, SADDLE)


def _longest(
    job: Job, begin: float, end: float, near: list[Footprint], clock: float, toward: float
) -> Place | None:
    """Among spans with room, one within a tenth of the longest and then nearest to the wanted place."""
    if end - begin < 2.0 * _STEP:
        return None
    good: list[Place] = []
    for half in np.arange((end - begin) / 2.0, _STEP, -_STEP):
        if good and half < 0.9 * good[0].half:
            break
        spans = (Place(at, float(half)) for at in _middles(begin, end, float(half)))
        good += [span for span in spans if _has_room(job, span, near, clock)]
    return min(good, key=lambda span: (round(abs(span.at - toward), 3), -span.half), default=None)


def _middles(begin: float, end: float, half: float) -> list[float]:
    count = int((end - begin - 2.0 * half) / _STEP + 1e-6) + 1
    return [begin + half + n * _STEP for n in range(count)]


def _has_room(job: Job, span: Place, near: list[Footprint], clock: float) -> bool:
    """Whether ram and supports stand on bare skin clear of seals, and no truss stiffens the span."""
    for foot in near:
        if foot.path[0] == "truss" and foot.end > span.supports[0] and foot.begin < span.supports[1]:
            return False
    contacts = [(span.at, SADDLE, clock), *((at, SUPPORT, clock + 6.0) for at in span.supports)]
    for at, length, hour in contacts:
        reach = length / 2.0 + CLEAR
        touched = Footprint((), "", at - reach, at + reach, hour % 12.0, SADDLE_HOURS)
        if any(touched.meets(foot) for foot in near):
            return False
        if any(abs(seal.at - at) < length / 2.0 + FROM_SEAL for seal in job.housing.seals):
            return False
    return True


def _reasons(job: Job, near: list[Footprint]) -> tuple[str, ...]:
    """Why no span has room."""
    trusses = [foot.name for foot in near if foot.path[0] == "truss"]
    others = [foot.name for foot in near if foot.path[0] != "truss"]
    said = []
    if trusses:
        said.append(
            f'"{trusses[0]}" is welded along this tube: the two bend as one, and its seams would crack before '
            "the tube takes a set. Use counter-beads or heat lines."
        )
    if others or not trusses:
        names = ", ".join(f'"{name}"' for name in others) or "knuckle flange, centre and seals"
        said.append(
            "There is no room for a ram and two supports on bare tube three diameters apart "
            f"(in the way: {names}). Never push on a seam, a bearing seat, a seal's seat or the casting."
        )
    return tuple(said)
