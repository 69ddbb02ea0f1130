"""What is asked of the tables, and what is put into them, inside a transaction."""

from __future__ import annotations

from typing import Any

from sqlalchemy import Connection, Select, select, text

from axlewright.record import tables
from axlewright.record.chain import event_of
from axlewright.record.events import Event
from axlewright.record.faults import damaged

_EVENT = tables.event

# The same words on both databases. Two writers may bring one job or document at the same moment; the second then
# waits for the first and finds it there.
_KEEP_JOB = text("INSERT INTO job (id) VALUES (:id) ON CONFLICT DO NOTHING")
_KEEP_DOCUMENT = text("INSERT INTO document (digest, data) VALUES (:digest, :data) ON CONFLICT DO NOTHING")


def hold_job(connection: Connection, job: str) -> bool:
    """Whether there is such a job; if so, nobody else adds to it until the transaction ends."""
    query = select(tables.job.c.id).where(tables.job.c.id == job).with_for_update()
    return connection.execute(query).first() is not None


def keep_job(connection: Connection, job: str) -> None:
    """Put a job into the record unless it is there, and hold it."""
    if not hold_job(connection, job):
        connection.execute(_KEEP_JOB, {"id": job})
        hold_job(connection, job)


def last_event(connection: Connection, job: str) -> Event | None:
    """The last event of a job; None where it has none."""
    query = select(_EVENT).where(_EVENT.c.job == job).order_by(_EVENT.c.number.desc()).limit(1)
    return next(iter(found_events(connection, query)), None)


def event_by_key(connection: Connection, job: str, key: str) -> Event | None:
    """The event of a job that was told with this key."""
    query = select(_EVENT).where(_EVENT.c.job == job, _EVENT.c.key == key)
    return next(iter(found_events(connection, query)), None)


def event_by_number(connection: Connection, job: str, number: int) -> Event | None:
    """The event of a job with this number."""
    query = select(_EVENT).where(_EVENT.c.job == job, _EVENT.c.number == number)
    return next(iter(found_events(connection, query)), None)


def events_after(connection: Connection, job: str, after: int) -> tuple[Event, ...]:
    """The events of a job after a number, in order."""
    query = select(_EVENT).where(_EVENT.c.job == job, _EVENT.c.number > after).order_by(_EVENT.c.number)
    return found_events(connection, query)


def found_events(connection: Connection, query: Select[Any]) -> tuple[Event, ...]:
    """The events a query of all columns of their table finds.

    Raises:
        DamagedRecordError: what is found there is no event.
    """
    try:
        return tuple(map(event_of, connection.execute(query).fetchall()))
    except (ValueError, TypeError) as error:
        raise damaged(connection.engine.url, f"an event cannot be read: {error}") from error


def has_document(connection: Connection, digest: str) -> bool:
    """Whether the record has a document of that digest."""
    query = select(tables.document.c.digest).where(tables.document.c.digest == digest)
    return connection.execute(query).first() is not None


def keep_document(connection: Connection, digest: str, data: bytes) -> None:
    """Put a document into the record unless it is there."""
    if not has_document(connection, digest):
        connection.execute(_KEEP_DOCUMENT, {"digest": digest, "data": data})
