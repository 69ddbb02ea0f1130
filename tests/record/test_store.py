"""The store of the record, on both databases."""

from __future__ import annotations

import threading
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from postgresql_server import Server
from sqlalchemy import make_url
from sqlalchemy.exc import DBAPIError
from tellings import FILE, bead, job_file, note

from axlewright.errors import RecordError
from axlewright.record.chain import chained_digest
from axlewright.record.events import Document, DocumentLine, NewEvent
from axlewright.record.opening import DATABASE, open_store
from axlewright.record.remembered import Remembered
from axlewright.record.sqlite_file import sqlite_engine
from axlewright.record.store import Store
from axlewright.record.upgrading import upgrade

ON_BOTH = settings(max_examples=60, suppress_health_check=list(HealthCheck), deadline=None)


def test_what_is_written_is_read_back_the_same(store: Store, tmp_path: Path) -> None:
    """Events come back as `append` gave them, from this opening of the record and from another one."""
    first = store.create_job(job_file())
    kathmandu = timezone(timedelta(hours=5, minutes=45))
    told_at = datetime(2026, 3, 1, 0, 30, 0, 123456, tzinfo=kathmandu)
    written = (
        first,
        store.append(first.job, note("Ünïcode \U0001f525 'quoted' \\u0000", "n", told_at=told_at)),
    )
    assert store.events(first.job) == written
    again = open_store(tmp_path)
    assert again.events(first.job) == written
    again.close()
    assert written[1].told_at == told_at and written[1].told_at.tzinfo is UTC


