"""Times of a log: minutes since the first arc, or the clock on the wall."""

from __future__ import annotations

import math
import re
from bisect import bisect_right
from dataclasses import dataclass
from datetime import datetime

from axlewright.errors import Fault, LogError
from axlewright.units import show

_CLOCK = re.compile(
    r"(?:(\d{4})-(\d{1,2})-(\d{1,2})[T ]+)?(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,](\d{1,3}))?)?", re.ASCII
)
_NUMBER = re.compile(r"-?\d+(?:[.,]\d+)?", re.ASCII)

DAY = 86400.0
MIDNIGHT = 18 * 3600.0
"""A clock that falls back by more than this has passed midnight [s]; an overnight break needs the date."""


@dataclass(frozen=True)
class Time:
    """A time as written.

    Args:
        seconds: since the first arc, or since the midnight before the first day [s].
        clock: whether it is a time of day.
        dated: whether the day was given.
        exact: whether seconds, or decimals of a minute, were given.
    """

    seconds: float
    clock: bool
    dated: bool
    exact: bool


def read_time(text: str) -> Time:
    """A time from its cell.

    Raises:
        LogError: it is neither a number of minutes nor a time of day.
    """
    if _NUMBER.fullmatch(text):
        minutes = float(text.replace(",", "."))
        return Time(60.0 * minutes, False, False, any(mark in text for mark in ".,"))
    if match := _CLOCK.fullmatch(text):
        year, month, day, hour, minute, second, part = match.groups()
        if int(hour) < 24 and int(minute) < 60 and int(second or 0) < 60:
            seconds = 3600.0 * int(hour) + 60.0 * int(minute) + float(f"{second or 0}.{part or 0}")
            return Time(seconds + _day(year, month, day, text), True, year is not None, second is not None)
    raise _unreadable(text)


def _day(year: str | None, month: str | None, day: str | None, text: str) -> float:
    if year is None or month is None or day is None:
        return 0.0
    try:
        return DAY * datetime(int(year), int(month), int(day)).toordinal()
    except ValueError as error:
        raise _unreadable(text) from error


def _unreadable(text: str) -> LogError:
    allowed = "a time is the clock, or minutes since the first arc"
    remedy = 'Write "14:05", "14:05:30", "2025-03-01 14:05" or "37.5".'
    return LogError(Fault("time", show(text), allowed, remedy))


def unwrapped(times: list[Time]) -> list[float]:
    """Clock times as seconds that run on over midnight [s]; those before the first date are of that day."""
    dated = [time.seconds for time in times if time.dated]
    shift, before = (DAY * (dated[0] // DAY) if dated else 0.0), -math.inf
    seconds = []
    for time in times:
        if time.dated:
            shift = 0.0
        elif before - (time.seconds + shift) > MIDNIGHT:
            # Undated lines after a dated one belong to the same day until the clock passes midnight.
            shift = DAY * math.ceil((before - time.seconds - MIDNIGHT) / DAY)
        before = time.seconds + shift
        seconds.append(before)
    return seconds


def backward(seconds: list[float]) -> list[int]:
    """Which times run backwards: the fewest entries without which all others stand in order.

    A slip such as 15:05 for 14:05 makes every later line run backwards; taking out the fewest finds the slip. Of
    two equally good answers the one that keeps the earlier entries is given.
    """
    # The longest run of falling times, sought from the end; `tails` holds their negatives, which rise.
    tails: list[float] = []
    last: list[int] = []
    after: list[int] = [-1] * len(seconds)
    for number in range(len(seconds) - 1, -1, -1):
        place = bisect_right(tails, -seconds[number])
        after[number] = last[place - 1] if place else -1
        if place == len(tails):
            tails.append(-seconds[number])
            last.append(number)
        else:
            tails[place], last[place] = -seconds[number], number
    kept, number = set(), last[-1] if last else -1
    while number >= 0:
        kept.add(number)
        number = after[number]
    return [number for number in range(len(seconds)) if number not in kept]
