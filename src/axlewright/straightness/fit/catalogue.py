"""What a shop could read next: every kind of reading at a handful of stations, as instructions."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from axlewright.job.schema import Job
from axlewright.straightness.readings.reading import (
    Angle,
    Dot,
    End,
    FourPoint,
    Gap,
    Height,
    Origin,
    Reading,
    Runout,
    Sense,
    Side,
    ToeTape,
)
from axlewright.straightness.readings.stations import SIDES, Station, open_sides, stations
from axlewright.straightness.readings.usual import usual_errors
from axlewright.units import format_length

_ROUND = (0.0, 0.0, 0.0, 0.0)
_BARS = {False: 0.6, True: 0.6096}
"""Length of the bars a toe tape is read on, 600 mm or 24 in [m]."""

_SETUP = "next"

_PAIRS: tuple[tuple[Side, Side], ...] = (
    ("bottom", "front"),
    ("bottom", "rear"),
    ("top", "front"),
    ("top", "rear"),
)
"""Sides that tell both planes."""


@dataclass(frozen=True)
class Package:
    """Readings taken in one go, in a set-up of their own.

    Args:
        readings: with their usual errors; what they read is not known yet.
        words: what to do.
        unhandy: how much more trouble than others it is to a shop that has not read this kind yet, 0 to 2.
    """

    readings: tuple[Reading, ...]
    words: str
    unhandy: float = 0.0


def catalogue(job: Job) -> tuple[Package, ...]:
    """All packages for a job."""
    usual = stations(job)
    found = [*_lines(job, usual), *_angles(), _tape(job), *_dots(job)]
    round_about = tuple(place for place in usual if len(open_sides(job, place.at)) == len(SIDES))
    return tuple(
        [*found, *_turning(job, round_about)] if len({tube for _, tube in round_about}) > 1 else found
    )


def _lines(job: Job, usual: Iterable[Station]) -> Iterator[Package]:
    """Strings and heights where the skin is bare once all is welded on."""
    where = {side: _open(job, usual, side) for side in SIDES}
    string = Origin(0, _SETUP, usual_errors()["string"].error)
    for side, places in where.items():
        if len(places) > 2:
            words = f"{_string_along(side)} {_at(job, places)}."
            yield Package(tuple(Gap(string, at, side, 0.0) for at in places), words)
    for upright, level in _PAIRS:
        if min(len(where[upright]), len(where[level])) > 2:
            both = tuple(Gap(string, at, side, 0.0) for side in (upright, level) for at in where[side])
            shared = sorted({*where[upright], *where[level]})
            words = f"{_string_along(upright)} {_at(job, shared)}; then the same along the {level} where it is bare."
            yield Package(both, words, 0.1)
    surface = Origin(0, _SETUP, usual_errors()["height"].error)
    if len(places := where["bottom"]) > 2:
        words = f"Stand the housing over a flat surface and read the height of the tube's bottom at {_at(job, places)}."
        yield Package(tuple(Height(surface, at, "bottom", 0.0) for at in places), words, 0.2)


def _string_along(side: Side) -> str:
    return f"Stretch a string along the {side} of both tubes and read the gap to the skin at"


def _open(job: Job, usual: Iterable[Station], side: Side) -> list[float]:
    return [at for at, _ in usual if side in open_sides(job, at)]


def _angles() -> Iterator[Package]:
    """The angle finder on both flanges, with the level across."""
    still = "without moving the housing in between"
    level = "the level on a straight bar from flange to flange"
    for sense, across, words in (
        ("camber", "level", f"Read camber on both flanges with the angle finder, and {level}, {still}."),
        (
            "toe",
            "level on side",
            f"Lay the housing on its side. Read toe on both flanges, and {level}, {still}.",
        ),
    ):
        yield Package((*_both_flanges(_sense(sense)), _angle("across", _sense(across))), words, 0.1)
    words = f"Read caster, the fore-aft lean, on both flanges with the angle finder, {still}."
    yield Package(_both_flanges("caster"), words, 0.1)


def _sense(name: str) -> Sense:
    senses: dict[str, Sense] = {
        "camber": "camber",
        "toe": "toe",
        "level": "level",
        "level on side": "level on side",
    }
    return senses[name]


def _both_flanges(sense: Sense) -> tuple[Reading, ...]:
    return _angle("left", sense), _angle("right", sense)


def _angle(end: End, sense: Sense) -> Angle:
    return Angle(Origin(0, _SETUP, math.radians(usual_errors()["angle"].error)), end, sense, 0.0)


def _tape(job: Job) -> Package:
    bars = _BARS[job.inch]
    words = (
        f"Clamp a bar {format_length(bars, job.inch)} long, or discs, across the face of each flange and read "
        "the tape from side to side in front of and behind the axle."
    )
    return Package((ToeTape(Origin(0, _SETUP, usual_errors()["toe"].error), 1.0, 1.0, bars),), words, 0.2)


def _dots(job: Job) -> Iterator[Package]:
    """A laser on one flange, a target in the bore of the other."""
    length, ends = job.housing.length, ("left", "right")
    beam = length * math.tan(math.radians(usual_errors()["beam"].error))
    origin = Origin(0, _SETUP, math.hypot(usual_errors()["dot"].error, beam))
    for number, end in enumerate(ends):
        words = (
            f"Stand a laser square on the {end} flange, shining through the housing, and read its dot on a target in "
            f"the middle of the {ends[1 - number]} flange."
        )
        flange: Literal["left", "right"] = "left" if number == 0 else "right"
        yield Package((Dot(origin, flange, length, 0.0, 0.0),), words, 1.0)


def _turning(job: Job, usual: tuple[Station, ...]) -> Iterator[Package]:
    """A dial on both tubes where nothing stands in its way, the housing turning between centres."""
    places = _two_on_each(usual)
    dial, clock = usual_errors()["four-point"].error, usual_errors()["clock"].error / 3600.0
    origin = Origin(0, _SETUP, dial)
    turn = "Turn the housing between centres in its flanges' bores and read"
    words = f"{turn} the dial with 12, 3, 6 and 9 under it at"
    yield Package(
        tuple(FourPoint(origin, at, _ROUND, None) for at in places), f"{words} {_at(job, places)}.", 1.5
    )
    origin = Origin(0, _SETUP, usual_errors()["runout"].error)
    words = f"{turn} the dial's total and the clock of the high spot at"
    yield Package(
        tuple(Runout(origin, at, 0.0, 0.0, clock, None) for at in places),
        f"{words} {_at(job, places)}.",
        1.6,
    )


def _two_on_each(usual: tuple[Station, ...]) -> list[float]:
    """The station next to the centre and the one in the middle of each tube."""
    left = [at for at, tube in usual if tube == "left tube"]
    right = [at for at, tube in usual if tube == "right tube"]
    return sorted(
        {at for own in (left, right[::-1]) if own for at in (own[len(own) // 2 - (len(own) > 2)], own[-1])}
    )


def _at(job: Job, places: list[float]) -> str:
    """Distances in words: "75, 210 and 345 mm from the left flange"."""
    shown = [format_length(at, job.inch) for at in places]
    unit = shown[0][shown[0].rindex(" ") :]
    plain = [one.removesuffix(unit) for one in shown[:-1]]
    listed = f"{', '.join(plain)} and {shown[-1]}" if plain else shown[-1]
    return f"{listed} from the left flange"
