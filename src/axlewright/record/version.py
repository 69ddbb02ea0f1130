"""The version of a database's tables, by plain SQL: alembic is slow to load and hardly ever needed."""

from __future__ import annotations

from sqlalchemy import Connection

from axlewright.errors import Fault, RecordError
from axlewright.record.faults import place_of

_TABLES = {
    "sqlite": "SELECT name FROM sqlite_master WHERE type = 'table'",
    "postgresql": "SELECT table_name FROM information_schema.tables WHERE table_schema = current_schema()",
}
_OURS = {"alembic_version", "job", "event", "document"}


def version_of(connection: Connection) -> str | None:
    """The version of the tables; None where there are no tables at all.

    Raises:
        RecordError: they are tables of another program.
    """
    tables = set(connection.exec_driver_sql(_TABLES[connection.dialect.name]).scalars())
    if not tables:
        return None
    if tables >= _OURS:
        found = connection.exec_driver_sql("SELECT version_num FROM alembic_version").scalars().all()
        if len(found) == 1:
            return str(found[0])
    allowed = "is a database of another program"
    remedy = "Give the record a database of its own."
    raise RecordError(Fault(place_of(connection.engine.url), "", allowed, remedy))
