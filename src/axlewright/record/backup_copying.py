"""Copying a record into one SQLite file, as it is at one moment."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from importlib import import_module
from pathlib import Path
from typing import cast

from sqlalchemy import URL, Engine, select

from axlewright.errors import Fault, RecordError
from axlewright.record import tables
from axlewright.record.sqlite_file import WRITING, sqlite_engine

ROWS = 50
"""Rows that are fetched and put in at a time; a document may be some megabytes."""

IN_ORDER = (
    (tables.job, (tables.job.c.id,)),
    (tables.event, (tables.event.c.job, tables.event.c.number)),
    (tables.document, (tables.document.c.digest,)),
)
"""The tables, and the order of their rows: the numbers of a job's events must follow each other."""


def copy_record(engine: Engine, target: Path) -> None:
    """Copy a record while others read and write it.

    Args:
        engine: the record.
        target: the SQLite file to make; whatever it was is replaced.

    Raises:
        RecordError: the file cannot be written.
        DBAPIError: the record cannot be read.
    """
    target.unlink(missing_ok=True)
    if engine.dialect.name == "sqlite":
        _copy_file(engine, target)
    else:
        _copy_rows(engine, target)
    with _written(target), closing(sqlite3.connect(target)) as copy:
        # One file, with nothing beside it, can be carried away.
        copy.execute("PRAGMA journal_mode = DELETE")


def _copy_file(engine: Engine, target: Path) -> None:
    """All pages in one step, in the state of the moment it begins; writers do not wait (SQLite, "Online Backup")."""
    source = engine.raw_connection()
    try:
        with _written(target), closing(sqlite3.connect(target)) as copy:
            cast(sqlite3.Connection, source.driver_connection).backup(copy)
    finally:
        source.close()


def _copy_rows(engine: Engine, target: Path) -> None:
    """Row by row out of one transaction that sees the database as it was when it began (PostgreSQL, 13.2.2)."""
    new = sqlite_engine(URL.create("sqlite", database=str(target)))
    try:
        import_module("axlewright.record.upgrading").upgrade(new)
        with (
            engine.connect().execution_options(isolation_level="REPEATABLE READ") as reading,
            new.execution_options(**{WRITING: True}).begin() as writing,
        ):
            for table, order in IN_ORDER:
                found = reading.execution_options(yield_per=ROWS).execute(select(table).order_by(*order))
                for rows in found.mappings().partitions(ROWS):
                    writing.execute(table.insert(), [dict(row) for row in rows])
    finally:
        new.dispose()


@contextmanager
def _written(target: Path) -> Iterator[None]:
    try:
        yield
    except sqlite3.Error as error:
        allowed = f"cannot be written: {error}"
        raise RecordError(
            Fault(f"backup {target}", "", allowed, "Make room, or choose another folder.")
        ) from error
