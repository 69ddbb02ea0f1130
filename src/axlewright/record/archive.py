"""What an archive of a job holds, under which names, and record.json, by which it is read back.

The archive is made for a person first: everything lies in it as text and pictures that other programs open. Only
record.json and the files it names are read back, so what else lies in it may be read, sorted or deleted freely.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import asdict
from datetime import UTC
from typing import Annotated, Any

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field

from axlewright.record.events import DocumentLine, Event

FORMAT = "axlewright job record"
VERSION = 1
"""Raised when an older axlewright could no longer read what is written."""

RECORD = "record.json"
LARGEST_FILE = 500_000_000
"""Largest archive that is taken in [byte]."""

LARGEST_RECORD = 100_000_000
"""Largest record.json [byte]; an event has some 600."""

LARGEST_DIRECTORY = 16_000_000
"""Largest list of files of an archive [byte]; a file has some 100."""

LARGEST_CONTENT = 2_000_000_000
"""Most that the documents of an archive may unpack to [byte]."""

FREE_CONTENT = 200_000_000
"""What they may always unpack to, however small the archive is [byte]."""

LARGEST_RATIO = 100
"""Times its own size that an archive may unpack to beyond that [1]; text packs ten to twenty times."""

_NAME_LENGTH = 80


class KeptDocument(BaseModel):
    """A document as record.json lists it."""

    model_config = ConfigDict(extra="forbid")

    name: str
    media_type: str
    digest: Annotated[str, Field(pattern="^[0-9a-f]{64}$")]
    size: Annotated[int, Field(ge=0)]


class KeptEvent(BaseModel):
    """An event as record.json has it, every field of it."""

    model_config = ConfigDict(extra="forbid")

    number: Annotated[int, Field(ge=1)]
    kind: str
    who: str
    device: str
    at: AwareDatetime
    told_at: AwareDatetime
    key: str
    body: dict[str, Any]
    documents: tuple[KeptDocument, ...]
    amends: int | None
    reason: str
    digest: Annotated[str, Field(pattern="^[0-9a-f]{64}$")]

    def event(self, job: str) -> Event:
        """The event of a job that it stands for."""
        told = {name: getattr(self, name) for name in type(self).model_fields}
        told["documents"] = tuple(DocumentLine(**line.model_dump()) for line in self.documents)
        told["at"], told["told_at"] = self.at.astimezone(UTC), self.told_at.astimezone(UTC)
        return Event(job=job, **told)


class KeptRecord(BaseModel):
    """All of record.json."""

    model_config = ConfigDict(extra="forbid")

    format: str
    version: Annotated[int, Field(strict=True, ge=1)]
    job: Annotated[str, Field(pattern="^[0-9A-Za-z_-]{1,32}$")]
    events: Annotated[tuple[KeptEvent, ...], Field(min_length=1)]
    documents: dict[str, str]


def kept_record(job: str, events: Iterable[Event], places: Mapping[str, str]) -> dict[str, Any]:
    """What record.json says.

    Args:
        job: the job.
        events: all its events in order.
        places: name of the file that holds a content, by its digest.
    """
    kept = []
    for event in events:
        told = asdict(event)
        del told["job"]
        told["at"], told["told_at"] = event.at.isoformat(), event.told_at.isoformat()
        kept.append(told)
    return {
        "format": FORMAT,
        "version": VERSION,
        "job": job,
        "events": kept,
        "documents": dict(places),
    }


def places_of(events: Iterable[Event]) -> dict[str, tuple[str, DocumentLine]]:
    """Where the content of each document lies in the archive, each content once: name and line, by its digest.

    Photographs lie in pictures, all else in documents; the number in front is that of the first event that has it.
    """
    places: dict[str, tuple[str, DocumentLine]] = {}
    taken: set[str] = set()
    for event in events:
        folder = "pictures" if event.kind == "photograph" else "documents"
        for line in event.documents:
            if line.digest in places:
                continue
            name = _free(folder, event.number, plain_name(line.name), taken)
            taken.add(name.casefold())
            places[line.digest] = (name, line)
    return places


def plain_name(name: str) -> str:
    """A document's name as any system can keep it: letters, digits, dot, hyphen; no folder, no trick.

    >>> plain_name("../../etc/pass wd"), plain_name("C:\\\\plan.json"), plain_name("")
    ('etc_pass_wd', 'C_plan.json', 'document')
    """
    marks = "".join(mark if mark.isascii() and (mark.isalnum() or mark in ".-") else "_" for mark in name)
    words = "_".join(filter(None, marks.split("_"))).strip("._-")
    if len(words) > _NAME_LENGTH:
        stem, dot, ending = words.rpartition(".")
        short = dot and len(ending) <= 5
        words = f"{stem[: _NAME_LENGTH - 6]}.{ending}" if short else words[:_NAME_LENGTH]
    return words or "document"


def _free(folder: str, number: int, name: str, taken: set[str]) -> str:
    """A name that no file has yet, capitals not told apart, as some systems do not."""
    found, count = f"{folder}/{number:05d}-{name}", 1
    while found.casefold() in taken:
        count += 1
        found = f"{folder}/{number:05d}-{count}-{name}"
    return found
