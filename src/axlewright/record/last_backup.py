"""The last backup that is sound, for when the record is not."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

BACKUPS = "backups"
"""Folder of the backups, beside the file of the record."""

APPLICATION = 0x41584C57
"""Marks a file as a record (SQLite, "Database file format", 1.3.17): the letters AXLW."""


def last_sound_backup(folder: Path) -> Path | None:
    """The newest backup of a data folder that passes its own check; None where there is none.

    Args:
        folder: the data folder.
    """
    found = sorted(backups(folder), key=lambda path: (path.stat().st_mtime, path.name), reverse=True)
    return next((path for path in found if sound(path)), None)


def backups(folder: Path) -> list[Path]:
    """All files that may be backups of a data folder."""
    return [path for path in (folder / BACKUPS).glob("*.db") if path.is_file()]


def sound(path: Path) -> bool:
    """Whether a file is a record that SQLite finds undamaged.

    Args:
        path: the file; it is only read, and nothing is put beside it.
    """
    try:
        with closing(sqlite3.connect(f"{path.resolve().as_uri()}?immutable=1", uri=True)) as connection:
            (mark,) = connection.execute("PRAGMA application_id").fetchone()
            (answer,) = connection.execute("PRAGMA quick_check(1)").fetchone()
            return bool(mark == APPLICATION and answer == "ok")
    except sqlite3.Error:
        return False
