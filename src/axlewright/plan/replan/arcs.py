"""From what happened to arcs: which bead, from when to when, from mark to mark, with which settings.

A bead may be logged by its start, by its stop, or by both. What is not said follows from the settings.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from axlewright.errors import Fault
from axlewright.job.schema import Job
from axlewright.plan.replan.coverage import Coverage, Span, overlaps
from axlewright.plan.replan.events import (
    ArcStarted,
    ArcStopped,
    BeadSkipped,
    Event,
    SettingChanged,
    TackLeftOut,
    TackSet,
)
from axlewright.plan.replan.names import Names
from axlewright.plan.settings import WeldSettings, weld_settings
from axlewright.solid.mesh import Floats, Ints

PLAUSIBLE = (0.5, 2.0)
"""A logged arc time over what the travel speed gives is believed between these [1]."""

AT_THE_END = 0.003
"""A mark this close to the other end of a bead means that it was welded the other way [m]."""

CROWDED = 90.0
"""Arcs written to whole minutes may have to move up by this much before it is a fault [s]."""

_KEYS = {"volts": "volts", "amps": "amps", "travel speed": "travel_speed", "wire feed": "wire_feed"}


@dataclass(frozen=True)
class Arc:
    """One arc over a bead or a part of it.

    Args:
        bead: number of the bead it was meant for.
        start: when it started, seconds from the first arc [s].
        end: when it stopped [s].
        span: arc lengths along the seam from where to where [m].
        stretches: the stretches it passed, in its order.
        lengths: how much of each [m].
        settings: how the machine was set.
        burning: whether the log ends before it stopped.
        where: entry of the log, for messages.
    """

    bead: int
    start: float
    end: float
    span: Span
    stretches: Ints
    lengths: Floats
    settings: WeldSettings
    burning: bool
    where: str


@dataclass(frozen=True)
class Followed:
    """A log with its arcs put together.

    Args:
        actions: everything that happened, in time; an arc stands where it started.
        coverage: what is welded after the last arc.
        skipped: numbers of the beads that shall not be laid.
        tacks_set: numbers of the tacks that were logged as set.
        tacks_out: numbers of the tacks that were not set or have cracked.
        job: the job as the machine is set now.
        faults: what could not be used.
    """

    actions: tuple[Arc | Event, ...]
    coverage: Coverage
    skipped: frozenset[int]
    tacks_set: frozenset[int]
    tacks_out: frozenset[int]
    job: Job
    faults: tuple[Fault, ...]

    @property
    def arcs(self) -> tuple[Arc, ...]:
        """The arcs alone."""
        return tuple(action for action in self.actions if isinstance(action, Arc))


def follow(job: Job, names: Names, events: tuple[Event, ...]) -> Followed:
    """Put the arcs of a log together; entries that cannot be true are told and left out.

    Args:
        job: the job as planned.
        names: its beads and tacks by name.
        events: what happened, in any order; it is put in order of time.
    """
    walked = _Follower(job, names)
    for event in sorted(events, key=lambda event: event.time):
        walked.take(event)
    walked.close(None, burning=True)
    return Followed(
        tuple(action for action in walked.actions if action is not None),
        walked.coverage,
        frozenset(walked.skipped),
        frozenset(walked.tacks_set),
        frozenset(walked.tacks_out),
        walked.job,
        tuple(walked.faults),
    )


class _Follower:
    def __init__(self, job: Job, names: Names) -> None:
        self.job, self.names, self.settings = job, names, weld_settings(job)
        self.coverage = Coverage(names.assembly)
        self.arcs: list[Arc] = []
        self.actions: list[Arc | Event | None] = []
        self.faults: list[Fault] = []
        self.skipped: set[int] = set()
        self.tacks_set: set[int] = set()
        self.tacks_out: set[int] = set()
        self.open: ArcStarted | None = None
        self.open_at = 0
        self.refused: int | None = None

    def take(self, event: Event) -> None:
        """Take the next thing that happened."""
        if isinstance(event, ArcStarted):
            self.close(event.time)
            self.refused = None
            if self._may_lay(event.bead, event.where):
                self.open, self.open_at = event, len(self.actions)
                self.actions.append(None)
            else:
                self.refused = event.bead
        elif isinstance(event, ArcStopped):
            self._stopped(event)
        elif isinstance(event, BeadSkipped):
            self._skip(event)
        elif isinstance(event, TackSet):
            self._tack(event)
        elif isinstance(event, TackLeftOut):
            self.tacks_out.add(event.tack)
        else:
            if isinstance(event, SettingChanged):
                self._set(event)
            self.actions.append(event)

    def close(self, at: float | None, burning: bool = False) -> None:
        """End an arc whose stop was not logged; `at` is when the next one starts."""
        begun, self.open = self.open, None
        if begun is not None:
            self._lay(begun, None, at, burning)

    def _stopped(self, event: ArcStopped) -> None:
        begun = self.open
        if begun is not None and event.bead in (None, begun.bead):
            self.open = None
            self._lay(begun, event, None, False)
        elif self.refused is not None and event.bead in (None, self.refused):
            self.refused = None
        elif event.bead is None:
            remedy = "Write the bead's name in the line, e.g. A3, or a line for its start before."
            self.faults.append(Fault(event.where, "a stop", "no arc was burning then", remedy))
        else:
            self.close(event.time)
            if self._may_lay(event.bead, event.where):
                self.open_at = len(self.actions)
                self.actions.append(None)
                start = ArcStarted(time=math.nan, where=event.where, bead=event.bead)
                self._lay(start, event, None, False)

    def _may_lay(self, bead: int, where: str) -> bool:
        if not self.coverage.is_laid(bead):
            self.skipped.discard(bead)
            return True
        laid = next((arc.where for arc in self.arcs if arc.bead == bead and arc.where), "an earlier entry")
        allowed = f"was laid already ({laid}); each bead is laid once"
        remedy = "Check which bead it was; a second pass over a finished bead is not followed."
        self.faults.append(Fault(f"{where}: bead", self.names.tags[bead], allowed, remedy))
        return False

    def _skip(self, event: BeadSkipped) -> None:
        if self.coverage.is_laid(event.bead):
            remedy = "Leave this line out, or mend the bead's name."
            tag = self.names.tags[event.bead]
            self.faults.append(Fault(f"{event.where}: bead", tag, "was laid already", remedy))
            return
        self.skipped.add(event.bead)

    def _tack(self, event: TackSet) -> None:
        if event.tack in self.tacks_set:
            fault = Fault(
                f"{event.where}: tack", f"T{event.tack + 1}", "was set already", "Check its number."
            )
            self.faults.append(fault)
            return
        self.tacks_set.add(event.tack)
        self.tacks_out.discard(event.tack)
        self.actions.append(event)

    def _set(self, event: SettingChanged) -> None:
        welder = self.job.welder.model_copy(update={_KEYS[event.setting]: event.value})
        self.job = self.job.model_copy(update={"welder": welder})
        self.settings = weld_settings(self.job)

    def _lay(self, begun: ArcStarted, stopped: ArcStopped | None, until: float | None, burning: bool) -> None:
        span = self._span(begun, stopped)
        seam = self.names.assembly.beads[begun.bead].seam
        stretches, lengths = overlaps(self.names.assembly, seam, span)
        where = begun.where if stopped is None else stopped.where
        if not len(stretches):
            allowed = "starts and stops at the same mark, or where nothing is to be welded"
            tag = self.names.tags[begun.bead]
            self.faults.append(Fault(f"{where}: bead", tag, allowed, "Mend the marks."))
            return
        expected = float(lengths.sum()) / self.settings.travel_speed
        start, end = self._in_time(begun, stopped, until, expected)
        self.coverage.add(seam, span)
        arc = Arc(begun.bead, start, end, span, stretches, lengths, self.settings, burning, begun.where)
        self.arcs.append(arc)
        self.actions[self.open_at] = arc

    def _in_time(
        self, begun: ArcStarted, stopped: ArcStopped | None, until: float | None, expected: float
    ) -> tuple[float, float]:
        """When the arc started and stopped; a log kept to whole minutes leaves that to the settings [s]."""
        start, seconds = begun.time, expected
        if stopped is not None and math.isnan(start):
            start = stopped.time - expected
        elif stopped is not None and begun.exact and stopped.exact:
            seconds = stopped.time - begun.time
            if not PLAUSIBLE[0] <= seconds / expected <= PLAUSIBLE[1]:
                self._odd_arc_time(begun, stopped, seconds, expected)
                seconds = expected
        elif until is not None:
            seconds = min(expected, max(until - start, 0.5 * expected))
        earliest = self.arcs[-1].end if self.arcs else start
        if earliest - start > CROWDED:
            allowed = f"starts {earliest - start:.0f} s before the bead before it can have ended"
            remedy = "It is taken to follow at once; check the times."
            self.faults.append(Fault(f"{begun.where}: bead", self.names.tags[begun.bead], allowed, remedy))
        start = max(start, earliest)
        return start, start + seconds

    def _odd_arc_time(self, begun: ArcStarted, stopped: ArcStopped, seconds: float, expected: float) -> None:
        allowed = f"travel speed and marks give {expected:.0f} s, which is used instead"
        remedy = "Check start, stop and marks; if the speed was changed, log it as a setting."
        self.faults.append(Fault(f"{stopped.where}: arc time", f"{seconds:.0f} s", allowed, remedy))

    def _span(self, begun: ArcStarted, stopped: ArcStopped | None) -> Span:
        """From where to where the arc really went."""
        piece = self.names.assembly.beads[begun.bead]
        seam = self.names.assembly.seams[piece.seam]
        said_from = begun.from_s if stopped is None or stopped.from_s is None else stopped.from_s
        said_to = begun.to_s if stopped is None or stopped.to_s is None else stopped.to_s
        middle = (piece.start + piece.end) / 2
        if seam.closed:
            said_from, said_to = (_near(mark, middle, seam.length) for mark in (said_from, said_to))
        begin, end = self.names.ends(begun.bead)
        turned_round = (said_to is not None and said_from is None and abs(said_to - begin) < AT_THE_END) or (
            said_from is not None and said_to is None and abs(said_from - end) < AT_THE_END
        )
        if turned_round:
            begin, end = end, begin
        return (begin if said_from is None else said_from, end if said_to is None else said_to)


def _near(mark: float | None, middle: float, length: float) -> float | None:
    """The same place on a closed seam, counted so that it lies near a bead."""
    return (
        None if mark is None else min((mark + n * length for n in (-1, 0, 1)), key=lambda s: abs(s - middle))
    )
