"""What a record is made of: events in order, and the documents they bring."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any


@dataclass(frozen=True)
class Document:
    """A file that belongs to an event: a job file, readings, a sheet, a photograph.

    Args:
        name: as a file is called, e.g. "plan.json".
        media_type: e.g. "application/json".
        data: the content.
    """

    name: str
    media_type: str
    data: bytes

    @property
    def digest(self) -> str:
        """SHA-256 of the content, by which a record finds it."""
        return hashlib.sha256(self.data).hexdigest()


@dataclass(frozen=True)
class DocumentLine:
    """A document as its event lists it, without the content; `size` in bytes."""

    name: str
    media_type: str
    digest: str
    size: int


@dataclass(frozen=True)
class NewEvent:
    """Something to be written down.

    Args:
        kind: what it is, one of `record.kinds.KINDS`.
        who: who tells it.
        body: what is told, as `record.kinds` checks it.
        key: says which telling this is: the same told again (a retry) carries the same key and counts once.
        documents: files that come with it.
        told_at: when it happened by the device that tells it, with its time zone; left out: now.
        device: what it was told on, e.g. "tablet".
        amends: number of the earlier event that this one puts right; that one stays in the record.
        reason: why something that was signed off is changed.
    """

    kind: str
    who: str
    body: Mapping[str, Any]
    key: str
    documents: tuple[Document, ...] = ()
    told_at: datetime | None = None
    device: str = ""
    amends: int | None = None
    reason: str = ""


@dataclass(frozen=True)
class Event:
    """Something written down.

    Args:
        job: the job it belongs to.
        number: place in the job's record, from 1, without gaps. Numbers, not clocks, tell the order.
        kind: what it is.
        who: who told it.
        device: on what.
        at: when it was written down, UTC by the clock of the machine that keeps the record.
        told_at: when it happened by the device that told it, UTC; the same as `at` where it did not say.
        key: which telling this is.
        body: what was told.
        documents: files that came with it.
        amends: number of the event that it puts right, if any.
        reason: why something that was signed off was changed, or "".
        digest: SHA-256 over this event and the digest of the one before it, so that a later change shows.
    """

    job: str
    number: int
    kind: str
    who: str
    device: str
    at: datetime
    told_at: datetime
    key: str
    body: Mapping[str, Any]
    documents: tuple[DocumentLine, ...] = field(default=())
    amends: int | None = None
    reason: str = ""
    digest: str = ""

    def document(self, name: str) -> DocumentLine | None:
        """The document of that name; None where there is none."""
        return next((line for line in self.documents if line.name == name), None)


@dataclass(frozen=True)
class JobLine:
    """A job in the list of jobs: what its latest job file calls it, and the last event of its record."""

    job: str
    name: str
    reference: str
    last: Event
