"""The same reading given twice: a copy, a reading taken again, or two that contradict each other."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from axlewright.errors import Fault
from axlewright.straightness.readings.reading import (
    Angle,
    Dot,
    FourPoint,
    Gap,
    Height,
    Origin,
    Reading,
    Runout,
    ToeTape,
)
from axlewright.straightness.readings.table import MEASURED, Row

FAR_APART = 4.0
"""Standard deviations of their difference beyond which two readings of one place contradict each other; by chance
one pair in 16,000 does."""

_NOWHERE = Origin(0, "", 0.0)
_AGAIN = re.compile(r"\b(?:repeat(?:ed)?|again)\b", re.IGNORECASE)


@dataclass(frozen=True)
class Entry:
    """A reading and the row it came from."""

    row: Row
    reading: Reading

    @property
    def meant_twice(self) -> bool:
        """Whether its note says that the place was read again."""
        return bool(_AGAIN.search(self.row.get("note")))


def without_doubles(entries: list[Entry]) -> tuple[list[Entry], list[Fault]]:
    """The entries to use, and what is told about those given twice.

    Of equal ones the first is used, of contradicting ones none. Those whose note says "repeat" are all used, and so
    are those that agree within their errors: a place read twice tells more than a place read once.
    """
    groups: dict[tuple[object, ...], list[Entry]] = {}
    for entry in entries:
        if not entry.meant_twice:
            groups.setdefault(place_of(entry.reading), []).append(entry)
    dropped: set[int] = set()
    faults: list[Fault] = []
    for group in groups.values():
        once: dict[Reading, Entry] = {}
        for entry in group:
            first = once.setdefault(replace(entry.reading, origin=_NOWHERE), entry)
            if first is not entry:
                faults.append(_copy(entry, first))
                dropped.add(id(entry))
        if _contradict(list(once.values())):
            faults.append(_contradiction(list(once.values())))
            dropped.update(id(entry) for entry in once.values())
    return [entry for entry in entries if id(entry) not in dropped], faults


def place_of(reading: Reading) -> tuple[object, ...]:
    """What a reading reads: its kind, set-up and place."""
    head = (type(reading).__name__, reading.origin.setup)
    match reading:
        case Gap() | Height():
            return (*head, reading.side, round(reading.at, 4))
        case Runout() | FourPoint():
            return (*head, reading.blocks, round(reading.at, 4))
        case Angle():
            return (*head, reading.end, reading.sense)
        case ToeTape():
            return (*head, round(reading.diameter, 4))
        case Dot():
            return (*head, reading.end, round(reading.distance, 4))


def measured_by(reading: Reading) -> Iterator[tuple[float, float]]:
    """What a reading tells of its place, with the error of each figure; the zero of a dial or tape drops out."""
    error = reading.origin.error
    match reading:
        case Gap():
            yield reading.gap, error
        case Height():
            yield reading.height, error
        case Angle():
            yield reading.angle, error
        case ToeTape():
            yield reading.front - reading.rear, math.sqrt(2.0) * error
        case Dot():
            yield from ((reading.up, error), (reading.forward, error))
        case FourPoint():
            top, front, bottom, rear = reading.readings
            yield from ((top - bottom, math.sqrt(2.0) * error), (front - rear, math.sqrt(2.0) * error))
        case Runout():
            turn = reading.clock * math.pi / 6.0
            either = math.hypot(error, reading.total * reading.clock_error * math.pi / 6.0)
            yield reading.total, error
            yield from ((reading.total * math.cos(turn), either), (reading.total * math.sin(turn), either))


def _contradict(entries: list[Entry]) -> bool:
    """Whether the least and the largest of any figure lie too far apart."""
    figures = zip(*(measured_by(entry.reading) for entry in entries), strict=True)
    ends = ((min(figure), max(figure)) for figure in figures)
    return any(high - low > FAR_APART * math.hypot(one, other) for (low, one), (high, other) in ends)


def _copy(entry: Entry, first: Entry) -> Fault:
    where = entry.row.label
    allowed = f"is the same reading as on {_line(first)}, and used once"
    return Fault(where, "", allowed, 'Write "repeat" in its note if the place was read twice.')


def _contradiction(entries: list[Entry]) -> Fault:
    *others, last = entries
    told = " and ".join(f"{_line(entry)} ({_figures(entry)})" for entry in others[:3])
    allowed = f"contradicts {told}: same place and set-up; none of them is used"
    remedy = 'Strike out the wrong one; if both were read, write "repeat" in the note of the later one.'
    return Fault(last.row.label, _figures(last), allowed, remedy)


def _line(entry: Entry) -> str:
    return entry.row.label.removeprefix(entry.row.source).strip()


def _figures(entry: Entry) -> str:
    return " / ".join(entry.row.get(column) for column in MEASURED if entry.row.get(column))