@pytest.mark.xdist_group("postgresql")
def test_times_are_utc_whatever_the_server_is_set_to(
    postgresql: Server, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A database asked for with a time zone of its own gives times in UTC all the same."""
    monkeypatch.setenv(DATABASE, f"{postgresql.new_database()}&options=-c%20timezone%3DAsia/Kathmandu")
    store = open_store(tmp_path)
    job = store.create_job(job_file()).job
    (event,) = Store(store.engine).events(job)
    assert event.at.tzinfo is UTC and event.told_at.tzinfo is UTC
    store.close()


@ON_BOTH
@given(
    bench=st.floats(allow_nan=False, allow_infinity=False),
    words=st.text(max_size=50),
    told_at=st.datetimes(
        min_value=datetime(1, 1, 2), max_value=datetime(9999, 12, 30), timezones=st.timezones()
    ),
)
def test_digests_come_out_the_same_from_what_is_read_back(
    store: Store, bench: float, words: str, told_at: datetime
) -> None:
    """Any finite number, any words that can be kept and any time give the digest they were written with."""
    job = store.create_job(job_file()).job
    key = f"plan-{len(store.events(job))}"
    body = {"stands_on": {"job_file": 1}, "chosen": 0, "recommended": None, "beads": 1}
    told = NewEvent(
        "plan", "Ann", {**body, "bench_min": bench, "words": words}, key, told_at=told_at, reason=words
    )
    try:
        written = store.append(job, told)
    except RecordError as error:
        assert "zero character" in str(error) or "years 1 to 9999" in str(error)
        return
    # Read by another store, which remembers nothing.
    *_, before, after = Store(store.engine).events(job)
    assert after == written
    assert chained_digest(after, before.digest) == after.digest


@pytest.mark.parametrize(
    ("told", "says"),
    [
        (note("half \ud800", "k"), "unicode"),
        (note("zero \0", "k"), "zero character"),
        (note("x", "k", reason="\0"), "zero character"),
        (note("x", "k" * 101), "at most 100 characters"),
        (note("x", ""), "every telling has a key"),
        (note("x", "k", device="d" * 201), "at most 200 characters"),
        (note("x", "k", told_at=datetime(2026, 1, 1)), "must have its time zone"),
        (note("x", "k", told_at=datetime(1, 1, 1, tzinfo=timezone(timedelta(hours=9)))), "years 1 to 9999"),
        (note("x", "k", documents=(FILE, FILE)), "a name of its own"),
        (note("x", "k", amends=7), "must be the number of an event of this job"),
        (note("x", "k", amends=1), "which only another job file can put right"),
        (NewEvent("withdrawal", "Ann", {}, "k"), "which event it takes back"),
        (NewEvent("dream", "Ann", {}, "k"), "must be one of"),
    ],
)
def test_what_cannot_be_kept_is_refused(store: Store, told: NewEvent, says: str) -> None:
    """What one of the databases could not keep, or the record not make sense of, is refused by both, in words."""
    job = store.create_job(job_file()).job
    with pytest.raises(RecordError, match=says):
        store.append(job, told)
    assert len(store.events(job)) == 1


@pytest.mark.parametrize("number", [float("nan"), float("inf")])
def test_numbers_are_finite(store: Store, number: float) -> None:
    """A number that JSON does not know is refused."""
    job = store.create_job(job_file()).job
    body = {"stands_on": {"job_file": 1}, "chosen": 0, "recommended": None, "beads": 1, "bench_min": number}
    with pytest.raises(RecordError, match="finite"):
        store.append(job, NewEvent("plan", "Ann", body, "k"))


def test_a_retry_counts_once(store: Store) -> None:
    """The same key told again gives the event that was written first, also for the event a job begins with."""
    first = store.create_job(job_file())
    assert store.create_job(job_file()) == first
    told = store.append(first.job, note("x", "n"))
    assert store.append(first.job, note("x", "n")) == told
    assert store.events(first.job) == (first, told) and len(store.jobs()) == 1


@pytest.mark.parametrize(
    "other",
    [note("y", "n"), bead("C7", "n"), note("x", "n", documents=(Document("a.png", "image/png", b"a"),))],
)
def test_a_key_is_not_used_for_something_else(store: Store, other: NewEvent) -> None:
    """A key that comes again with other words, another kind or another picture is refused."""
    job = store.create_job(job_file()).job
    store.append(job, note("x", "n"))
    with pytest.raises(RecordError, match="was used for event 2"):
        store.append(job, other)


def test_a_job_that_is_not_there_takes_no_events(store: Store) -> None:
    """Events of a job that is not in the record are neither written nor read."""
    for asked in (lambda: store.append("nowhere", note("x", "n")), lambda: store.events("nowhere")):
        with pytest.raises(RecordError, match="is not in the record"):
            asked()
    assert store.jobs() == ()


def test_events_after_a_number(store: Store) -> None:
    """Only later events are given, none if there are none; a job that is not there is told."""
    job = store.create_job(job_file()).job
    told = store.append(job, note("x", "n"))
    assert store.events(job, 1) == (told,) and store.events(job, 2) == ()
    with pytest.raises(RecordError, match="is not in the record"):
        store.events("nowhere", 2)


def test_events_told_through_another_opening_are_seen(store: Store, tmp_path: Path) -> None:
    """What is remembered in memory never hides what another program wrote."""
    job, other = store.create_job(job_file()).job, open_store(tmp_path)
    for number in range(3):
        told = other.append(job, note("x", f"n{number}"))
        assert store.events(job)[-1] == told
    other.close()


def test_another_record_put_in_its_place_is_seen(store: Store, tmp_path: Path) -> None:
    """What is remembered of a job is dropped where the record now tells something else of it."""
    job = store.create_job(job_file()).job
    store.append(job, note("x", "n"))
    other = sqlite_engine(make_url(f"sqlite:///{tmp_path / 'other.db'}"))
    upgrade(other)
    Store(other).create_job(job_file())
    remembered = Remembered()
    for engine in (store.engine, other, store.engine):
        with engine.connect() as connection:
            assert remembered.events(connection, job) == Store(engine).events(job)
    other.dispose()


def test_documents_come_back(store: Store) -> None:
    """A document has the bytes it was given; one that is not in the record is told by name."""
    first = store.create_job(job_file())
    assert store.document(first.documents[0]) == FILE
    with pytest.raises(RecordError, match=r"document is b\.png: is not in the record"):
        store.document(DocumentLine("b.png", "image/png", "0" * 64, 1))


def test_jobs_are_listed_by_the_job_file_that_counts(store: Store) -> None:
    """A job is called what its last counting file says: not what was taken back, and again once that is taken back."""
    one, two = store.create_job(job_file("one")).job, store.create_job(job_file("two")).job
    renamed = NewEvent("job file", "Ann", {"name": "Guard", "units": "mm"}, "renamed")
    store.append(one, renamed)
    assert [(line.job, line.name) for line in store.jobs()] == [(one, "Guard"), (two, "Truss")]
    store.append(one, NewEvent("withdrawal", "Ann", {}, "back", amends=2))
    assert store.jobs()[0].name == "Truss"
    store.append(one, NewEvent("withdrawal", "Ann", {}, "after all", amends=3))
    assert store.jobs()[0].name == "Guard"


def test_many_writers_get_numbers_without_gaps(store: Store, tmp_path: Path) -> None:
    """Eight threads through four openings, two jobs and shared documents: every event there once, chains whole."""
    jobs = [store.create_job(job_file(key)).job for key in ("a", "b")]
    openings = [store, *(open_store(tmp_path) for _ in range(3))]
    refused: list[Exception] = []

    def write(writer: int) -> None:
        for number in range(10):
            picture = Document("p.png", "image/png", bytes([number]))
            told = note("x", f"{writer}-{number}", documents=(picture,))
            try:
                openings[writer % 4].append(jobs[writer // 4], told)
            except RecordError as error:
                refused.append(error)

    threads = [threading.Thread(target=write, args=(writer,)) for writer in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert refused == []
    for job in jobs:
        assert [event.number for event in store.events(job)] == list(range(1, 42))
    assert store.verify() == ()
    for opening in openings[1:]:
        opening.close()


@pytest.mark.parametrize("table", ["job", "event", "document"])
@pytest.mark.parametrize("statement", ["UPDATE {} SET {} = {}", "DELETE FROM {}"])
def test_the_database_itself_refuses_changes(store: Store, table: str, statement: str) -> None:
    """Neither a change nor a removal gets through by plain SQL."""
    before = store.events(store.create_job(job_file()).job)
    column = {"job": "id", "event": "who", "document": "digest"}[table]
    with pytest.raises(DBAPIError, match="append-only"), store.engine.begin() as connection:
        connection.exec_driver_sql(statement.format(table, column, column))
    assert Store(store.engine).events(before[0].job) == before


@pytest.mark.parametrize(("number", "key"), [(1, "'other'"), (3, "'other'"), (2, "key")])
def test_the_database_itself_refuses_other_numbers_and_the_same_key(
    store: Store, number: int, key: str
) -> None:
    """A number or key that is there, or a gap, gets through by no SQL, not even in place of another row."""
    job = store.create_job(job_file()).job
    replace = " OR REPLACE" if store.engine.dialect.name == "sqlite" else ""
    columns = "kind, who, device, at, told_at, body, documents, amends, reason, digest"
    into = f"INSERT{replace} INTO event (job, number, key, {columns})"
    with (
        pytest.raises(DBAPIError, match=r"append-only|unique constraint"),
        store.engine.begin() as connection,
    ):
        connection.exec_driver_sql(f"{into} SELECT job, {number}, {key}, {columns} FROM event")
    assert len(Store(store.engine).events(job)) == 1
