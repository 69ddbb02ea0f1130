"""What goes wrong with the database, in plain words, with what to do about it."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import URL
from sqlalchemy.exc import DBAPIError
from sqlalchemy.exc import TimeoutError as NoneFree

from axlewright.errors import DamagedRecordError, Fault, RecordError
from axlewright.record.last_backup import last_sound_backup

NOTHING_LOST = "What was told before is safe"

_SQLITE = {
    sqlite3.SQLITE_FULL: ("the disk is full", "Make room and send it again"),
    sqlite3.SQLITE_READONLY: (
        "must be a file that may be written to, in a folder that may be",
        "Give yourself the right to write there, or choose another folder with --data",
    ),
    sqlite3.SQLITE_PERM: ("must be a file that may be written to", "Give yourself the right to write there"),
    sqlite3.SQLITE_CANTOPEN: (
        "cannot be opened: the folder must be there and may be written to",
        "Give yourself the right to write there, or choose another folder with --data",
    ),
    sqlite3.SQLITE_BUSY: (
        "another program has held it for too long",
        "Close what else has it open, or wait, and send it again",
    ),
    sqlite3.SQLITE_IOERR: (
        "the disk does not take or give what it should: it may be full, unplugged or failing",
        "Look after the disk, make a backup elsewhere and send it again",
    ),
}
_SQLITE[sqlite3.SQLITE_LOCKED] = _SQLITE[sqlite3.SQLITE_BUSY]
_DAMAGED = (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB)

# By class of the server's SQLSTATE (PostgreSQL 15, appendix A); without one the server was not reached at all.
_POSTGRESQL = {
    "28": ("does not let this user in", "Look at user and password in AXLEWRIGHT_DB"),
    "3D": ("has no such database", "Make it with createdb, or name another in AXLEWRIGHT_DB"),
    "53": ("has no room left: disk, memory or connections", "Make room on the server and send it again"),
    "55": (
        "another program has held it for too long",
        "Close what else has it open, or wait, and send it again",
    ),
    "57": ("was stopped", "Start it, wait a moment and send it again"),
    "42": ("does not let this user make or use the tables", "Give the user a database of its own"),
    "25": ("only lets read", "Name a server in AXLEWRIGHT_DB that may be written to"),
    "": ("cannot be reached", "Look whether it runs, and at host and port in AXLEWRIGHT_DB"),
}


def place_of(url: URL) -> str:
    """Where a record is, without a password."""
    return f"record {url.database if url.get_backend_name() == 'sqlite' else url.set(query={})!r}"


@contextmanager
def plainly(url: URL) -> Iterator[None]:
    """Turn what the database complains of into what a person can do.

    Args:
        url: the database.

    Raises:
        RecordError: the database complained.
        DamagedRecordError: because its file is damaged.
    """
    try:
        yield
    except NoneFree as error:
        allowed, remedy = _SQLITE[sqlite3.SQLITE_BUSY]
        raise RecordError(Fault(place_of(url), "", allowed, f"{NOTHING_LOST}. {remedy}.")) from error
    except DBAPIError as error:
        raise in_plain_words(error.orig or error, url) from error
    except sqlite3.Error as error:
        raise in_plain_words(error, url) from error


def in_plain_words(error: BaseException, url: URL) -> RecordError:
    """What a complaint of the database's driver means."""
    if not isinstance(error, sqlite3.Error):
        return _of_server(error, url)
    # The low byte is the kind of error, the rest its circumstances (SQLite, "Result and error codes").
    code = getattr(error, "sqlite_errorcode", sqlite3.SQLITE_ERROR) & 0xFF
    if code in _DAMAGED:
        return damaged(url, str(error))
    known = (
        f"the database says: {error}",
        "Send it again; if it stays so, write to those who keep axlewright",
    )
    allowed, remedy = _SQLITE.get(code, known)
    return RecordError(Fault(place_of(url), "", allowed, f"{NOTHING_LOST}. {remedy}."))


def damaged(url: URL, finding: str) -> DamagedRecordError:
    """A damaged record, with the last backup that is sound.

    Args:
        url: the database.
        finding: what is wrong with it.
    """
    if url.get_backend_name() != "sqlite" or not url.database:
        remedy = "Leave it as it is and bring back the last backup of the database."
        return DamagedRecordError(Fault(place_of(url), "damaged", finding, remedy))
    backup = last_sound_backup(Path(url.database).parent)
    bring = (
        "There is no sound backup beside it; ask someone who knows SQLite before anything else is tried."
        if backup is None
        else f"The last sound backup is {backup.name}; bring it back with: axlewright record restore {backup}"
    )
    return DamagedRecordError(Fault(place_of(url), "damaged", finding, f"It is left as it is. {bring}"))


def _of_server(error: BaseException, url: URL) -> RecordError:
    sentence = str(error).strip().split("\n")[0]
    allowed, remedy = _POSTGRESQL.get(
        _class_of(error, sentence), (f"the server says: {sentence}", "Send it again")
    )
    found = "" if sentence in allowed else f' (the server: "{sentence}")'
    return RecordError(Fault(place_of(url), "", f"{allowed}{found}", f"{NOTHING_LOST}. {remedy}."))


def _class_of(error: BaseException, sentence: str) -> str:
    """Class of the SQLSTATE of an error; "" where the server was not reached."""
    state = getattr(error, "sqlstate", None)
    if state:
        return str(state)[:2]
    # While a connection is made the driver has only the server's words. On servers that do not speak English the
    # remedy for one that cannot be reached is shown, with the server's own sentence beside it.
    if "authentication" in sentence:
        return "28"
    if "does not exist" in sentence:
        return "3D"
    # Named by name, because the driver is not loaded where there is no server.
    return "" if type(error).__name__ in ("OperationalError", "InterfaceError") else "other"
