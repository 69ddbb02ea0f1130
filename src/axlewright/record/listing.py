"""The list of jobs."""

from __future__ import annotations

from collections import defaultdict

from sqlalchemy import Connection, func, select, tuple_

from axlewright.record import tables
from axlewright.record.events import Event, JobLine
from axlewright.record.rows import found_events
from axlewright.record.state import still_counting

_JOB, _EVENT = tables.job, tables.event


def job_lines(connection: Connection) -> tuple[JobLine, ...]:
    """All jobs by name and reference of the job file that counts, the one last told of first."""
    files = _job_files(connection)
    lines = (_line(last, files.get(last.job)) for last in _last_events(connection))
    return tuple(sorted(lines, key=lambda line: line.last.at, reverse=True))


# Jobs are asked for one by one (IN, not JOIN): they are far fewer than events, which SQLite does not know and would
# look through all of them instead.
_EACH_JOB = select(_JOB.c.id)
_FILES = _EVENT.c.job.in_(_EACH_JOB) & (_EVENT.c.kind == "job file")


def _last_events(connection: Connection) -> tuple[Event, ...]:
    highest = select(func.max(_EVENT.c.number)).where(_EVENT.c.job == _JOB.c.id).correlate(_JOB)
    last = select(_JOB.c.id, highest.scalar_subquery())
    return found_events(connection, select(_EVENT).where(tuple_(_EVENT.c.job, _EVENT.c.number).in_(last)))


def _job_files(connection: Connection) -> dict[str, Event]:
    """The last job file that counts, by job."""
    told = found_events(connection, select(_EVENT).where(_FILES)) + _amendments(connection)
    by_job: defaultdict[str, dict[int, Event]] = defaultdict(dict)
    for event in sorted(told, key=lambda event: event.number):
        by_job[event.job][event.number] = event
    counting = {job: still_counting(tuple(events.values())) for job, events in by_job.items()}
    found = {job: [e for e in events if e.kind == "job file"] for job, events in counting.items()}
    return {job: events[-1] for job, events in found.items() if events}


def _amendments(connection: Connection) -> tuple[Event, ...]:
    """All amendments in jobs of which a job file was amended: only there do they have a say in the name."""
    later, other = _EVENT.alias(), _EVENT.alias()
    amended = (later.c.job == _EVENT.c.job) & (later.c.amends == _EVENT.c.number)
    unsure = select(_EVENT.c.job).join(later, amended).where(_FILES)
    return found_events(connection, select(other).where(other.c.job.in_(unsure), other.c.amends > 0))


def _line(last: Event, file: Event | None) -> JobLine:
    body = {} if file is None else file.body
    return JobLine(last.job, body.get("name", ""), body.get("reference", ""), last)
