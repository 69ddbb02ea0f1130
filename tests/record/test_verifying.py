"""Whether a change behind the record's back shows, and what is taken in from elsewhere."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import Connection, text
from tellings import FILE, job_file, note

from axlewright.errors import RecordError
from axlewright.record.chain import chained_digest
from axlewright.record.clock import clock_set_back
from axlewright.record.events import Document, Event
from axlewright.record.opening import DATABASE, open_store
from axlewright.record.store import Store

PICTURE = Document("p.png", "image/png", b"a picture")


def _told(store: Store) -> tuple[Event, ...]:
    job = store.create_job(job_file()).job
    store.append(job, note("one", "a", documents=(PICTURE,)))
    store.append(job, note("two", "b"))
    return store.events(job)


def _behind_its_back(store: Store, change: str) -> None:
    """A change by somebody who knows how to get past the triggers."""
    with store.engine.begin() as connection:
        _let_change(connection)
        connection.execute(text(change))


def _let_change(connection: Connection) -> None:
    if connection.dialect.name == "postgresql":
        connection.execute(text("SET LOCAL session_replication_role = replica"))
        return
    names = connection.execute(text("SELECT name FROM sqlite_master WHERE type = 'trigger'")).scalars().all()
    for name in names:
        connection.execute(text(f"DROP TRIGGER {name}"))


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (
            "UPDATE event SET body = replace(CAST(body AS text), 'one', 'ten'){} WHERE number = 2",
            "event 2 of job",
        ),
        ("UPDATE event SET who = 'Ann' WHERE number = 3", "event 3 of job"),
        ("UPDATE event SET at = '2020-01-01 00:00:00.000000' WHERE number = 2", "event 2 of job"),
        ("UPDATE event SET reason = 'so' WHERE number = 1", "event 1 of job"),
        ("DELETE FROM event WHERE number = 2", "event 2 is missing"),
        ("DELETE FROM event", "has no events"),
        ("DELETE FROM document", r"document job\.toml of event 1"),
        ("UPDATE document SET data = CAST('other' AS {blob})", "document [0-9a-f]{12}: was changed"),
    ],
)
def test_a_change_behind_the_records_back_shows(store: Store, change: str, says: str) -> None:
    """Any changed or missing event or document is found and named."""
    _told(store)
    server = store.engine.dialect.name == "postgresql"
    if "{}" in change:
        change = change.replace("{}", "")
        change = (
            change.replace("replace(", "CAST(replace(").replace("'ten')", "'ten') AS json)")
            if server
            else change
        )
    _behind_its_back(store, change.replace("{blob}", "bytea" if server else "blob"))
    faults = [str(fault) for fault in store.verify()]
    assert any(re.search(says, fault) for fault in faults), faults


def test_digests_follow_the_written_rule(store: Store) -> None:
    """The digest of an event is what docs/record.md says, worked out here from the rule alone."""
    events = _told(store)
    before = ""
    for event in events:
        fields = {
            **{
                name: getattr(event, name)
                for name in ("job", "number", "kind", "who", "device", "key", "reason")
            },
            "amends": event.amends,
            "at": event.at.strftime("%Y-%m-%dT%H:%M:%S.%f+00:00"),
            "told_at": event.told_at.strftime("%Y-%m-%dT%H:%M:%S.%f+00:00"),
            "body": event.body,
            "documents": [
                {"digest": d.digest, "media_type": d.media_type, "name": d.name, "size": d.size}
                for d in event.documents
            ],
            "digest": before,
        }
        line = json.dumps(fields, sort_keys=True, separators=(", ", ": "), ensure_ascii=True)
        assert hashlib.sha256(line.encode()).hexdigest() == event.digest
        before = event.digest


@pytest.fixture
def elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[tuple[Event, ...]]:
    """Events of a job that another record holds."""
    with monkeypatch.context() as patch:
        patch.delenv(DATABASE, raising=False)
        other = open_store(tmp_path / "elsewhere")
    yield _told(other)
    other.close()


BROUGHT = {document.digest: document.data for document in (FILE, PICTURE)}


def test_a_job_is_taken_in_as_it_is(store: Store, elsewhere: tuple[Event, ...]) -> None:
    """Events and documents are the same afterwards, on either database; taken in again, nothing is new."""
    job = elsewhere[0].job
    assert store.take_in(job, elsewhere, BROUGHT) == 3
    assert store.events(job) == elsewhere and store.verify() == ()
    assert store.document(elsewhere[1].documents[0]) == PICTURE
    assert store.take_in(job, elsewhere, {}) == 0


def test_a_job_told_further_elsewhere_is_taken_in_further(store: Store, elsewhere: tuple[Event, ...]) -> None:
    """What the record has must be the same; what is new comes after it; and what it has more stays."""
    job = elsewhere[0].job
    assert store.take_in(job, elsewhere[:1], BROUGHT) == 1
    assert store.take_in(job, elsewhere, BROUGHT) == 2
    assert store.take_in(job, elsewhere[:2], {}) == 0
    assert store.events(job) == elsewhere


def test_a_job_told_differently_elsewhere_is_refused(store: Store, elsewhere: tuple[Event, ...]) -> None:
    """Where the two records went different ways nothing is taken in."""
    job = elsewhere[0].job
    store.take_in(job, elsewhere[:1], BROUGHT)
    store.append(job, note("told here", "here"))
    before = store.events(job)
    with pytest.raises(RecordError, match=r"event 2 of job .* has another event in its place"):
        store.take_in(job, elsewhere, BROUGHT)
    assert store.events(job) == before


def _again(events: tuple[Event, ...], number: int, **other: object) -> tuple[Event, ...]:
    """The events with one changed, and the chain made to fit."""
    made: list[Event] = []
    for event in events:
        changed = replace(event, **other) if event.number == number else event  # type: ignore[arg-type]
        made.append(replace(changed, digest=chained_digest(changed, made[-1].digest if made else "")))
    return tuple(made)


@pytest.mark.parametrize(
    ("spoil", "brought", "says"),
    [
        (lambda e: (e[0], replace(e[1], who="Ann"), e[2]), BROUGHT, "event 2: was changed"),
        (lambda e: (e[0], e[2]), BROUGHT, "must be event 2 of job"),
        (lambda e: e[1:], BROUGHT, "must be event 1 of job"),
        (lambda e: (), BROUGHT, "at least one event"),
        (lambda e: _again(e, 2, amends=2), BROUGHT, "only amend an earlier event"),
        (lambda e: _again(e, 2, kind="dream"), BROUGHT, "must be one of"),
        (lambda e: _again(e, 2, body={"words": "one"}), BROUGHT, "does not tell what a note tells"),
        (lambda e: _again(e, 2, key="b"), BROUGHT, "the same key"),
        (lambda e: _again(e, 2, who="w" * 300), BROUGHT, "at most 200 characters"),
        (lambda e: _again(e, 2, who="\0"), BROUGHT, "zero character"),
        (lambda e: _again(e, 2, at=datetime(2026, 1, 1)), BROUGHT, "must have its time zone"),
        (lambda e: e, {FILE.digest: FILE.data}, r"document p\.png is missing"),
        (lambda e: e, {**BROUGHT, PICTURE.digest: b"another"}, r"document p\.png: was changed"),
    ],
)
def test_what_was_changed_on_the_way_is_refused(
    store: Store,
    elsewhere: tuple[Event, ...],
    spoil: Callable[[tuple[Event, ...]], tuple[Event, ...]],
    brought: dict[str, bytes],
    says: str,
) -> None:
    """A broken chain, a missing or changed document or an event of no kind is refused whole."""
    with pytest.raises(RecordError, match=says):
        store.take_in(elsewhere[0].job, spoil(elsewhere), brought)
    assert store.jobs() == () and store.verify() == ()


def test_a_job_of_no_name_is_refused(store: Store, elsewhere: tuple[Event, ...]) -> None:
    """A name that could lead a path astray is no name of a job."""
    with pytest.raises(RecordError, match="up to 32 letters"):
        store.take_in("../x", elsewhere, BROUGHT)


def _dated(event: Event, *hours: float) -> list[Event]:
    begin = datetime(2026, 3, 1, 8, tzinfo=UTC)
    return [replace(event, number=n, at=begin + timedelta(hours=h)) for n, h in enumerate(hours, start=1)]


def test_a_clock_set_back_shows_in_words(elsewhere: tuple[Event, ...]) -> None:
    """The largest step back is told with both events; what a clock is put right by all the time is not."""
    event = elsewhere[0]
    assert clock_set_back(_dated(event, 0, 1, 0.99, 2)) is None
    assert clock_set_back([]) is None
    told = clock_set_back(_dated(event, 0, 30, 5.5, 6))
    assert told is not None and "event 3 is dated 1 d 30 min before event 2" in told


def test_a_clock_behind_the_last_event_shows_in_words(elsewhere: tuple[Event, ...]) -> None:
    """A clock that now stands before the last event is told, even if no event was told since."""
    events = _dated(elsewhere[0], 0, 1)
    now = datetime(2026, 3, 1, 8, 30, tzinfo=UTC)
    told = clock_set_back(events, now)
    assert told is not None and "event 2 is dated 30 min ahead of the clock now" in told
    assert clock_set_back(events, now + timedelta(hours=1)) is None


def test_a_clock_set_back_changes_no_order(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    """Events told after the clock went back come after those told before."""

    class Back(datetime):
        """A clock three hours slow."""

        @classmethod
        def now(cls, tz: object = None) -> datetime:  # type: ignore[override]
            """Three hours ago."""
            return datetime.now(UTC) - timedelta(hours=3)

    job = store.create_job(job_file()).job
    monkeypatch.setattr("axlewright.record.writing.datetime", Back)
    store.append(job, note("later", "n"))
    events = store.events(job)
    assert [event.number for event in events] == [1, 2] and events[1].at < events[0].at
    assert store.verify() == ()
    told = clock_set_back(events)
    assert told is not None and "event 2 is dated 2 h 59 min before event 1" in told
