"""The record store: jobs, events and documents in a database."""

from __future__ import annotations

import threading
import uuid
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager

from sqlalchemy import Connection, Engine, select

from axlewright.errors import Fault, NotInRecordError, RecordError
from axlewright.record import tables
from axlewright.record.checking import checked
from axlewright.record.events import Document, DocumentLine, Event, JobLine, NewEvent
from axlewright.record.faults import plainly
from axlewright.record.listing import job_lines
from axlewright.record.remembered import Remembered
from axlewright.record.rows import hold_job, keep_job
from axlewright.record.sqlite_file import WRITING
from axlewright.record.taking_in import check_sound, taken_in
from axlewright.record.verifying import faults_of
from axlewright.record.writing import written

_JOBS = uuid.UUID("1cbd9f3c-9b5e-4a51-9d3f-3a7a3b0a6f10")
"""Name space of the jobs: a job is named after the key of its first telling, so that a retry finds it again."""


class Store:
    """An opened record. Safe to use from several threads.

    Args:
        engine: the database, its tables up to date.
    """

    def __init__(self, engine: Engine) -> None:
        self.engine = engine
        self._writing_engine = engine.execution_options(**{WRITING: True})
        self._writing = threading.Lock()
        self._remembered = Remembered()

    def create_job(self, first: NewEvent) -> Event:
        """A new job that begins with an event, its job file.

        The same key told again gives the event that was written first.

        Raises:
            RecordError: the event does not suit its kind, or cannot be written.
        """
        body = checked(first)
        job = uuid.uuid5(_JOBS, first.key).hex
        with self._write() as connection:
            keep_job(connection, job)
            return written(connection, job, first, body)

    def append(self, job: str, event: NewEvent) -> Event:
        """Write an event down; when this returns, it is on the disk.

        The same key told again gives the event that was written first.

        Raises:
            RecordError: there is no such job, the event does not suit its kind, its key was used for something
                else, it amends what it cannot, or it cannot be written.
            SignedOffError: it touches what is signed off and gives no reason.
        """
        body = checked(event)
        with self._write() as connection:
            if not hold_job(connection, job):
                raise _no_such_job(job)
            return written(connection, job, event, body)

    def events(self, job: str, after: int = 0) -> tuple[Event, ...]:
        """All events of a job in order, or those after a number.

        Raises:
            RecordError: there is no such job.
        """
        with self._read() as connection:
            found = self._remembered.events(connection, job)
        if not found:
            raise _no_such_job(job)
        return tuple(event for event in found if event.number > after) if after else found

    def jobs(self) -> tuple[JobLine, ...]:
        """All jobs, the one last told of first.

        Raises:
            RecordError: the record cannot be read.
        """
        with self._read() as connection:
            return job_lines(connection)

    def document(self, line: DocumentLine) -> Document:
        """A document with its content.

        Raises:
            RecordError: it is not in the record.
        """
        query = select(tables.document.c.data).where(tables.document.c.digest == line.digest)
        with self._read() as connection:
            data = connection.execute(query).scalar()
        if data is None:
            raise NotInRecordError(Fault("document", line.name, "is not in the record", "Ask for another."))
        return Document(line.name, line.media_type, data)

    def take_in(self, job: str, events: Sequence[Event], documents: Mapping[str, bytes]) -> int:
        """Take in a job that was written down elsewhere, with its own numbers, times, keys and digests.

        Args:
            job: the job.
            events: all its events, from the first on.
            documents: content of their documents by digest; those already in the record may be left out.

        Returns:
            How many of the events are new to this record.

        Raises:
            RecordError: the chain of digests is broken, a document is missing or not what it says, or the record
                has other events of this job.
        """
        check_sound(job, events)
        with self._write() as connection:
            keep_job(connection, job)
            return taken_in(connection, job, events, documents)

    def verify(self) -> tuple[Fault, ...]:
        """Look through the whole record: file, chains of digests, numbers, documents; nothing wrong gives ().

        Raises:
            RecordError: the record cannot be read.
        """
        with self._read() as connection:
            return faults_of(connection)

    def close(self) -> None:
        """Let go of the database."""
        self.engine.dispose()

    @contextmanager
    def _read(self) -> Iterator[Connection]:
        with plainly(self.engine.url), self.engine.connect() as connection:
            yield connection

    @contextmanager
    def _write(self) -> Iterator[Connection]:
        """A transaction in which nobody else of this process writes; on the disk when it ends, or undone."""
        with plainly(self.engine.url), self._writing, self._writing_engine.begin() as connection:
            yield connection


def _no_such_job(job: str) -> RecordError:
    return NotInRecordError(
        Fault("job", repr(job), "is not in the record", "Choose one from the list of jobs.")
    )
