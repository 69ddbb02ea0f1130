"""Jobs, their events and documents."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    """Make the tables."""
    if op.get_bind().dialect.name == "sqlite":
        # Marks the file as ours: the letters AXLW (SQLite, "Database file format", 1.3.17).
        op.execute(f"PRAGMA application_id = {0x41584C57}")
    op.create_table("job", sa.Column("id", sa.String(32), primary_key=True))
    op.create_table(
        "event",
        sa.Column("job", sa.String(32), sa.ForeignKey("job.id"), primary_key=True),
        sa.Column("number", sa.Integer, primary_key=True),
        sa.Column("kind", sa.String(40), nullable=False),
        sa.Column("who", sa.String(200), nullable=False),
        sa.Column("device", sa.String(200), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("told_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("key", sa.String(100), nullable=False),
        sa.Column("body", sa.JSON, nullable=False),
        sa.Column("documents", sa.JSON, nullable=False),
        sa.Column("amends", sa.Integer),
        sa.Column("reason", sa.Text, nullable=False),
        sa.Column("digest", sa.String(64), nullable=False),
        sa.UniqueConstraint("job", "key"),
    )
    op.create_index("event_kind", "event", ["job", "kind", "number"])
    op.create_table(
        "document",
        sa.Column("digest", sa.String(64), primary_key=True),
        sa.Column("data", sa.LargeBinary, nullable=False),
    )
