"""Backups: whole, consistent while others write, checked, cleared, and brought back."""

from __future__ import annotations

import os
import shutil
import sqlite3
import threading
import time
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import archive_examples as examples
import pytest
from sqlalchemy.exc import DBAPIError

from axlewright.errors import DamagedRecordError, RecordError
from axlewright.record import backup as backups
from axlewright.record import backup_copying
from axlewright.record.backup import backup, needed, times_of, to_clear
from axlewright.record.backup_restore import opened_backup, restore
from axlewright.record.events import Event, NewEvent
from axlewright.record.last_backup import sound
from axlewright.record.opening import DATABASE, FILE_NAME, open_store
from axlewright.record.store import Store


@pytest.fixture
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty data folder, and no other database."""
    monkeypatch.delenv(DATABASE, raising=False)
    return tmp_path / "data"


@pytest.fixture
def file(data: Path) -> Iterator[Store]:
    """An empty record in that folder."""
    opened = open_store(data)
    yield opened
    opened.close()


def note(store: Store, job: str, words: str) -> Event:
    """Write something down."""
    return store.append(job, NewEvent("note", "Ann", {"words": words}, f"key of {words}"))


def told_in(path: Path, job: str) -> tuple[Event, ...]:
    """The events of a job in a file."""
    opened = opened_backup(path)
    try:
        return opened.events(job)
    finally:
        opened.close()


def test_a_backup_is_the_record(store: Store, tmp_path: Path) -> None:
    """A backup is one file with all events and documents in it, named by the time, and passes its check."""
    job = examples.shop_job(store)
    path = backup(store, tmp_path / "kept")
    assert list((tmp_path / "kept").iterdir()) == [path] and sound(path)
    # No write-ahead log belongs to it (SQLite, "Database File Format", 1.3.3).
    assert path.read_bytes()[18:20] == b"\1\1"
    age = datetime.now(UTC) - times_of([path])[path]
    assert timedelta(seconds=-1) < age < timedelta(minutes=1)
    opened = opened_backup(path)
    assert opened.events(job) == store.events(job) and opened.verify() == ()
    lines = [line for event in store.events(job) for line in event.documents]
    assert [opened.document(line) for line in lines] == [store.document(line) for line in lines]
    opened.close()


def test_a_backup_guards_what_it_holds(store: Store, tmp_path: Path) -> None:
    """In a backup, too, nothing that was told can be changed."""
    examples.shop_job(store)
    opened = opened_backup(backup(store, tmp_path / "kept"))
    with pytest.raises(DBAPIError, match="append-only"), opened.engine.begin() as connection:
        connection.exec_driver_sql("UPDATE event SET who = 'somebody'")
    opened.close()


def test_backups_of_one_second_do_not_meet(store: Store, tmp_path: Path) -> None:
    """Two backups made at once are two files."""
    examples.shop_job(store)
    assert len({backup(store, tmp_path) for _ in range(3)}) == 3


def test_others_write_meanwhile(store: Store, tmp_path: Path) -> None:
    """A backup made while events are written holds the events up to some moment, without a gap."""
    job, stopped = examples.shop_job(store), threading.Event()
    told: list[int] = []

    def write() -> None:
        while not stopped.is_set():
            told.append(note(store, job, str(len(told))).number)

    writers = [threading.Thread(target=write) for _ in range(2)]
    for writer in writers:
        writer.start()
    counts = []
    for _ in range(4):
        before = len(told)
        path = backup(store, tmp_path / "kept")
        events = told_in(path, job)
        assert [event.number for event in events] == list(range(1, len(events) + 1))
        counts.append(len(events) - 7 >= before - 2)
    stopped.set()
    for writer in writers:
        writer.join()
    assert all(counts) and len(told) > 5


def test_what_is_told_between_two_tables(
    store: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A job begun while a backup is halfway is in it whole or not at all."""
    job, begun = examples.shop_job(store), list[str]()

    class Between(tuple):  # type: ignore[type-arg]
        def __iter__(self) -> Iterator[object]:
            for one in tuple.__iter__(self):
                yield one
                begun.append(examples.shop_job(store, f"job {len(begun)} "))

    monkeypatch.setattr(backup_copying, "IN_ORDER", Between(backup_copying.IN_ORDER))
    opened = opened_backup(backup(store, tmp_path / "kept"))
    assert [line.job for line in opened.jobs()] == [job] and opened.verify() == ()
    assert len(begun) == (3 if store.engine.dialect.name == "postgresql" else 0)
    opened.close()


