"""Bringing the tables of a record up to date, step by step as `migrations` has them.

Only imported when that is needed, because it imports alembic.
"""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

from alembic.config import Config
from alembic.runtime.environment import EnvironmentContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, Engine, text

from axlewright.errors import Fault, RecordError
from axlewright.record.faults import place_of
from axlewright.record.sqlite_file import WRITING
from axlewright.record.tables import VERSION
from axlewright.record.version import version_of

_ONE_AT_A_TIME = text("SELECT pg_advisory_xact_lock(4716852)")
"""A number of our own: two servers that start at once must not both make the tables."""


def upgrade(engine: Engine, to: str = VERSION) -> None:
    """Bring the tables to a version, all steps or none; a copy of an older file is made first.

    Args:
        engine: the database.
        to: the version.

    Raises:
        RecordError: the copy cannot be made; nothing was changed.
    """
    with engine.execution_options(**{WRITING: True}).begin() as connection:
        if connection.dialect.name == "postgresql":
            connection.execute(_ONE_AT_A_TIME)
        # Looked at again, now that nobody else can change it.
        found = version_of(connection)
        if found == to:
            return
        if found is not None and connection.dialect.name == "sqlite":
            _copy(Path(str(engine.url.database)), found, place_of(engine.url))
        _run_steps(connection, to)


def _run_steps(connection: Connection, to: str) -> None:
    config = Config()
    config.set_main_option("script_location", "axlewright.record:migrations")
    script = ScriptDirectory.from_config(config)

    def steps(revision: Any, _context: Any) -> Any:
        return script._upgrade_revs(to, revision)

    # What alembic's own upgrade command does, less its env.py: the connection is at hand and in a transaction.
    with EnvironmentContext(config, script, fn=steps, destination_rev=to) as environment:
        environment.configure(connection=connection)
        environment.run_migrations()


def _copy(path: Path, version: str, place: str) -> Path:
    """A copy of the file as it stands, beside it; never over an earlier one."""
    copy, again = path.with_name(f"{path.stem}-version-{version}.db"), 1
    while copy.exists():
        again += 1
        copy = path.with_name(f"{path.stem}-version-{version}-{again}.db")
    try:
        with closing(sqlite3.connect(path)) as source, closing(sqlite3.connect(copy)) as target:
            source.backup(target)
    except sqlite3.Error as error:
        copy.unlink(missing_ok=True)
        allowed = f"no copy could be made before bringing it up to date: {error}"
        raise RecordError(Fault(place, f"of version {version}", allowed, "Make room for one.")) from error
    return copy
