"""A job goes into one archive and comes back as it was."""

from __future__ import annotations

import csv
import io
import json
import tempfile
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import archive_examples as examples
import pytest
from hypothesis import HealthCheck, event, given, settings

from axlewright.errors import RecordError
from axlewright.plan.replan.rows import rows_of
from axlewright.plan.replan.times import read_time
from axlewright.record.archive import places_of, plain_name
from axlewright.record.archive_reading import document_of, read_archive
from axlewright.record.archive_writing import export_job
from axlewright.record.events import Document, NewEvent
from axlewright.record.store import Store


@pytest.fixture
def elsewhere(tmp_path: Path) -> Iterator[Store]:
    """Another empty record."""
    opened = examples.apart(tmp_path / "elsewhere")
    yield opened
    opened.close()


def taken_in(store: Store, data: bytes) -> int:
    """How many events of an archive were new to a record."""
    with read_archive(io.BytesIO(data)) as archived:
        return store.take_in(archived.job, archived.events, archived.documents)


def members(data: bytes) -> dict[str, bytes]:
    """Contents of a zip file by name."""
    with zipfile.ZipFile(io.BytesIO(data)) as zipped:
        return {name: zipped.read(name) for name in zipped.namelist()}


def test_comes_back_identically(store: Store, elsewhere: Store) -> None:
    """A job taken in elsewhere has the same events and documents, and gives the same archive to the byte."""
    job = examples.shop_job(store)
    data = export_job(store, job)
    assert taken_in(elsewhere, data) == 7
    assert elsewhere.events(job) == store.events(job)
    lines = [line for event in store.events(job) for line in event.documents]
    assert [elsewhere.document(line) for line in lines] == [store.document(line) for line in lines]
    assert export_job(elsewhere, job) == data == export_job(store, job)