def test_a_backup_is_needed_once_something_was_told(store: Store, tmp_path: Path) -> None:
    """A backup is needed where there are events and none of them, and again after each event."""
    kept = tmp_path / "kept"
    assert not needed(store, kept)
    job = examples.shop_job(store)
    assert needed(store, kept)
    backup(store, kept)
    assert not needed(store, kept)
    note(store, job, "more")
    assert needed(store, kept)


@pytest.mark.parametrize("harm", [b"", b"no record at all"])
def test_a_spoiled_backup_does_not_count(store: Store, tmp_path: Path, harm: bytes) -> None:
    """Where the last backup cannot be read, another one is needed."""
    examples.shop_job(store)
    backup(store, tmp_path).write_bytes(harm)
    assert needed(store, tmp_path)


def test_the_newest_twenty_and_one_a_day_are_kept() -> None:
    """Of two months of hourly backups there remain the newest 20 and the last of each of 30 days."""
    newest = datetime(2026, 6, 30, 12, 30, tzinfo=UTC)
    paths = [Path(f"axlewright-{newest - timedelta(hours=hour):%Y%m%d-%H%M%S}.db") for hour in range(24 * 60)]
    kept = set(paths) - set(to_clear(paths, paths[0]))
    assert kept >= set(paths[:20])
    days = sorted(time.date() for time in times_of(kept - set(paths[:20])).values())
    assert days[0] == newest.date() - timedelta(days=29) and len(days) == len(set(days))
    assert all(path.name.endswith("-233000.db") for path in kept - set(paths[:20]))


def test_the_one_just_made_stays_whatever_the_clock_says() -> None:
    """With the clock set back, the backup just made is kept though all others look newer."""
    others = [Path(f"axlewright-203001{day:02d}-120000.db") for day in range(1, 31)]
    new = Path("axlewright-20260101-000000.db")
    assert new not in to_clear([*others, new], new)
    assert new in to_clear([*others, new], others[-1])


def test_only_backups_are_cleared(store: Store, tmp_path: Path) -> None:
    """A file that is not named as a backup is never cleared away."""
    examples.shop_job(store)
    other = tmp_path / "axlewright-20200101-000000.db.mine"
    for path in (other, tmp_path / "axlewright-99999999-999999.db"):
        path.write_text("mine", encoding="utf-8")
    for day in range(1, 29):
        (tmp_path / f"axlewright-202001{day:02d}-000000.db").touch()
        (tmp_path / f"axlewright-202002{day:02d}-000000.db").touch()
    backup(store, tmp_path)
    assert other.exists() and (tmp_path / "axlewright-99999999-999999.db").exists()
    assert len(list(tmp_path.glob("axlewright-2020*.db"))) == 19


def test_what_was_broken_off_is_cleared(store: Store, tmp_path: Path) -> None:
    """A copy broken off a day ago is cleared away; one that may be in the making is left."""
    examples.shop_job(store)
    old, young = (tmp_path / f"axlewright-20260101-00000{n}.db.17.part" for n in (0, 1))
    for path, age in ((old, 100_000), (young, 10)):
        path.touch()
        os.utime(path, (time.time() - age,) * 2)
    backup(store, tmp_path)
    assert not old.exists() and young.exists()


def test_a_folder_that_is_none(store: Store, tmp_path: Path) -> None:
    """Where no folder can be made, that is said, and what is there is left."""
    (tmp_path / "kept").write_text("a file", encoding="utf-8")
    with pytest.raises(RecordError, match="folder that can be written to"):
        backup(store, tmp_path / "kept")
    assert (tmp_path / "kept").read_text(encoding="utf-8") == "a file"


