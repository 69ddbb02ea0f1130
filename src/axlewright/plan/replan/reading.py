"""Reading a bead log: from its text to what happened, and what is wrong with it line by line.

A line that cannot be used is told and left out; all others are kept. The file is never written to.
"""

from __future__ import annotations

import difflib
import os
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from axlewright.errors import Fault, JobFileError, LogError
from axlewright.file_text import utf8_text
from axlewright.plan.replan.cells import Cells
from axlewright.plan.replan.events import (
    AmbientChanged,
    ArcStarted,
    ArcStopped,
    BeadSkipped,
    Event,
    SettingChanged,
    TackLeftOut,
    TacksDone,
    TackSet,
    TemperatureRead,
    Turned,
)
from axlewright.plan.replan.names import Names
from axlewright.plan.replan.rows import LARGEST_LOG, Row, rows_of
from axlewright.plan.replan.times import Time, backward, read_time, unwrapped
from axlewright.units import show


@dataclass(frozen=True)
class BeadLog:
    """A log as it was read.

    Args:
        events: what happened, in time; times count from the first arc, or from midnight where `clock` is true.
        faults: what cannot be used.
        clock: whether times are of the clock on the wall.
    """

    events: tuple[Event, ...]
    faults: tuple[Fault, ...]
    clock: bool


