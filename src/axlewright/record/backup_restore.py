"""Bringing a backup back into the place of a record that is damaged, lost or not there yet."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import URL

from axlewright.errors import DamagedRecordError, Fault, RecordError
from axlewright.record.faults import plainly
from axlewright.record.last_backup import sound
from axlewright.record.sqlite_file import sqlite_engine
from axlewright.record.store import Store
from axlewright.record.tables import VERSION, VERSIONS
from axlewright.record.version import version_of

_BESIDE = ("", "-wal", "-shm", "-journal")
"""Endings of the files that together are a SQLite database."""


def restore(file: Path, record: Path) -> Path | None:
    """Put a backup in the place of a record. The file that is there is moved aside, never deleted.

    Args:
        file: the backup; it is only read.
        record: file of the record; its folder is made where it is not there.

    Returns:
        Where the file that was there is now; None where there was none.

    Raises:
        RecordError: the backup cannot be read, is damaged or none, or of a later version; or the record is in use.
            Nothing was changed.
    """
    copy = record.with_name(f"{record.name}.restored.part")
    try:
        record.parent.mkdir(parents=True, exist_ok=True)
        try:
            shutil.copyfile(file, copy)
            check_backup(copy, file)
            _check_not_in_use(record)
            aside = _moved_aside(record, datetime.now(UTC))
            copy.replace(record)
        finally:
            for ending in _BESIDE:
                copy.with_name(copy.name + ending).unlink(missing_ok=True)
    except OSError as error:
        allowed = f"cannot be brought back to {record} ({error.strerror or error})"
        raise RecordError(
            Fault(f"backup {file}", "", allowed, "Look at the name, the rights and the room on the disk.")
        ) from error
    return aside


def opened_backup(path: Path) -> Store:
    """A backup as a record of its own; a file that may be written beside."""
    return Store(sqlite_engine(URL.create("sqlite", database=str(path))))


def check_backup(copy: Path, file: Path) -> None:
    """See that a backup is a record, of a version that is known here, with every digest as it was written.

    Args:
        copy: a copy of it that may be written to.
        file: the backup, for messages.

    Raises:
        RecordError: it is not.
    """
    if not sound(copy):
        raise _no_backup(file, "is no backup of a record, or is damaged")
    store = opened_backup(copy)
    try:
        with plainly(store.engine.url):
            with store.engine.connect() as connection:
                found = version_of(connection)
            if found not in VERSIONS:
                allowed = f"this axlewright knows versions up to {VERSION}"
                raise RecordError(
                    Fault(f"backup {file}", f"of version {found}", allowed, "Bring axlewright up to date.")
                )
            wrong = store.verify()
        if wrong:
            raise _no_backup(file, f"is damaged: {wrong[0].where}: {wrong[0].allowed}")
    except DamagedRecordError as error:
        raise _no_backup(file, f"is damaged: {error.faults[0].allowed}") from error
    finally:
        store.close()


def _check_not_in_use(record: Path) -> None:
    """Refuse to move a file that an axlewright has open: it would go on writing into the file moved aside."""
    if not record.exists():
        return
    try:
        with closing(sqlite3.connect(record, timeout=1.0)) as connection:
            # Leaving the write-ahead log needs the file for oneself alone (SQLite, "Write-Ahead Logging").
            connection.execute("PRAGMA journal_mode = DELETE")
    except sqlite3.OperationalError as error:
        if getattr(error, "sqlite_errorcode", 0) & 0xFF in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
            remedy = "Close axlewright on this machine first, also the pages' server."
            raise RecordError(Fault(f"record {record}", "in use", "must not be open", remedy)) from error
    except sqlite3.DatabaseError:
        # So damaged that nobody can be using it.
        return


def _moved_aside(record: Path, now: datetime) -> Path | None:
    if not any(record.with_name(record.name + ending).exists() for ending in _BESIDE):
        return None
    aside = record.with_name(f"{record.name}.aside-{now:%Y%m%d-%H%M%S-%f}")
    for ending in _BESIDE:
        part = record.with_name(record.name + ending)
        if part.exists():
            part.replace(aside.with_name(aside.name + ending))
    return aside


def _no_backup(file: Path, allowed: str) -> RecordError:
    return RecordError(
        Fault(f"backup {file}", "", allowed, "Choose another one; they lie in the folder backups.")
    )
