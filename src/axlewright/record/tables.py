"""The tables of the record."""

from __future__ import annotations

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
    UniqueConstraint,
)

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
    Column("at", DateTime(timezone=True), nullable=False),
    Column("told_at", DateTime(timezone=True), nullable=False),
    Column("key", String(100), nullable=False),
    Column("body", JSON, nullable=False),
    Column("documents", JSON, nullable=False),
    Column("amends", Integer),
    Column("reason", Text, nullable=False),
    Column("digest", String(64), nullable=False),
    UniqueConstraint("job", "key"),
    Index("event_kind", "job", "kind", "number"),
)

document = Table(
    "document",
    metadata,
    Column("digest", String(64), primary_key=True),
    Column("data", LargeBinary, nullable=False),
)
