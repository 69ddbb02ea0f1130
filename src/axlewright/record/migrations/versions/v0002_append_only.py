"""The database itself refuses to change or remove what was written, or to number events with gaps."""

from __future__ import annotations

from alembic import op

revision = "0002"
down_revision = "0001"

KEPT = ("job", "event", "document")


def upgrade() -> None:
    """Make the triggers, and the index by which an event's amendments are found."""
    op.create_index("event_amends", "event", ["job", "amends"])
    for statement in _ON_SQLITE if op.get_bind().dialect.name == "sqlite" else _ON_POSTGRESQL:
        op.execute(statement)


_ON_SQLITE = [
    f"""CREATE TRIGGER {table}_not_{done} BEFORE {done} ON {table}
    BEGIN SELECT RAISE(ABORT, 'the record is append-only'); END"""
    for table in KEPT
    for done in ("update", "delete")
] + [
    # INSERT OR REPLACE removes a row without firing the triggers above (SQLite, "CREATE TRIGGER", recursive_triggers).
    """CREATE TRIGGER event_not_replace BEFORE INSERT ON event
    WHEN NEW.number <> (SELECT coalesce(max(number), 0) + 1 FROM event WHERE job = NEW.job)
      OR EXISTS (SELECT 1 FROM event WHERE job = NEW.job AND key = NEW.key)
    BEGIN SELECT RAISE(ABORT, 'the record is append-only: numbers follow each other, keys count once'); END""",
    """CREATE TRIGGER document_not_replace BEFORE INSERT ON document
    WHEN EXISTS (SELECT 1 FROM document WHERE digest = NEW.digest)
    BEGIN SELECT RAISE(ABORT, 'the record is append-only'); END""",
]

_ON_POSTGRESQL = [
    """CREATE FUNCTION record_append_only() RETURNS trigger LANGUAGE plpgsql AS $$
    BEGIN RAISE EXCEPTION 'the record is append-only'; END $$""",
    """CREATE FUNCTION record_numbers_follow() RETURNS trigger LANGUAGE plpgsql AS $$
    BEGIN
        IF NEW.number <> (SELECT coalesce(max(number), 0) + 1 FROM event WHERE job = NEW.job) THEN
            RAISE EXCEPTION 'the record is append-only: numbers follow each other';
        END IF;
        RETURN NEW;
    END $$""",
    *(
        f"""CREATE TRIGGER {table}_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON {table}
        FOR EACH STATEMENT EXECUTE FUNCTION record_append_only()"""
        for table in KEPT
    ),
    """CREATE TRIGGER event_numbers_follow BEFORE INSERT ON event
    FOR EACH ROW EXECUTE FUNCTION record_numbers_follow()""",
]
