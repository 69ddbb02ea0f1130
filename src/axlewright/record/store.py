"""The record store: jobs, events and documents in a database."""

from __future__ import annotations

import hashlib
import json
import threading
import uuid
from dataclasses import asdict, replace
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import Connection, Engine, func, select

from axlewright.errors import Fault, RecordError
from axlewright.record import tables
from axlewright.record.events import Document, DocumentLine, Event, JobLine, NewEvent
from axlewright.record.kinds import checked_body


class Store:
    """An opened record. Safe to use from several threads.

    Args:
        engine: the database, its tables up to date.
    """

    def __init__(self, engine: Engine) -> None:
        self._engine = engine
        self._writing = threading.Lock()

    def create_job(self, first: NewEvent) -> Event:
        """A new job that begins with an event, its job file.

        Raises:
            RecordError: the event does not suit its kind, or cannot be written.
        """
        job = uuid.uuid4().hex
        with self._writing, self._engine.begin() as connection:
            connection.execute(tables.job.insert().values(id=job))
            return _written(connection, job, first)

    def append(self, job: str, event: NewEvent) -> Event:
        """Write an event down; when this returns, it is on the disk.

        The same key told again gives the event that was written first.

        Raises:
            RecordError: there is no such job, the event does not suit its kind, or cannot be written.
            SignedOffError: it touches what is signed off and gives no reason.
        """
        with self._writing, self._engine.begin() as connection:
            return _written(connection, job, event)

    def events(self, job: str, after: int = 0) -> tuple[Event, ...]:
        """All events of a job in order, or those after a number.

        Raises:
            RecordError: there is no such job.
        """
        table = tables.event
        query = select(table).where(table.c.job == job, table.c.number > after).order_by(table.c.number)
        with self._engine.connect() as connection:
            found = tuple(_event(row._mapping) for row in connection.execute(query))
        if not found and after == 0:
            raise RecordError(
                Fault("job", repr(job), "is not in the record", "Choose one from the list of jobs.")
            )
        return found

    def jobs(self) -> tuple[JobLine, ...]:
        """All jobs, the one last told of first."""
        table = tables.event
        last = select(table.c.job, func.max(table.c.number).label("number")).group_by(table.c.job).subquery()
        query = select(table).join(last, (table.c.job == last.c.job) & (table.c.number == last.c.number))
        with self._engine.connect() as connection:
            events = [_event(row._mapping) for row in connection.execute(query)]
            lines = [_line(connection, event) for event in events]
        return tuple(sorted(lines, key=lambda line: line.last.at, reverse=True))

    def document(self, line: DocumentLine) -> Document:
        """A document with its content.

        Raises:
            RecordError: it is not in the record.
        """
        query = select(tables.document.c.data).where(tables.document.c.digest == line.digest)
        with self._engine.connect() as connection:
            data = connection.execute(query).scalar()
        if data is None:
            raise RecordError(Fault("document", line.name, "is not in the record", "Ask for another."))
        return Document(line.name, line.media_type, data)

    def close(self) -> None:
        """Let go of the database."""
        self._engine.dispose()


def _written(connection: Connection, job: str, new: NewEvent) -> Event:
    table = tables.event
    known = connection.execute(select(table).where(table.c.job == job, table.c.key == new.key)).first()
    if known is not None:
        return _event(known._mapping)
    query = select(table).where(table.c.job == job).order_by(table.c.number.desc()).limit(1)
    before = connection.execute(query).first()
    now = datetime.now(UTC)
    lines = []
    for document in new.documents:
        lines.append(DocumentLine(document.name, document.media_type, document.digest, len(document.data)))
        kept = select(tables.document.c.digest).where(tables.document.c.digest == document.digest)
        if connection.execute(kept).first() is None:
            connection.execute(tables.document.insert().values(digest=document.digest, data=document.data))
    event = Event(
        job=job,
        number=1 if before is None else before.number + 1,
        kind=new.kind,
        who=new.who,
        device=new.device,
        at=now,
        told_at=now if new.told_at is None else new.told_at.astimezone(UTC),
        key=new.key,
        body=checked_body(new),
        documents=tuple(lines),
        amends=new.amends,
        reason=new.reason,
    )
    event = replace(event, digest=_chained(event, "" if before is None else before.digest))
    row = asdict(event)
    connection.execute(table.insert().values(**row))
    return event


def _chained(event: Event, before: str) -> str:
    told = {
        **asdict(event),
        "at": event.at.isoformat(),
        "told_at": event.told_at.isoformat(),
        "digest": before,
    }
    return hashlib.sha256(json.dumps(told, sort_keys=True).encode()).hexdigest()


def _event(row: Any) -> Event:
    kept = dict(row)
    kept["documents"] = tuple(DocumentLine(**line) for line in kept["documents"])
    for name in ("at", "told_at"):
        kept[name] = kept[name].replace(tzinfo=UTC) if kept[name].tzinfo is None else kept[name]
    return Event(**kept)


def _line(connection: Connection, last: Event) -> JobLine:
    table = tables.event
    query = select(table.c.body).where(table.c.job == last.job, table.c.kind == "job file")
    body = connection.execute(query.order_by(table.c.number.desc()).limit(1)).scalar() or {}
    return JobLine(last.job, body.get("name", ""), body.get("reference", ""), last)
