"""Writing the archive of a job: the same record gives the same bytes."""

from __future__ import annotations

import io
import json
from collections.abc import Iterator
from importlib.resources import files
from pathlib import PurePosixPath
from typing import IO
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile, ZipInfo

from axlewright.record.archive import RECORD, kept_record, places_of
from axlewright.record.archive_tables import bead_log_csv, events_csv
from axlewright.record.events import DocumentLine, Event
from axlewright.record.state import still_counting
from axlewright.record.store import Store

_WHEN = (1980, 1, 1, 0, 0, 0)
"""Time of every file in the archive: of what is in it, only the events tell when it was."""

_LATEST = (
    ("job file", None, "job.toml", "job"),
    ("readings", "before", "readings", "readings-before"),
    ("readings", "after", "readings", "readings-after"),
    ("check", None, "straightness.json", "straightness"),
    ("plan", None, "plan.json", "plan"),
    ("correction", None, "correction.json", "correction"),
)
"""Kind of event and set of readings, beginning of the document's name, and what the latest is called."""


def export_job(store: Store, job: str) -> bytes:
    """A job as one archive; `write_archive` says what is in it.

    Raises:
        RecordError: there is no such job, or a document of it is lost.
    """
    file = io.BytesIO()
    write_archive(store, job, file)
    return file.getvalue()


def write_archive(store: Store, job: str, file: IO[bytes]) -> None:
    """Write a job as one zip archive that a person can read without axlewright.

    Args:
        store: the record.
        job: the job.
        file: where to write to; it is left open.

    Raises:
        RecordError: there is no such job, or a document of it is lost.
    """
    events = store.events(job)
    places = places_of(events)
    with ZipFile(file, "w") as archive:
        for name, text in _texts(job, events, {digest: name for digest, (name, _) in places.items()}):
            _put(archive, name, text.encode("utf-8", "replace"))
        for name, line in _latest(events):
            _put(archive, name, store.document(line).data)
        for name, line in sorted(places.values()):
            _put(archive, name, store.document(line).data, packed=not line.media_type.startswith("image/"))


def _texts(job: str, events: tuple[Event, ...], places: dict[str, str]) -> Iterator[tuple[str, str]]:
    """Names and texts of what is written anew."""
    yield "README.txt", files("axlewright.record").joinpath("archive_readme.txt").read_text(encoding="utf-8")
    # Escapes keep every text whole, also one that is no proper Unicode.
    yield RECORD, json.dumps(kept_record(job, events, places), sort_keys=True, indent=1) + "\n"
    yield "events.csv", events_csv(events)
    counting = still_counting(events)
    if any(event.kind == "bench" for event in counting):
        yield "bead-log.csv", bead_log_csv(counting)


def _latest(events: tuple[Event, ...]) -> Iterator[tuple[str, DocumentLine]]:
    """What still counts of each kind and was told last, under names that say what it is."""
    counting = still_counting(events)
    for kind, which, document, name in _LATEST:
        told = [e for e in counting if e.kind == kind and which in (None, e.body.get("set"))]
        found = [line for line in told[-1].documents if line.name.startswith(document)] if told else []
        if found:
            # Readings may be a table or TOML; the ending says which.
            ending = PurePosixPath(found[0].name).suffix
            yield f"{name}{ending if ending in ('.csv', '.toml', '.json') else '.txt'}", found[0]


def _put(archive: ZipFile, name: str, data: bytes, packed: bool = True) -> None:
    entry = ZipInfo(name, _WHEN)
    entry.compress_type = ZIP_DEFLATED if packed else ZIP_STORED
    # Neither the system nor its rights may show in the bytes.
    entry.create_system, entry.external_attr = 3, 0o644 << 16
    archive.writestr(entry, data)
