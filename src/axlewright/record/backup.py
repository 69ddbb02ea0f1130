"""Backups: a copy of the whole record in one SQLite file, made while others write, and checked.

They lie in a folder of their own and are named by the time they were made, in UTC. The newest 20 are kept, and of the
30 days before the newest the last of each day.
"""

from __future__ import annotations

import os
import re
import sqlite3
from collections.abc import Iterable
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

from sqlalchemy import text

from axlewright.errors import Fault, RecordError
from axlewright.record.backup_copying import copy_record
from axlewright.record.faults import damaged, plainly
from axlewright.record.last_backup import sound
from axlewright.record.store import Store

NEWEST_KEPT = 20
DAYS_KEPT = 30
LEFT_AFTER = 86400.0
"""Age at which a copy that was never finished is cleared [s]."""

_NAME = re.compile(r"axlewright-([0-9]{8}-[0-9]{6})\.db")
_TIME = "%Y%m%d-%H%M%S"

_LAST_OF_EACH_JOB = """
SELECT event.job, event.number, event.digest FROM event
JOIN (SELECT job, max(number) AS number FROM event GROUP BY job) AS last
ON event.job = last.job AND event.number = last.number
"""
"""Events are never changed and each digest holds the one before it, so these stand for the whole record."""


def backup(store: Store, folder: Path) -> Path:
    """Make a backup of a record, as it is at one moment, while it is read and written; older ones are cleared.

    Args:
        store: the record.
        folder: where backups lie; made where it is not there.

    Returns:
        The new backup.

    Raises:
        RecordError: it cannot be written; earlier backups are as they were.
        DamagedRecordError: the copy does not pass its check, so the record itself must be damaged.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        path = _free_name(folder, datetime.now(UTC))
        # The pages and a command may make one in the same second.
        part = path.with_name(f"{path.name}.{os.getpid()}.part")
        try:
            with plainly(store.engine.url):
                copy_record(store.engine, part)
            if not sound(part):
                raise damaged(store.engine.url, "a copy of it does not pass its check")
            part.replace(path)
        finally:
            part.unlink(missing_ok=True)
    except OSError as error:
        allowed = f"must be a folder that can be written to ({error.strerror or error})"
        raise RecordError(
            Fault(f"backups {folder}", "", allowed, "Make room, or choose another folder.")
        ) from error
    _clear(folder, path)
    return path


def needed(store: Store, folder: Path) -> bool:
    """Whether the record has events that its last backup has not.

    Args:
        store: the record.
        folder: where backups lie.

    Raises:
        RecordError: the record cannot be read.
    """
    with plainly(store.engine.url), store.engine.connect() as connection:
        here = {tuple(row) for row in connection.execute(text(_LAST_OF_EACH_JOB))}
    return here != _last_backed_up(folder)


def times_of(paths: Iterable[Path]) -> dict[Path, datetime]:
    """When backups were made, by their names; other files are left out."""
    times = {}
    for path in paths:
        if match := _NAME.fullmatch(path.name):
            try:
                times[path] = datetime.strptime(match[1], _TIME).replace(tzinfo=UTC)
            except ValueError:
                continue
    return times


def to_clear(paths: Iterable[Path], new: Path) -> list[Path]:
    """Backups that need no longer be kept; never the one just made, whatever the clock says.

    Args:
        paths: files in the folder.
        new: the one just made.
    """
    times = times_of(paths)
    ordered = sorted(times, key=lambda path: times[path])
    last_of_day = {times[path].date(): path for path in ordered}
    newest = times[ordered[-1]].date()
    days = {path for day, path in last_of_day.items() if newest - day < timedelta(days=DAYS_KEPT)}
    kept = {*ordered[-NEWEST_KEPT:], *days, new}
    return [path for path in ordered if path not in kept]


def _clear(folder: Path, new: Path) -> None:
    """Clear old backups, and what was left of copies that were broken off long ago."""
    for old in to_clear(folder.iterdir(), new):
        old.unlink(missing_ok=True)
    for left in folder.glob("axlewright-*.part*"):
        if new.stat().st_mtime - left.stat().st_mtime > LEFT_AFTER:
            left.unlink(missing_ok=True)


def _free_name(folder: Path, now: datetime) -> Path:
    path = folder / f"axlewright-{now.strftime(_TIME)}.db"
    return _free_name(folder, now + timedelta(seconds=1)) if path.exists() else path


def _last_backed_up(folder: Path) -> set[tuple[object, ...]]:
    """The last event of each job in the newest backup; none where there is no backup that can be read."""
    try:
        found = times_of(folder.iterdir()) if folder.is_dir() else {}
        newest = max(found, key=lambda path: (path.stat().st_mtime, path.name), default=None)
        if newest is None:
            return set()
        with closing(sqlite3.connect(f"{newest.resolve().as_uri()}?immutable=1", uri=True)) as connection:
            return set(connection.execute(_LAST_OF_EACH_JOB))
    except (sqlite3.Error, OSError):
        return set()
