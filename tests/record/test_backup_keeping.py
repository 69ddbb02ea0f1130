"""Backups are kept by themselves while the shop is open, and come back into any database."""

from __future__ import annotations

import threading
from pathlib import Path

import archive_examples as examples
import pytest

from axlewright.errors import RecordError
from axlewright.record.events import NewEvent
from axlewright.record.store import Store
from axlewright.tasks import archives


def test_only_when_something_was_told(store: Store, tmp_path: Path) -> None:
    """A backup is made when something was told since the last one, and only then."""
    assert archives.keep_backups(store, tmp_path) is None
    job = examples.shop_job(store)
    first = archives.keep_backups(store, tmp_path)
    assert first is not None and first.parent == tmp_path / "backups"
    assert archives.keep_backups(store, tmp_path) is None
    store.append(job, NewEvent("note", "Ann", {"words": "more"}, "x"))
    assert archives.keep_backups(store, tmp_path) is not None


def test_every_hour_until_stopped(store: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Kept by a thread, a backup is there at once and after each change, and the thread ends when told to."""
    monkeypatch.setattr(archives, "AN_HOUR", 0.01)
    job, stopped, said = examples.shop_job(store), threading.Event(), list[str]()
    keeping = threading.Thread(
        target=archives.keep_backups_hourly, args=(store, tmp_path, stopped, said.append)
    )
    keeping.start()
    for count in (1, 2):
        waited = threading.Event()
        while len(list((tmp_path / "backups").glob("*.db"))) < count:
            assert not waited.wait(0.01) and keeping.is_alive()
        store.append(job, NewEvent("note", "Ann", {"words": "more"}, f"x{count}"))
    stopped.set()
    keeping.join(10)
    assert not keeping.is_alive() and said == []


def test_what_goes_wrong_is_told_and_tried_again(
    store: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where a backup cannot be written that is told, and once it can it is made."""
    monkeypatch.setattr(archives, "AN_HOUR", 0.01)
    examples.shop_job(store)
    stopped, said = threading.Event(), list[str]()
    (tmp_path / "backups").write_text("a file in its place", encoding="utf-8")

    def say(words: str) -> None:
        said.append(words)
        (tmp_path / "backups").unlink(missing_ok=True)
        if len(said) > 3:
            stopped.set()

    def stop_when_made() -> None:
        while not (tmp_path / "backups").is_dir() or not list((tmp_path / "backups").glob("*.db")):
            if stopped.wait(0.01):
                return
        stopped.set()

    watching = threading.Thread(target=stop_when_made)
    watching.start()
    archives.keep_backups_hourly(store, tmp_path, stopped, say)
    watching.join(10)
    assert len(said) == 1 and "folder" in said[0] and list((tmp_path / "backups").glob("*.db"))


def test_brought_back_into_a_database(database: str, tmp_path: Path) -> None:
    """A backup comes back into the file of the data folder, or into the database that is named."""
    other = examples.apart(tmp_path / "other")
    job = examples.shop_job(other)
    path = archives.make_backup(other, tmp_path / "other")
    then = other.events(job)
    other.close()
    assert archives.restore_backup(path, tmp_path / "here") is None
    with archives.opened_record(tmp_path / "here") as store:
        assert store.events(job) == then and store.verify() == ()


def test_no_database_is_replaced(database: str, tmp_path: Path) -> None:
    """In a server's database nothing is put aside: what it has of the job and the backup has not is refused."""
    if database == "sqlite":
        pytest.skip("a file is moved aside instead")
    other = examples.apart(tmp_path / "other")
    job = examples.shop_job(other)
    archives.restore_backup(archives.make_backup(other, tmp_path / "other"), tmp_path)
    with archives.opened_record(tmp_path) as store:
        store.append(job, NewEvent("note", "Ann", {"words": "here"}, "x"))
        other.append(job, NewEvent("note", "Ben", {"words": "there"}, "y"))
        path = archives.make_backup(other, tmp_path / "other")
        other.close()
        with pytest.raises(RecordError, match="event 8"):
            archives.restore_backup(path, tmp_path)
        assert store.events(job)[-1].who == "Ann"


def test_a_job_is_named_as_it_suits(store: Store) -> None:
    """A job is found by its id, a beginning of it, or its reference; what fits none or several is refused."""
    job = examples.shop_job(store)
    assert {archives.find_job(store, words).job for words in (job, job[:6], "T-1")} == {job}
    for words in ("", "T-2", job + "0"):
        with pytest.raises(RecordError, match="neither the id"):
            archives.find_job(store, words)
    examples.shop_job(store, "another key")
    with pytest.raises(RecordError, match="2 jobs are meant"):
        archives.find_job(store, "T-1")


def test_a_read_only_place_for_an_archive(store: Store, tmp_path: Path) -> None:
    """An archive that cannot be written says so and leaves nothing half-written."""
    job = examples.shop_job(store)
    (tmp_path / "taken").mkdir()
    for path in (tmp_path / "taken", tmp_path / "no folder" / "x.zip"):
        with pytest.raises(RecordError, match="cannot be written"):
            archives.write_archive_file(store, job, path)
    assert not list(tmp_path.rglob("*.part"))
