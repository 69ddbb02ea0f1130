"""The tables of the record as this version reads and writes them; `migrations` makes them."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from sqlalchemy import (
    JSON,
    Column,
    DateTime,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
    TypeDecorator,
    UniqueConstraint,
)

VERSION = "0002"
"""The version of the tables; `migrations/versions` has a step for each."""

VERSIONS = ("0001", "0002")
"""All versions there have been, oldest first."""


class UtcTime(TypeDecorator[datetime]):
    """A time in UTC to the microsecond, the same from every database."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Any) -> datetime | None:
        """SQLite keeps no time zone, so UTC it is before it is kept."""
        return None if value is None else value.astimezone(UTC)

    def process_result_value(self, value: datetime | None, dialect: Any) -> datetime | None:
        """PostgreSQL answers in the time zone of the session."""
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


metadata = MetaData()

job = Table("job", metadata, Column("id", String(32), primary_key=True))

event = Table(
    "event",
    metadata,
    Column("job", ForeignKey("job.id"), primary_key=True),
    Column("number", Integer, primary_key=True),
    Column("kind", String(40), nullable=False),
    Column("who", String(200), nullable=False),
    Column("device", String(200), nullable=False),
    Column("at", UtcTime, nullable=False),
    Column("told_at", UtcTime, nullable=False),
    Column("key", String(100), nullable=False),
    # The text as it was written, on both databases (not JSONB): the digest must come out the same when read back.
    Column("body", JSON, nullable=False),
    Column("documents", JSON, nullable=False),
    Column("amends", Integer),
    Column("reason", Text, nullable=False),
    Column("digest", String(64), nullable=False),
    UniqueConstraint("job", "key"),
    Index("event_kind", "job", "kind", "number"),
    Index("event_amends", "job", "amends"),
)

document = Table(
    "document",
    metadata,
    Column("digest", String(64), primary_key=True),
    Column("data", LargeBinary, nullable=False),
)
