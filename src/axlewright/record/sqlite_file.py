"""The record as one SQLite file: looked at before it is opened, and how it is opened.

Write-ahead log and full synchronisation: what is acknowledged is on the disk, and pages are read while events are
written. One writer at a time by BEGIN IMMEDIATE, so that who writes has seen all that was written before.
"""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event

from axlewright.errors import Fault, RecordError
from axlewright.record.chain import json_value
from axlewright.record.faults import damaged, in_plain_words, place_of
from axlewright.record.last_backup import APPLICATION, backups

PATIENCE_S = 5.0
"""How long a writer waits for another program to let go of the file, in seconds."""

WRITING = "record_is_written"
"""Execution option of connections that will write."""

ALL_CHECKED_UP_TO = 100_000_000
"""Size in bytes up to which the whole file is checked at every opening: about 0.1 s, longer from a slow disk. Of larger
ones, full of photographs, only the events are; `Store.verify` checks the rest."""


def check_file(url: URL) -> None:
    """Look at the file of a record before it is opened to write; it is left as it is.

    Raises:
        RecordError: it is no record, or cannot be read.
        DamagedRecordError: it is damaged, or gone while there are backups of it.
    """
    path = Path(str(url.database))
    if not _something_in(path, url):
        return
    try:
        with closing(_reading(path)) as connection:
            _check(connection, path, url)
    except sqlite3.Error as error:
        raise in_plain_words(error, url) from error


def sqlite_engine(url: URL) -> Engine:
    """How the file of a record is opened."""
    engine = create_engine(url, connect_args={"timeout": PATIENCE_S}, json_deserializer=json_value)
    event.listen(engine, "connect", _prepare)
    event.listen(engine, "begin", _begin)
    return engine


def _something_in(path: Path, url: URL) -> bool:
    """Whether there is a file with something in it; a new record is only begun where there are no backups of one."""
    try:
        size = path.stat().st_size if path.exists() else 0
    except OSError as error:
        raise RecordError(
            Fault(place_of(url), "", f"cannot be read: {error.strerror}", "Choose another folder.")
        ) from error
    if size == 0 and backups(path.parent):
        raise damaged(url, "the file is gone or empty, yet there are backups of it")
    return size > 0


def _check(connection: sqlite3.Connection, path: Path, url: URL) -> None:
    whole = path.stat().st_size <= ALL_CHECKED_UP_TO
    (tables,) = connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
    (mark,) = connection.execute("PRAGMA application_id").fetchone()
    if tables and mark != APPLICATION:
        allowed = "is a database of another program"
        raise RecordError(Fault(place_of(url), "", allowed, "Choose another folder with --data."))
    checks = ["PRAGMA quick_check(5)"] if whole or not tables else ["PRAGMA quick_check(event)"]
    found = [answer for check in checks for (answer,) in connection.execute(check)]
    if found != ["ok"]:
        raise damaged(url, "; ".join(" ".join(str(answer).split()) for answer in found[:5]))


def _reading(path: Path) -> sqlite3.Connection:
    return sqlite3.connect(f"{path.resolve().as_uri()}?mode=ro", uri=True, timeout=PATIENCE_S)


def _prepare(connection: Any, _record: Any) -> None:
    # The driver must not begin transactions by itself: it would begin them too late (Python, sqlite3,
    # "Transaction control"); `_begin` does.
    connection.isolation_level = None
    for pragma in ("journal_mode = WAL", "synchronous = FULL", "foreign_keys = ON"):
        connection.execute(f"PRAGMA {pragma}")


def _begin(connection: Connection) -> None:
    writes = connection.get_execution_options().get(WRITING, False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")