@settings(
    max_examples=60,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(examples.tellings)
def test_any_record_comes_back(store: Store, many: list[Any]) -> None:
    """Whatever a record accepts, names of files and languages included, comes back from its archive the same."""
    job = examples.kept_job(store, many)
    event("further events" if len(store.events(job)) > 1 else "none")
    data = export_job(store, job)
    with tempfile.TemporaryDirectory() as folder:
        other = examples.apart(Path(folder))
        taken_in(other, data)
        again = export_job(other, job)
        same = other.events(job) == store.events(job)
        other.close()
    assert same and again == data


def test_a_person_finds_everything(store: Store) -> None:
    """The archive holds the latest files under plain names, tables, pictures, and each content once."""
    job = examples.shop_job(store)
    held = members(export_job(store, job))
    assert set(held) == {
        "README.txt",
        "record.json",
        "events.csv",
        "bead-log.csv",
        "job.toml",
        "readings-before.csv",
        "documents/00001-job.toml",
        "documents/00002-readings.csv",
        "pictures/00005-truss_front.jpg",
    }
    assert held["job.toml"] == examples.demo_text("truss-only").encode()
    assert held["readings-before.csv"] == examples.BEFORE.data
    assert held["pictures/00005-truss_front.jpg"] == examples.PICTURE.data
    for name in ("job.toml", "record.json", "events.csv", "pictures/"):
        assert name in held["README.txt"].decode()


def test_the_same_content_lies_in_it_once(store: Store) -> None:
    """Two events that bring the same file share one file of the archive."""
    job = examples.shop_job(store)
    again = (Document("other name.csv", "text/csv", examples.BEFORE.data),)
    store.append(job, NewEvent("readings", "Ann", {"set": "after", "used": 1, "refused": 0}, "x", again))
    held = members(export_job(store, job))
    assert [n for n, data in held.items() if data == examples.BEFORE.data and "/" in n] == [
        "documents/00002-readings.csv"
    ]


def test_names_differ_where_systems_would_not_tell_them_apart(store: Store) -> None:
    """Documents of one event whose names differ in capitals alone lie in files that no system mixes up."""
    job = examples.shop_job(store)
    brought = tuple(Document(name, "", name.encode()) for name in ("a.txt", "A.txt", "a/.txt"))
    store.append(job, NewEvent("note", "Ann", {"words": "three"}, "x", brought))
    names = [name for name, _ in places_of(store.events(job)).values()]
    assert len({name.casefold() for name in names}) == len(names)


@pytest.mark.parametrize(
    "name",
    ["../../x", "/etc/passwd", "C:\\x", "..", "", "\0", "aux\u202etxt.exe", "x" * 500, "é" * 90, "-rf"],
)
def test_names_are_harmless(name: str) -> None:
    """No document's name leads out of the folder, hides its ending, or is too long for a disk."""
    plain = plain_name(name)
    assert plain.isascii() and 0 < len(plain) <= 80
    assert not set(plain) & set("/\\:\0 ") and plain[0] not in "-."


def test_a_long_name_keeps_its_ending() -> None:
    """A name that is cut keeps the ending that tells programs what it is."""
    assert plain_name("readings " * 20 + ".csv").endswith(".csv")


def test_the_events_are_a_table(store: Store) -> None:
    """events.csv has a line for each event, also for one taken back, and none that a spreadsheet computes."""
    job = examples.shop_job(store)
    rows = list(csv.DictReader(io.StringIO(members(export_job(store, job))["events.csv"].decode())))
    assert [row["kind"] for row in rows] == [event.kind for event in store.events(job)]
    assert rows[0]["words"] == "Truss, T-1" and rows[1]["words"] == "before: 12 used, 0 refused"
    assert rows[5]["words"] == "'=1+1" and rows[6]["amends"] == "6"


def test_the_bead_log_is_one(store: Store) -> None:
    """bead-log.csv reads as a bead log: its lines in order of time, each time one that a log may have."""
    job = examples.shop_job(store)
    rows, faults = rows_of(members(export_job(store, job))["bead-log.csv"].decode(), "log")
    assert not faults
    assert [(row.get("event"), row.get("bead")) for row in rows] == [("tacks done", ""), ("start", "A9")]
    assert rows[0].get("time") == "2026-03-14 13:52:30" and read_time(rows[0].get("time")).dated


def test_what_was_taken_back_is_no_latest(store: Store) -> None:
    """What was taken back is kept among documents and events, but is neither the latest nor in the bead log."""
    job = examples.shop_job(store)
    for key, number in (("x", 2), ("y", 3)):
        store.append(job, NewEvent("withdrawal", "Ann", {}, key, amends=number))
    held = members(export_job(store, job))
    assert "readings-before.csv" not in held and "documents/00002-readings.csv" in held
    assert b"A9" not in held["bead-log.csv"] and b"A9" in held["events.csv"]


def test_further_events_are_added(store: Store, elsewhere: Store) -> None:
    """A later archive of a job that is there adds what is new; the same one again, or an earlier one, adds nothing."""
    job = examples.shop_job(store)
    early = export_job(store, job)
    taken_in(elsewhere, early)
    store.append(job, NewEvent("note", "Ann", {"words": "more"}, "x"))
    late = export_job(store, job)
    assert [taken_in(elsewhere, data) for data in (late, late, early)] == [1, 0, 0]
    assert elsewhere.events(job) == store.events(job)


def test_another_history_is_refused(store: Store, elsewhere: Store) -> None:
    """Where the job went on differently here, nothing of the archive is taken in."""
    job = examples.shop_job(store)
    taken_in(elsewhere, export_job(store, job))
    for one, who in ((store, "Ann"), (elsewhere, "Ben")):
        one.append(job, NewEvent("note", who, {"words": f"as {who} has it"}, f"key of {who}"))
    before = elsewhere.events(job)
    with pytest.raises(RecordError, match="event 8"):
        taken_in(elsewhere, export_job(store, job))
    assert elsewhere.events(job) == before


def test_the_record_is_told_in_full(store: Store) -> None:
    """record.json has every field of every event under its own name."""
    job = examples.shop_job(store)
    told = json.loads(members(export_job(store, job))["record.json"])
    second = store.events(job)[1]
    assert set(told["events"][1]) == set(second.__dataclass_fields__) - {"job"}
    assert told["events"][1]["digest"] == second.digest and told["job"] == job


def test_documents_come_one_by_one(store: Store) -> None:
    """A document of an archive is unpacked when it is asked for, under the name its event gives it."""
    job = examples.shop_job(store)
    with read_archive(io.BytesIO(export_job(store, job))) as archived:
        assert document_of(archived, archived.events[4].documents[0]) == examples.PICTURE
        assert set(archived.documents) == {line.digest for e in archived.events for line in e.documents}