def read_log(path: str | os.PathLike[str], names: Names, inch: bool) -> BeadLog:
    """The log in a file; see `parse_log`.

    Raises:
        LogError: the file cannot be read, or nothing of it can be used.
    """
    try:
        with Path(path).open("rb") as file:
            data = file.read(4 * LARGEST_LOG + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise LogError(
            Fault(str(path), "unreadable", reason, "Check the name of the bead log and the rights.")
        ) from error
    remedy = "Save it as UTF-8 (CSV UTF-8 in a spreadsheet)."
    text = utf8_text(data, str(path), LogError, "a bead log", remedy)
    return parse_log(text, str(path), names, inch)


def parse_log(text: str, source: str, names: Names, inch: bool) -> BeadLog:
    """The log in a text.

    Args:
        text: the log; docs/bead-log.md describes it.
        source: stands for the file in messages.
        names: the job's beads, tacks and places by name.
        inch: whether bare numbers are in inches and degF.

    Raises:
        LogError: nothing of it can be used.
    """
    rows, faults = rows_of(text, source)
    timed, clock = _timed(rows, faults)
    events = []
    for row, time, seconds in timed:
        try:
            events.append(_event(Cells(row, names, inch), seconds, time.exact))
        except (LogError, JobFileError) as error:
            faults.extend(_placed(fault, row.where) for fault in error.faults)
    return BeadLog(tuple(event for event in events if event is not None), tuple(faults), clock)


def _placed(fault: Fault, where: str) -> Fault:
    return fault if fault.where.startswith(where) else replace(fault, where=f"{where}: {fault.where}")


def _timed(rows: list[Row], faults: list[Fault]) -> tuple[list[tuple[Row, Time, float]], bool]:
    """Rows with their times, those that run backwards left out; whether times are of the clock."""
    read: list[tuple[Row, Time]] = []
    for row in rows:
        try:
            if not row.get("time"):
                allowed, remedy = (
                    "every line has its time",
                    "Write the clock, or minutes since the first arc.",
                )
                raise LogError(Fault("time", "missing", allowed, remedy))
            read.append((row, read_time(row.get("time"))))
        except LogError as error:
            faults.extend(_placed(fault, row.where) for fault in error.faults)
    clock = sum(time.clock for _, time in read) * 2 > len(read)
    for row, _ in (pair for pair in read if pair[1].clock != clock):
        allowed = (
            f"the other lines of this log give {'the clock' if clock else 'minutes since the first arc'}"
        )
        faults.append(Fault(f"{row.where}: time", show(row.get("time")), allowed, "Write all times one way."))
    read = [pair for pair in read if pair[1].clock == clock]
    seconds = unwrapped([time for _, time in read])
    wrong = set(backward(seconds))
    faults.extend(_runs_back(read[number][0]) for number in sorted(wrong))
    kept = [n for n in range(len(read)) if n not in wrong]
    return [(*read[n], seconds[n]) for n in kept], clock


def _runs_back(row: Row) -> Fault:
    allowed = "time runs backwards here; each line is as late as the one before it, or later"
    remedy = "Mend the time or move the line. After a night's break write the date too: 2025-03-01 08:00."
    return Fault(f"{row.where}: time", show(row.get("time")), allowed, remedy)


def _event(cells: Cells, time: float, exact: bool) -> Event | None:
    word = " ".join(cells.row.get("event").casefold().split())
    make = _MAKERS.get(word)
    if make is None:
        near = difflib.get_close_matches(word, _MAKERS, n=1, cutoff=0.6)
        remedy = f'Did you mean "{near[0]}"?' if near else "See docs/bead-log.md."
        allowed = f"an event is one of {', '.join(_MAKERS)}"
        raise LogError(Fault("event", show(word) if word else "missing", allowed, remedy))
    return make(cells, time, exact)


def _start(cells: Cells, time: float, exact: bool) -> Event:
    bead, from_s, to_s = cells.bead()
    return ArcStarted(time=time, where=cells.row.where, bead=bead, from_s=from_s, to_s=to_s, exact=exact)


def _stop(cells: Cells, time: float, exact: bool) -> Event:
    if not cells.names_bead():
        if cells.row.get("from") or cells.row.get("to"):
            remedy = "Write the bead's name as well, e.g. A3."
            raise LogError(Fault("bead", "missing", "a mark needs the bead it is on", remedy))
        return ArcStopped(time=time, where=cells.row.where, exact=exact)
    bead, from_s, to_s = cells.bead()
    return ArcStopped(time=time, where=cells.row.where, bead=bead, from_s=from_s, to_s=to_s, exact=exact)


def _skip(cells: Cells, time: float, exact: bool) -> Event:
    return BeadSkipped(time=time, where=cells.row.where, bead=cells.bead()[0])


def _tack(cells: Cells, time: float, exact: bool) -> Event:
    return TackSet(time=time, where=cells.row.where, tack=cells.tack())


def _no_tack(cells: Cells, time: float, exact: bool) -> Event:
    return TackLeftOut(time=time, where=cells.row.where, tack=cells.tack())


def _tacks_done(cells: Cells, time: float, exact: bool) -> Event:
    return TacksDone(time=time, where=cells.row.where)


def _setting(cells: Cells, time: float, exact: bool) -> Event:
    setting, value = cells.setting()
    return SettingChanged(time=time, where=cells.row.where, setting=setting, value=value)


def _temperature(cells: Cells, time: float, exact: bool) -> Event:
    stretch, place = cells.read_at()
    return TemperatureRead(
        time=time,
        where=cells.row.where,
        temperature=cells.temperature(),
        stretch=stretch,
        place=place,
        error=cells.reading_error(),
        exact=exact,
    )


def _ambient(cells: Cells, time: float, exact: bool) -> Event:
    return AmbientChanged(time=time, where=cells.row.where, temperature=cells.ambient())


def _turn(cells: Cells, time: float, exact: bool) -> Event:
    return Turned(time=time, where=cells.row.where, turn=cells.turn())


def _note(cells: Cells, time: float, exact: bool) -> None:
    return None


_MAKERS: dict[str, Callable[[Cells, float, bool], Event | None]] = {
    "start": _start,
    "stop": _stop,
    "skip": _skip,
    "tack": _tack,
    "no tack": _no_tack,
    "tacks done": _tacks_done,
    "setting": _setting,
    "temperature": _temperature,
    "ambient": _ambient,
    "turn": _turn,
    "note": _note,
}
EVENTS = tuple(_MAKERS)
"""Words for what may happen."""