def test_a_copy_that_does_not_pass_its_check(
    file: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A copy that does not pass its check is no backup; the record is said to be damaged."""
    examples.shop_job(file)
    monkeypatch.setattr(backups, "sound", lambda path: False)
    with pytest.raises(DamagedRecordError, match="does not pass its check"):
        backup(file, tmp_path / "kept")
    assert list((tmp_path / "kept").iterdir()) == []


def test_a_full_disk(file: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the disk is full, that is said, nothing is left of the copy, and the record goes on."""
    job = examples.shop_job(file)
    connect = sqlite3.connect

    def small(*arguments: object, **options: object) -> sqlite3.Connection:
        made = connect(*arguments, **options)  # type: ignore[call-overload]
        if str(arguments[0]).endswith(".part"):
            made.execute("PRAGMA max_page_count = 2")
        return made

    monkeypatch.setattr("axlewright.record.backup_copying.sqlite3.connect", small)
    with pytest.raises(RecordError, match="full"):
        backup(file, tmp_path / "kept")
    assert list((tmp_path / "kept").iterdir()) == []
    monkeypatch.undo()
    assert note(file, job, "further").number == 8


def test_brought_back_where_nothing_is(file: Store, data: Path, tmp_path: Path) -> None:
    """A backup brought back to an empty place is the record as it was when it was made."""
    job = examples.shop_job(file)
    path = backup(file, tmp_path / "kept")
    then = file.events(job)
    note(file, job, "afterwards")
    assert restore(path, tmp_path / "new" / FILE_NAME) is None
    opened = open_store(tmp_path / "new")
    assert opened.events(job) == then and opened.verify() == ()
    assert note(opened, job, "goes on").number == 8
    opened.close()


@pytest.mark.parametrize("harm", ["none", "spoiled", "cut short"])
def test_brought_back_over_a_damaged_record(file: Store, data: Path, tmp_path: Path, harm: str) -> None:
    """The record that is there is moved aside as it is, with all that was told since."""
    job = examples.shop_job(file)
    path = backup(file, tmp_path / "kept")
    then = file.events(job)
    note(file, job, "afterwards")
    file.close()
    here = data / FILE_NAME
    if harm == "spoiled":
        here.write_bytes(here.read_bytes()[:512] + b"\xff" * 8192)
    elif harm == "cut short":
        here.write_bytes(here.read_bytes()[:5000])
    content = here.read_bytes()
    aside = restore(path, here)
    assert aside is not None and aside.read_bytes()[100:] == content[100:]
    opened = open_store(data)
    assert opened.events(job) == then
    opened.close()
    assert sorted(p.name for p in data.iterdir() if p.name.endswith("part")) == []


def test_not_while_it_is_open(file: Store, data: Path, tmp_path: Path) -> None:
    """A record that is open somewhere is not moved away under it."""
    job = examples.shop_job(file)
    path = backup(file, tmp_path / "kept")
    with pytest.raises(RecordError, match=r"in use.*Close axlewright"):
        restore(path, data / FILE_NAME)
    assert note(file, job, "goes on").number == 8
    assert not list(data.glob("*aside*")) and not list(data.glob("*part*"))


@pytest.mark.parametrize("harm", ["text", "empty", "another program's", "spoiled", "missing", "folder"])
def test_what_is_no_backup(file: Store, data: Path, tmp_path: Path, harm: str) -> None:
    """What is no sound backup is refused, and the record stays where it is."""
    examples.shop_job(file)
    path = backup(file, tmp_path / "kept")
    file.close()
    if harm in ("text", "empty"):
        path.write_bytes(b"text" if harm == "text" else b"")
    elif harm == "spoiled":
        path.write_bytes(path.read_bytes()[:6000] + b"\xff" * 9000)
    else:
        path.unlink()
    if harm == "another program's":
        with closing(sqlite3.connect(path)) as connection:
            connection.execute("CREATE TABLE other (x)")
    elif harm == "folder":
        path.mkdir()
    before = (data / FILE_NAME).read_bytes()
    with pytest.raises(RecordError) as told:
        restore(path, data / FILE_NAME)
    assert path.name in str(told.value) and told.value.faults[0].remedy
    assert (data / FILE_NAME).read_bytes() == before
    assert sorted(p.name for p in data.iterdir() if p.name != FILE_NAME) == []


def test_a_changed_backup(file: Store, data: Path, tmp_path: Path) -> None:
    """A backup in which an event was changed by other means is refused, though SQLite finds nothing wrong."""
    examples.shop_job(file)
    path = backup(file, tmp_path / "kept")
    file.close()
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("DROP TRIGGER event_not_update")
        connection.execute("UPDATE event SET who = 'somebody' WHERE number = 2")
        connection.commit()
    assert sound(path)
    with pytest.raises(RecordError, match="is damaged"):
        restore(path, data / FILE_NAME)


def test_a_backup_of_a_later_version(file: Store, data: Path, tmp_path: Path) -> None:
    """A backup of a later version is refused with what to do."""
    examples.shop_job(file)
    path = backup(file, tmp_path / "kept")
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '9999'")
        connection.commit()
    with pytest.raises(RecordError, match=r"9999.*up to date"):
        restore(path, tmp_path / "new" / FILE_NAME)
    assert not (tmp_path / "new" / FILE_NAME).exists()


def test_the_backup_itself_is_only_read(file: Store, tmp_path: Path) -> None:
    """Bringing a backup back leaves the backup as it is."""
    examples.shop_job(file)
    path = backup(file, tmp_path / "kept")
    before = path.read_bytes()
    shutil.copy(path, tmp_path / "copy.db")
    restore(path, tmp_path / "new" / FILE_NAME)
    assert path.read_bytes() == before and list(path.parent.iterdir()) == [path]
