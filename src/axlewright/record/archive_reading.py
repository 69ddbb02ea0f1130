"""Reading the archive of a job back. Whatever comes is taken for hostile until each content has its digest.

Only record.json and the files it names are looked at, they are never written anywhere by their names, and no more is
unpacked than the events say their documents hold.
"""

from __future__ import annotations

import hashlib
import json
import os
import zlib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from struct import error as StructError
from typing import IO, Any
from zipfile import BadZipFile, ZipFile

from pydantic import ValidationError

from axlewright.errors import Fault, RecordError
from axlewright.record import archive as kept
from axlewright.record.archive import KeptRecord
from axlewright.record.events import Document, DocumentLine, Event

ANOTHER = "Ask whoever made it for another copy."
PIECE = 1 << 20
"""How much is unpacked at a time [byte]."""

_BROKEN = (
    BadZipFile,
    zlib.error,
    EOFError,
    OSError,
    StructError,
    ValueError,
    RuntimeError,
    NotImplementedError,
    OverflowError,
    KeyError,
)
"""What reading a zip file raises where it is none, cut short, encrypted or packed in a way that is not known here."""


@dataclass(frozen=True)
class Archived:
    """A job as its archive has it.

    Args:
        job: the job.
        events: all its events in order.
        documents: their contents by digest, each one checked; unpacked when asked for.
    """

    job: str
    events: tuple[Event, ...]
    documents: Mapping[str, bytes]


@contextmanager
def read_archive(file: IO[bytes]) -> Iterator[Archived]:
    """The job in an archive, as long as its file is open.

    Args:
        file: the archive, as `archive_writing.write_archive` writes it.

    Raises:
        RecordError: it is too large, no archive of a job, of a later version, incomplete or damaged.
    """
    size = _checked_size(file)
    with _whole():
        zipped = ZipFile(file)
    with zipped:
        record = _record(zipped)
        events = tuple(event.event(record.job) for event in record.events)
        documents = _Documents(zipped, record.documents, _lines(events, size))
        documents.check()
        yield Archived(record.job, events, documents)


def document_of(archived: Archived, line: DocumentLine) -> Document:
    """A document of an archived job."""
    return Document(line.name, line.media_type, archived.documents[line.digest])


class _Documents(Mapping[str, bytes]):
    """Contents by digest, unpacked when asked for."""

    def __init__(self, zipped: ZipFile, places: Mapping[str, str], lines: dict[str, DocumentLine]) -> None:
        self._zipped, self._places, self._lines = zipped, places, lines

    def __len__(self) -> int:
        return len(self._lines)

    def __iter__(self) -> Iterator[str]:
        return iter(self._lines)

    def __getitem__(self, digest: str) -> bytes:
        return b"".join(self._pieces(self._lines[digest]))

    def check(self) -> None:
        """See that each is there and holds what its digest says.

        Raises:
            RecordError: one does not.
        """
        for line in self._lines.values():
            found = hashlib.sha256()
            for piece in self._pieces(line):
                found.update(piece)
            if found.hexdigest() != line.digest:
                raise _fault(self._name(line), "was changed since it was written", ANOTHER)

    def _pieces(self, line: DocumentLine) -> Iterator[bytes]:
        return _unpacked(self._zipped, self._name(line), line.size)

    def _name(self, line: DocumentLine) -> str:
        name = self._places.get(line.digest)
        if name is None:
            raise _fault(line.name, f"{kept.RECORD} does not say which file holds it", ANOTHER)
        return name


def _checked_size(file: IO[bytes]) -> int:
    """Size of the file [byte], its list of files no longer than that of any archive of ours."""
    size = file.seek(0, os.SEEK_END)
    if size > kept.LARGEST_FILE:
        raise _fault("archive", f"must be at most {kept.LARGEST_FILE // 10**6} MB", "Is it the right file?")
    file.seek(max(0, size - 22 - 65535))
    _, found, end = file.read().rpartition(b"PK\x05\x06")
    if found and int.from_bytes(end[8:12], "little") > kept.LARGEST_DIRECTORY:
        raise _fault("archive", "it lists more files than any job has", "Is it the right file?")
    file.seek(0)
    return size


def _record(zipped: ZipFile) -> KeptRecord:
    if kept.RECORD not in zipped.NameToInfo:
        allowed = f"it is a zip file without {kept.RECORD}, so not the archive of a job"
        raise _fault("archive", allowed, "Choose one that axlewright has written.")
    data = b"".join(_unpacked(zipped, kept.RECORD, kept.LARGEST_RECORD, exactly=False))
    told = _told(data)
    if not isinstance(told, dict) or told.get("format") != kept.FORMAT:
        allowed = f'must begin with "format": "{kept.FORMAT}"; this is the archive of something else'
        raise _fault(kept.RECORD, allowed, "Choose one that axlewright has written.")
    version = told.get("version")
    if isinstance(version, int) and version > kept.VERSION:
        allowed = f"this axlewright reads archives up to version {kept.VERSION}"
        raise RecordError(Fault(kept.RECORD, f"version {version}", allowed, "Bring axlewright up to date."))
    try:
        return KeptRecord.model_validate(told)
    except ValidationError as wrong:
        raise RecordError(*(_misfit(detail) for detail in wrong.errors()[:20])) from wrong


def _told(data: bytes) -> Any:
    try:
        return json.loads(data.decode())
    except (ValueError, RecursionError) as wrong:
        raise _fault(kept.RECORD, "cannot be read as JSON", ANOTHER) from wrong


def _misfit(detail: Any) -> Fault:
    place = ".".join(str(part) for part in detail["loc"])
    return Fault(f"{kept.RECORD} {place}".strip(), "", _small(str(detail["msg"])), ANOTHER)


def _small(message: str) -> str:
    return message[:1].lower() + message[1:]


def _lines(events: tuple[Event, ...], size: int) -> dict[str, DocumentLine]:
    """The documents by digest, together no larger than an archive of this size may hold."""
    lines: dict[str, DocumentLine] = {}
    for line in (line for event in events for line in event.documents):
        if lines.setdefault(line.digest, line).size != line.size:
            raise _fault(line.name, "two events give it different sizes", ANOTHER)
    most = min(kept.LARGEST_CONTENT, max(kept.FREE_CONTENT, kept.LARGEST_RATIO * size))
    if sum(line.size for line in lines.values()) > most:
        raise _fault("archive", f"its documents may unpack to {most // 10**6} MB at most", ANOTHER)
    return lines


def _unpacked(zipped: ZipFile, name: str, size: int, exactly: bool = True) -> Iterator[bytes]:
    """Content of a file in the archive, piece by piece, and never more than `size` [byte]."""
    if name not in zipped.NameToInfo:
        raise _fault(name, "is missing from the archive", ANOTHER)
    with _whole(name), zipped.open(name) as opened:
        count = 0
        while piece := opened.read(PIECE):
            count += len(piece)
            if count > size:
                break
            yield piece
    if count > size or (exactly and count < size):
        raise _fault(name, f"must hold {size} bytes{'' if exactly else ' at most'}", ANOTHER)


@contextmanager
def _whole(where: str = "archive") -> Iterator[None]:
    """Whatever reading a broken zip file raises, as one clear error."""
    try:
        yield
    except _BROKEN as wrong:
        allowed = "it cannot be read as a zip file: it is damaged, cut short or something else"
        raise _fault(where, allowed, "Fetch it again, or choose another file.") from wrong


def _fault(where: str, allowed: str, remedy: str) -> RecordError:
    return RecordError(
        Fault("".join(m if m.isprintable() else "?" for m in where)[:200], "", allowed, remedy)
    )
