"""Jobs as archives, and backups of the whole record."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from threading import Event as Flag
from typing import IO

from sqlalchemy import make_url

from axlewright import __version__
from axlewright.errors import AxlewrightError, Fault, RecordError
from axlewright.record.archive import VERSION as ARCHIVES
from axlewright.record.archive import plain_name
from axlewright.record.archive_reading import read_archive
from axlewright.record.archive_writing import export_job, write_archive
from axlewright.record.backup import backup, needed
from axlewright.record.backup_restore import check_backup, opened_backup, restore
from axlewright.record.events import JobLine
from axlewright.record.last_backup import BACKUPS
from axlewright.record.opening import DATABASE, FILE_NAME, open_store
from axlewright.record.state import State, state_of
from axlewright.record.store import Store
from axlewright.record.tables import VERSION as TABLES

__all__ = [
    "JobInList",
    "TakenIn",
    "Versions",
    "archive_name",
    "export_job",
    "find_job",
    "job_list",
    "keep_backups",
    "keep_backups_hourly",
    "line_of",
    "make_backup",
    "opened_record",
    "restore_backup",
    "take_in",
    "take_in_file",
    "versions",
    "write_archive",
    "write_archive_file",
]

AN_HOUR = 3600.0
"""How often it is looked whether a backup is needed [s]."""


@dataclass(frozen=True)
class TakenIn:
    """What an archive brought.

    Args:
        job: the job.
        new: how many of its events were new to the record.
        events: how many it has in the archive.
    """

    job: str
    new: int
    events: int


@dataclass(frozen=True)
class Versions:
    """Versions of axlewright, of the tables of its record, and of the archives it writes."""

    axlewright: str
    record: str
    archive: int


@dataclass(frozen=True)
class JobInList:
    """A job in the list of jobs.

    Args:
        line: the job.
        stage: the stage it is in; "finished" once all are done.
    """

    line: JobLine
    stage: str


@contextmanager
def opened_record(data: Path, new: bool = False) -> Iterator[Store]:
    """The record in a data folder, as long as it is needed.

    Args:
        data: the folder.
        new: whether a record is begun where there is none.

    Raises:
        RecordError: there is none, or as `open_store` does.
    """
    there = (data / FILE_NAME).exists() or (data / BACKUPS).exists() or bool(os.environ.get(DATABASE))
    if not there and not new:
        remedy = "Name the folder of your data with --data; `axlewright serve` begins a record."
        raise RecordError(Fault(f"folder {data}", "", "there is no record in it", remedy))
    store = open_store(data)
    try:
        yield store
    finally:
        store.close()


def job_list(store: Store) -> tuple[JobInList, ...]:
    """All jobs with their stages, the one last told of first."""
    found = []
    for line in store.jobs():
        stands = state_of(store.events(line.job))
        found.append(JobInList(line, "finished" if stands.finished else stands.stage.plan.name))
    return tuple(found)


def versions() -> Versions:
    """What this axlewright reads and writes."""
    return Versions(__version__, TABLES, ARCHIVES)


def find_job(store: Store, words: str) -> JobLine:
    """The job that is meant by its id, a beginning of it that no other job has, or its reference.

    Raises:
        RecordError: none is, or more than one.
    """
    lines = store.jobs()
    exactly = [line for line in lines if words in (line.job, line.reference)]
    found = exactly or [line for line in lines if words and line.job.startswith(words)]
    if len(found) == 1:
        return found[0]
    if not found:
        allowed = "is neither the id, the beginning of one, nor the reference of a job in this record"
        raise RecordError(Fault("job", repr(words), allowed, "`axlewright record list` names them all."))
    meant = ", ".join(f"{line.job[:8]} ({line.name})" for line in found[:5])
    raise RecordError(
        Fault("job", repr(words), f"{len(found)} jobs are meant: {meant}", "Give more of its id.")
    )


def line_of(job: str, stands: State) -> JobLine:
    """A job as the list of jobs has it, from where it stands."""
    file = stands.latest.get("job file")
    body = {} if file is None else file.body
    return JobLine(job, body.get("name", ""), body.get("reference", ""), stands.events[-1])


def archive_name(line: JobLine) -> str:
    """What the archive of a job is called."""
    return f"{plain_name(line.reference or line.name or 'job')}-{line.job[:8]}.zip"


def write_archive_file(store: Store, job: str, path: Path) -> Path:
    """Write the archive of a job to a file, whole or not at all.

    Raises:
        RecordError: there is no such job, a document of it is lost, or the file cannot be written.
    """
    with _writable(path):
        part = path.with_name(f"{path.name}.{os.getpid()}.part")
        try:
            with part.open("w+b") as file:
                write_archive(store, job, file)
            part.replace(path)
        finally:
            part.unlink(missing_ok=True)
    return path


def take_in(store: Store, file: IO[bytes]) -> TakenIn:
    """Take a job in from its archive. Events that the record has already are left as they are.

    Raises:
        RecordError: it is no whole archive of a job, or the record has other events of that job.
    """
    with read_archive(file) as archived:
        new = store.take_in(archived.job, archived.events, archived.documents)
        return TakenIn(archived.job, new, len(archived.events))


def take_in_file(store: Store, path: Path) -> TakenIn:
    """Take a job in from a file; raises as `take_in` does, and where the file cannot be read."""
    try:
        with path.open("rb") as file:
            return take_in(store, file)
    except OSError as error:
        allowed = f"cannot be read ({error.strerror or error})"
        raise RecordError(
            Fault(f"archive {path}", "", allowed, "Check the name of the archive and the rights.")
        ) from error


def make_backup(store: Store, data: Path, out: Path | None = None) -> Path:
    """Make a backup, in the data folder or another one; raises as `record.backup.backup` does."""
    return backup(store, data / BACKUPS if out is None else out)


def keep_backups(store: Store, data: Path) -> Path | None:
    """Make a backup if anything was told since the last one; None where nothing was.

    Args:
        store: the record.
        data: folder of the shop's data.

    Raises:
        RecordError: it cannot be written; or DamagedRecordError: the record does not pass its check.
    """
    return backup(store, data / BACKUPS) if needed(store, data / BACKUPS) else None


def keep_backups_hourly(store: Store, data: Path, stopped: Flag, say: Callable[[str], None]) -> None:
    """Keep backups now and every hour until stopped; meant for a thread of its own.

    Args:
        store: the record.
        data: folder of the shop's data.
        stopped: set to end it; it then returns at once, or when the backup being made is.
        say: told what went wrong. The next hour it is tried again.
    """
    while not stopped.is_set():
        try:
            keep_backups(store, data)
        except AxlewrightError as error:
            say(str(error))
        stopped.wait(AN_HOUR)


def restore_backup(file: Path, data: Path) -> Path | None:
    """Bring a backup back into a data folder, or into the database that AXLEWRIGHT_DB names.

    Args:
        file: the backup.
        data: folder of the shop's data. The record that is there is moved aside, never deleted.

    Returns:
        Where the record that was there is now; None where there was none.

    Raises:
        RecordError: the backup is none, damaged or of a later version, or the record is in use. A server's database
            is not replaced: the jobs of the backup are taken in, and refused where it has other events of them.
    """
    named = os.environ.get(DATABASE)
    url = make_url(named) if named else None
    if url is None or url.get_backend_name() == "sqlite":
        return restore(file, Path(str(url.database)) if url is not None else data / FILE_NAME)
    with tempfile.TemporaryDirectory() as folder, opened_record(data, new=True) as store:
        copy = Path(folder) / FILE_NAME
        copy.write_bytes(file.read_bytes())
        check_backup(copy, file)
        _take_in_all(copy, store)
    return None


def _take_in_all(copy: Path, store: Store) -> None:
    source = opened_backup(copy)
    try:
        for line in source.jobs():
            events = source.events(line.job)
            lines = {one.digest: one for event in events for one in event.documents}
            store.take_in(line.job, events, {d: source.document(one).data for d, one in lines.items()})
    finally:
        source.close()


@contextmanager
def _writable(path: Path) -> Iterator[None]:
    try:
        yield
    except (OSError, ValueError) as error:
        allowed = f"cannot be written ({getattr(error, 'strerror', None) or error})"
        raise RecordError(
            Fault(
                f"archive {path}",
                "",
                allowed,
                "Name another file with --out, or make room and allow writing.",
            )
        ) from error
