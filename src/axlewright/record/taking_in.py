"""Taking in a job's events that were written down elsewhere: as they are, or not at all."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping, Sequence

from sqlalchemy import Connection

from axlewright.errors import Fault, RecordError
from axlewright.record import tables
from axlewright.record.chain import chained_digest, row_of
from axlewright.record.checking import checked, told_time
from axlewright.record.events import Document, DocumentLine, Event, NewEvent
from axlewright.record.rows import events_after, has_document, keep_document

ANOTHER_COPY = "Ask for another copy of the job."


def check_sound(job: str, events: Sequence[Event]) -> None:
    """That events are the record of a job from its first one on, unchanged since they were written.

    Raises:
        RecordError: they are not.
    """
    if not re.fullmatch(r"[0-9A-Za-z_-]{1,32}", job):
        raise _refused("job", repr(job), "must be up to 32 letters, digits, - or _")
    if not events:
        raise _refused("events", "none", "a job has at least one event")
    before = ""
    for number, event in enumerate(events, start=1):
        _check_event(event, job, number, before)
        before = event.digest
    keys = {event.key for event in events}
    if len(keys) < len(events):
        raise _refused("events", "", "two of them carry the same key")


def taken_in(
    connection: Connection, job: str, events: Sequence[Event], documents: Mapping[str, bytes]
) -> int:
    """Add to a job what is new to the record; gives how many events are.

    Args:
        connection: in a transaction that holds the job.
        job: the job.
        events: all its events, found sound by `check_sound`.
        documents: content of documents by digest.

    Raises:
        RecordError: the record has other events of this job, or a document is missing or not what it says.
    """
    known = events_after(connection, job, 0)
    for here, there in zip(known, events, strict=False):
        if here.digest != there.digest:
            allowed = "this record has another event in its place"
            raise RecordError(Fault(f"event {there.number} of job {job}", "", allowed, ANOTHER_COPY))
    new = events[len(known) :]
    for line in (line for event in new for line in event.documents):
        _bring(connection, line, documents.get(line.digest))
    if new:
        connection.execute(tables.event.insert(), [row_of(event) for event in new])
    return len(new)


def _check_event(event: Event, job: str, number: int, before: str) -> None:
    where = f"event {number}"
    if event.job != job or event.number != number:
        raise _refused(where, f"{event.number} of {event.job}", f"must be event {number} of job {job}")
    for time in (event.at, event.told_at):
        told_time(time, time)
    if event.digest != chained_digest(event, before):
        raise _refused(where, "", "was changed after it was written: its digest does not fit")
    if event.amends is not None and not 1 <= event.amends < number:
        raise _refused(where, f"amending {event.amends}", "can only amend an earlier event")
    if checked(_as_told(event)) != event.body:
        raise _refused(where, "", f"does not tell what a {event.kind} tells in this version")


def _as_told(event: Event) -> NewEvent:
    """An event as it was told, so that what could not be told here is not taken in either."""
    documents = tuple(Document(line.name, line.media_type, b"") for line in event.documents)
    told_at, own = event.told_at, (event.device, event.amends, event.reason)
    return NewEvent(event.kind, event.who, event.body, event.key, documents, told_at, *own)


def _bring(connection: Connection, line: DocumentLine, data: bytes | None) -> None:
    where = f"document {line.name}"
    if data is None:
        if not has_document(connection, line.digest):
            raise _refused(where, "missing", "must come with its event")
        return
    if hashlib.sha256(data).hexdigest() != line.digest or len(data) != line.size:
        raise _refused(where, "", "was changed after it was written: its digest does not fit")
    keep_document(connection, line.digest, data)


def _refused(where: str, value: str, allowed: str) -> RecordError:
    return RecordError(Fault(where, value, allowed, ANOTHER_COPY))
