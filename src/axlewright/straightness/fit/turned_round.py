"""Readings as they would be had a sign, an end or a unit been mixed up, and how to say so."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from axlewright.straightness.readings.reading import (
    Angle,
    Dot,
    FourPoint,
    Gap,
    Height,
    Reading,
    Runout,
    ToeTape,
)
from axlewright.units import format_angle

_MEANT = {
    "camber": "camber is positive with the top outward",
    "toe": "toe is positive for toe-in",
    "caster": "caster is positive with the top rearward",
    "level": "level is positive with the left end higher",
    "level on side": "level on side is positive with the left end farther forward",
}
_PER_DEGREE = 60.0


@dataclass(frozen=True)
class Slip:
    """A slip of the pen that readings may hold.

    Args:
        name: what readings that share it are called.
        say: what to check, as the end of a sentence.
        turned: the reading without it.
    """

    name: str
    say: str
    turned: Callable[[Reading], Reading]


def slips(reading: Reading) -> Iterator[Slip]:
    """Slips that a reading, or all of its kind in a set-up, may hold."""
    match reading:
        case Gap(side=side):
            yield Slip(f"gaps on the {side}", f"check the sign: {_GAP}", _other_sign)
        case Height():
            yield Slip("heights", "check the sign: height counts upward", _other_sign)
        case Runout():
            yield Slip("dial totals", f"check the clock: {_OPPOSITE}", _other_sign)
            yield Slip("dial totals", f"check the clock: {_END}", _from_other_end)
        case FourPoint():
            yield Slip("four-point readings", f"check the sign: {_DIAL}", _other_sign)
            yield Slip("four-point readings", f"check the clock: {_END}", _from_other_end)
        case Angle(sense=sense):
            yield Slip(f"{sense} readings", f"check the sign: {_MEANT[sense]}", _other_sign)
        case ToeTape():
            yield Slip("toe tapes", "check whether front and rear are swapped", _other_sign)
        case Dot():
            yield Slip("laser dots", f"check the sign: {_DOT}", _other_sign)


_GAP = "a gap is larger where the skin is farther from the line"
_OPPOSITE = "it is the mark under the dial at the highest reading, not at the lowest"
_END = "it is seen from the driver's right end, 3 at the front"
_DIAL = "a reading is higher where the skin is farther out"
_DOT = "the laser shines through the housing, and up and ahead of the target's centre are positive"


def as_minutes(reading: Reading) -> Slip | None:
    """An angle that may have been written in minutes of arc where degrees belong."""
    if not isinstance(reading, Angle):
        return None
    minutes = math.degrees(reading.angle)
    say = f"{format_angle(minutes)} fits as {minutes:g} minutes of arc, {format_angle(minutes / _PER_DEGREE)}"
    return Slip("", f"{say}: give degrees", _in_minutes)


@dataclass(frozen=True)
class Shared:
    """A slip that several readings may share.

    Args:
        name: what the readings are called.
        slip: the slip.
        numbers: of the readings.
    """

    name: str
    slip: Slip
    numbers: frozenset[int]


def shared_slips(readings: Sequence[Reading]) -> list[Shared]:
    """Slips that all readings of one sort may share, in one set-up or in all."""
    by_setup: dict[tuple[str, str, str], Shared] = {}
    in_all: dict[tuple[str, str], Shared] = {}
    for number, reading in enumerate(readings):
        setup = reading.origin.setup
        for slip in slips(reading):
            one = Shared(f"the {slip.name} ({setup})", slip, frozenset({number}))
            every = Shared(f"all {slip.name}", slip, frozenset({number}))
            by_setup[slip.name, slip.say, setup] = _joined(by_setup.get((slip.name, slip.say, setup)), one)
            in_all[slip.name, slip.say] = _joined(in_all.get((slip.name, slip.say)), every)
    found = list(by_setup.values())
    single = {one.numbers for one in found}
    return found + [every for every in in_all.values() if every.numbers not in single]


def _joined(first: Shared | None, second: Shared) -> Shared:
    return second if first is None else replace(first, numbers=first.numbers | second.numbers)


def _other_sign(reading: Reading) -> Reading:
    """The reading with everything that has a sign turned round."""
    match reading:
        case Gap():
            return replace(reading, gap=-reading.gap)
        case Height():
            return replace(reading, height=-reading.height)
        case Runout():
            return replace(reading, clock=(reading.clock + 6.0) % 12.0)
        case FourPoint(readings=(top, front, bottom, rear)):
            return replace(reading, readings=(-top, -front, -bottom, -rear))
        case Angle():
            return replace(reading, angle=-reading.angle)
        case ToeTape():
            return replace(reading, front=reading.rear, rear=reading.front)
        case Dot():
            return replace(reading, up=-reading.up, forward=-reading.forward)


def _from_other_end(reading: Reading) -> Reading:
    """The reading as it is where the clock was seen from the driver's left end."""
    match reading:
        case Runout():
            return replace(reading, clock=(12.0 - reading.clock) % 12.0)
        case FourPoint(readings=(top, front, bottom, rear)):
            return replace(reading, readings=(top, rear, bottom, front))
    return reading


def _in_minutes(reading: Reading) -> Reading:
    return replace(reading, angle=reading.angle / _PER_DEGREE) if isinstance(reading, Angle) else reading
