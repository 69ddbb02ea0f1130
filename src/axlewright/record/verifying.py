"""Whether all that is written is as it was written."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence

from sqlalchemy import Connection, select

from axlewright.errors import Fault, RecordError
from axlewright.record import tables
from axlewright.record.chain import chained_digest
from axlewright.record.events import Event
from axlewright.record.rows import events_after

REMEDY = "Compare with the last backup; axlewright record restore brings one back."


def faults_of(connection: Connection) -> tuple[Fault, ...]:
    """What is wrong with a record; nothing if all is as it was written.

    A record that lost its last events, or was written anew from some event on, chain and all, shows nothing wrong:
    only a backup or an archive made before tells.

    Args:
        connection: to the record.
    """
    found = list(_file_faults(connection))
    kept = dict(_documents(connection, found))
    for job in connection.execute(select(tables.job.c.id)).scalars().all():
        try:
            events = events_after(connection, job, 0)
        except RecordError as error:
            found += error.faults
            continue
        found += _chain_faults(job, events)
        found += _missing(job, events, kept)
    return tuple(found)


def _file_faults(connection: Connection) -> Iterator[Fault]:
    if connection.dialect.name == "sqlite":
        for answer in connection.exec_driver_sql("PRAGMA integrity_check(20)").scalars():
            if answer != "ok":
                yield Fault("file", "damaged", str(answer), REMEDY)


def _documents(connection: Connection, found: list[Fault]) -> Iterator[tuple[str, int]]:
    """Digests of all documents with their size in bytes; those that do not fit their digest go to `found`."""
    table = tables.document
    for digest in connection.execute(select(table.c.digest)).scalars().all():
        # One at a time: all photographs of a shop need not fit in memory.
        data = connection.execute(select(table.c.data).where(table.c.digest == digest)).scalar_one()
        if hashlib.sha256(data).hexdigest() != digest:
            found.append(Fault(f"document {digest[:12]}", "", "was changed after it was written", REMEDY))
        yield digest, len(data)


def _chain_faults(job: str, events: Sequence[Event]) -> Iterator[Fault]:
    before = ""
    if not events:
        yield Fault(f"job {job}", "", "has no events", REMEDY)
    for number, event in enumerate(events, start=1):
        if event.number != number:
            yield Fault(f"job {job}", "", f"event {number} is missing", REMEDY)
            return
        if event.digest != chained_digest(event, before):
            allowed = "it, or the one before it, was changed after it was written"
            yield Fault(f"event {number} of job {job}", "", allowed, REMEDY)
        before = event.digest


def _missing(job: str, events: Sequence[Event], kept: dict[str, int]) -> Iterator[Fault]:
    for event in events:
        for line in event.documents:
            if kept.get(line.digest) != line.size:
                where = f"document {line.name} of event {event.number} of job {job}"
                yield Fault(where, "missing", "must be in the record", REMEDY)
