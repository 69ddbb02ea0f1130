"""A bead log answered: where things stand, and the best way on."""

from __future__ import annotations

from dataclasses import dataclass, replace

from axlewright.errors import Fault, LogError
from axlewright.plan.replan.describing import replan_report
from axlewright.plan.replan.events import Event
from axlewright.plan.replan.intent import Intent
from axlewright.plan.replan.outcome import ReplanReport
from axlewright.plan.replan.reading import BeadLog
from axlewright.plan.replan.remaining import best_from_here, improve
from axlewright.plan.replan.replay import since_first_arc
from axlewright.plan.replan.times import DAY, read_time
from axlewright.units import show

TRIES = 60
"""Orders tried after the first answer, where the plan does not hold."""


@dataclass(frozen=True)
class Moments:
    """A log with its times counted from the first arc.

    Args:
        events: what happened.
        zero: the clock at the first arc, seconds from midnight, or None where the log has no clock [s].
        now: the present, or None for the last entry [s].
    """

    events: tuple[Event, ...]
    zero: float | None
    now: float | None


def moments(intent: Intent, log: BeadLog, at: str | None) -> Moments:
    """Put a log's times, and the present, on one scale.

    Args:
        intent: what was planned.
        log: the log as read.
        at: the present, written as the log writes its times, or None for its last entry.

    Raises:
        LogError: the present cannot be read, or lies before the last entry.
    """
    events, zero = since_first_arc(intent.bench, log.events) if log.clock else (log.events, None)
    if at is None:
        return Moments(events, zero, None)
    time = read_time(at)
    if events and time.clock != log.clock:
        how = "the clock" if log.clock else "minutes since the first arc"
        raise LogError(Fault("the present", show(at), f"the log gives {how}", "Write it the same way."))
    last = max((event.time for event in events), default=0.0)
    now = time.seconds - (zero or 0.0)
    if time.clock and not time.dated:
        # A time of day without its date is the next one after the last entry.
        now += DAY * round((last - now) / DAY)
    if now < last - 60.0:
        allowed = "is before the last entry of the log"
        raise LogError(Fault("the present", show(at), allowed, "Give a later time, or leave it out."))
    return Moments(events, zero, now)


def replanned(intent: Intent, log: BeadLog, at: str | None = None, tries: int = TRIES) -> ReplanReport:
    """Answer a log.

    Args:
        intent: what was planned.
        log: the log as read.
        at: the present, written as the log writes its times, or None for its last entry.
        tries: orders to try after the first answer.

    Raises:
        LogError: the present cannot be read, or lies before the last entry.
    """
    told = moments(intent, log, at)
    standing = intent.standing(told.events, told.now)
    best = best_from_here(intent, standing)
    for better in improve(intent, standing, best, tries):
        best = better
    zero = None if told.zero is None else told.zero % DAY
    report = replan_report(intent, standing, best, log.faults, zero)
    return replace(report, faults=tuple(dict.fromkeys(report.faults)))
