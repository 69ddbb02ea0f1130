"""Writing an event down, inside a transaction that holds its job."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import Connection

from axlewright.errors import Fault, RecordError
from axlewright.record import tables
from axlewright.record.chain import chained_digest, row_of
from axlewright.record.checking import AGAIN, told_time
from axlewright.record.events import Document, DocumentLine, Event, NewEvent
from axlewright.record.rows import event_by_key, event_by_number, keep_document, last_event
from axlewright.record.signed import check_signed


def written(connection: Connection, job: str, new: NewEvent, body: Mapping[str, Any]) -> Event:
    """Write an event down at the end of its job's record, or give the one that this telling wrote before.

    Args:
        connection: in a transaction that holds the job.
        job: the job.
        new: the event.
        body: what it tells, as `checking.checked` gives it.

    Raises:
        RecordError: its key was used for something else, or it amends what it cannot.
        SignedOffError: it touches what is signed off and gives no reason.
    """
    lines = tuple(_line(document) for document in new.documents)
    known = event_by_key(connection, job, new.key)
    if known is not None:
        return _same_telling(known, new, body, lines)
    before = last_event(connection, job)
    event = _event(job, new, body, lines, before)
    _check_amended(connection, event)
    check_signed(connection, event)
    for document in new.documents:
        keep_document(connection, document.digest, document.data)
    connection.execute(tables.event.insert(), row_of(event))
    return event


def _event(
    job: str, new: NewEvent, body: Mapping[str, Any], lines: tuple[DocumentLine, ...], before: Event | None
) -> Event:
    now = datetime.now(UTC)
    event = Event(
        job=job,
        number=1 if before is None else before.number + 1,
        kind=new.kind,
        who=new.who,
        device=new.device,
        at=now,
        told_at=told_time(new.told_at, now),
        key=new.key,
        body=body,
        documents=lines,
        amends=new.amends,
        reason=new.reason,
    )
    return replace(event, digest=chained_digest(event, "" if before is None else before.digest))


def _line(document: Document) -> DocumentLine:
    return DocumentLine(document.name, document.media_type, document.digest, len(document.data))


def _same_telling(
    known: Event, new: NewEvent, body: Mapping[str, Any], lines: tuple[DocumentLine, ...]
) -> Event:
    told = (known.kind, known.body, known.documents, known.amends)
    if told != (new.kind, body, lines, new.amends):
        allowed = f"was used for event {known.number}, which tells something else"
        raise RecordError(Fault("key", repr(new.key), allowed, "Send it with a key of its own."))
    return known


def _check_amended(connection: Connection, event: Event) -> None:
    if event.amends is None:
        if event.kind == "withdrawal":
            raise RecordError(Fault("withdrawal", "", "must say which event it takes back", AGAIN))
        return
    amended = event_by_number(connection, event.job, event.amends)
    if amended is None:
        raise RecordError(
            Fault("amends", str(event.amends), "must be the number of an event of this job", AGAIN)
        )
    if event.kind not in ("withdrawal", amended.kind):
        allowed = (
            f"event {amended.number} is a {amended.kind}, which only another {amended.kind} can put right"
        )
        raise RecordError(Fault("amends", f"{event.amends} by a {event.kind}", allowed, AGAIN))
