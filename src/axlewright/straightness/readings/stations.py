"""Where on the tubes readings are taken: the usual stations of a job, and why a place is no good.

Stations are clear of what the shop will weld on, so that the same ones serve before and after.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Literal, NamedTuple

from axlewright.errors import Fault, ReadingsError
from axlewright.job.footprints import Footprint, feet
from axlewright.job.outline import Outline
from axlewright.job.schema import Job
from axlewright.straightness.readings.reading import Side

Tube = Literal["left tube", "right tube"]

SIDES: dict[Side, float] = {"top": 12.0, "front": 3.0, "bottom": 6.0, "rear": 9.0}
"""Clock position of each side, seen from the driver's right end."""

CLEAR = 0.01
"""What a caliper's jaw or the end of a straightedge needs beside a weld or a step [m]."""

_HALF_STRIP = 0.25
"""Half the strip of skin that a reading on one side needs to be free, round the tube [h]."""

_STEP = {False: 0.005, True: 0.00635}
"""Stations fall on whole 5 mm, or on quarters of an inch (`inch` true) [m]."""

_USUAL, _LONG, _APART = 4, 0.7, 0.04
"""Stations on a tube, one more on a tube longer than this [m], and the least distance between them [m]."""

_TAPE = "Hook the tape on the outer face of the left knuckle flange and measure again."


class Station(NamedTuple):
    """A place to read a tube at: distance from the outer face of the left knuckle flange [m], and the tube."""

    at: float
    tube: Tube


def stations(job: Job) -> tuple[Station, ...]:
    """The usual stations of a job from left to right.

    Four on each tube, five on a long one, evenly from flange to centre, on round figures of the tape; clear of
    flanges, centre and perches and of whatever stands on the tubes' front and bottom. A truss takes the top only.
    """
    found = []
    for tube, (begin, end) in tube_spans(job).items():
        places = _places(job, begin, end)
        wanted = _USUAL + (end - begin > _LONG)
        found += [Station(at, tube) for at in _spread(places, wanted)]
    return tuple(found)


def tube_spans(job: Job) -> dict[Tube, tuple[float, float]]:
    """Where each tube begins and ends between flange and centre [m]."""
    outline = Outline(job)
    (first, last), (left, right) = outline.tube_span, outline.centre_span
    return {"left tube": (first, left), "right tube": (right, last)}


def tube_at(job: Job, at: float) -> Tube | None:
    """The tube at a distance [m], None beside the tubes."""
    spans = tube_spans(job).items()
    return next((tube for tube, (begin, end) in spans if begin - 1e-9 <= at <= end + 1e-9), None)


def open_sides(job: Job, at: float) -> tuple[Side, ...]:
    """Sides on which the skin of a tube is bare at a distance [m], once all is welded on."""
    near = [foot for foot in feet(job) if foot.begin - CLEAR < at < foot.end + CLEAR]
    return tuple(side for side, clock in SIDES.items() if not any(_covers(foot, clock) for foot in near))


def refuse_off_tube(job: Job, at: float, shown: str) -> Tube:
    """The tube at a distance [m]; `shown` is how the distance was written.

    Raises:
        ReadingsError: no tube is there.
    """
    if (tube := tube_at(job, at)) is not None:
        return tube
    outline = Outline(job)
    (left, right), shop = outline.centre_span, outline.shop
    if at < 0.0 or at > job.housing.length:
        why = f"is off the housing, which is {shop(job.housing.length)} long"
    elif left < at < right:
        what = "the centre" if job.housing.family == "pressed" else "the casting"
        why = f"lies on {what}, {shop(left)} to {shop(right)}, which tells nothing of the tubes"
    else:
        why = f"lies on the {'left' if at < left else 'right'} knuckle flange or its weld"
    raise ReadingsError(Fault("at", shown, f"{why}; the tubes are {outline.tubes_in_words()}", _TAPE))


def refuse_perch(job: Job, at: float, side: Side | None, shown: str) -> None:
    """Refuse a reading of the tube's skin where a spring perch stands in its way.

    Args:
        job: the job.
        at: distance [m].
        side: side that is read; None where a dial goes all round.
        shown: how the distance was written.

    Raises:
        ReadingsError: a perch is there.
    """
    for perch in job.housing.perches:
        if abs(at - perch.at) <= perch.length / 2.0 and side in (None, "top"):
            shop = Outline(job).shop
            ends = f"{shop(perch.at - perch.length / 2.0)} to {shop(perch.at + perch.length / 2.0)}"
            way = "the dial would run onto it" if side is None else "its face is not the tube's skin"
            remedy = "Read beside the perch" + ("." if side is None else ", or on the bottom.")
            raise ReadingsError(Fault("at", shown, f'"{perch.name}" stands there, {ends}; {way}', remedy))


def _places(job: Job, begin: float, end: float) -> list[float]:
    """Round figures of the tape on a tube where front and bottom are bare, as far as there are any."""
    step = _STEP[job.inch]
    first, last = math.ceil((begin + CLEAR) / step - 1e-9), math.floor((end - CLEAR) / step + 1e-9)
    all_places = [round(n * step, 9) for n in range(first, last + 1)]
    beside = [at for at in all_places if not _at_perch(job, at)]
    for needed in ({"front", "bottom"}, {"bottom"}):
        if places := [at for at in beside if needed <= set(open_sides(job, at))]:
            return places
    return beside or all_places


def _at_perch(job: Job, at: float) -> bool:
    """Whether a perch is in the way, as it is on every side once U-bolts and their plate are on."""
    return any(abs(at - perch.at) < perch.length / 2.0 + CLEAR for perch in job.housing.perches)


def _spread(places: list[float], wanted: int) -> list[float]:
    """So many of the places, as evenly as they allow, both ends included."""
    if not places:
        return []
    room = int((places[-1] - places[0]) / _APART + 1e-9)
    count = min(wanted, room + 1)
    if count == 1:
        return [places[len(places) // 2]]
    ideal = [places[0] + (places[-1] - places[0]) * n / (count - 1) for n in range(count)]
    nearest = sorted({min(places, key=lambda place: abs(place - at)) for at in ideal})
    kept = [second for first, second in pairwise(nearest) if second - first >= _APART - 1e-9]
    return [nearest[0], *kept]


def _covers(foot: Footprint, clock: float) -> bool:
    """Whether a foot stands on the strip of skin at a clock position."""
    return foot.hours_from(clock) < foot.half_hours + _HALF_STRIP
