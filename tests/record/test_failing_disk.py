"""A disk that is full, files that may not be written, a file held by others, a server that is not there."""

from __future__ import annotations

import importlib
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from as_nobody import as_nobody, folder_of_nobody
from postgresql_server import Server
from sqlalchemy import event, text
from tellings import job_file, note

from axlewright.errors import DamagedRecordError, RecordError
from axlewright.record import server, sqlite_file
from axlewright.record.events import Document
from axlewright.record.opening import DATABASE, FILE_NAME, open_store
from axlewright.record.store import Store

BIG = Document("photo.jpg", "image/jpeg", bytes(range(256)) * 4000)

on_server = pytest.mark.xdist_group("postgresql")


@pytest.fixture(autouse=True)
def no_other_database(monkeypatch: pytest.MonkeyPatch) -> None:
    """Files only, but where a test says otherwise."""
    monkeypatch.delenv(DATABASE, raising=False)


@pytest.fixture
def folder() -> Iterator[Path]:
    """A folder that the rights of files can close."""
    # Loaded before another user is on, who may not be allowed to read the packages.
    importlib.import_module("axlewright.record.upgrading")
    with folder_of_nobody() as path:
        yield path


def _room(store: Store, pages: int | None) -> None:
    """From now on the file may grow by no more than some pages, as on a disk that is nearly full."""

    def limit(connection: sqlite3.Connection, _record: object) -> None:
        (now,) = connection.execute("PRAGMA page_count").fetchone()
        connection.execute(f"PRAGMA max_page_count = {now + pages if pages is not None else 1 << 30}")

    event.listen(store.engine, "connect", limit)
    store.engine.dispose()


def test_a_full_disk_loses_nothing_told_before(tmp_path: Path) -> None:
    """What does not fit is refused in words and leaves no trace; smaller things, and later all, can be told."""
    store = open_store(tmp_path)
    job = store.create_job(job_file()).job
    before = store.events(job)
    _room(store, 2)
    with pytest.raises(RecordError, match=r"the disk is full.*What was told before is safe"):
        store.append(job, note("see photo", "n", documents=(BIG,)))
    assert Store(store.engine).events(job) == before and store.verify() == ()
    _room(store, None)
    assert store.append(job, note("see photo", "n", documents=(BIG,))).number == 2
    assert store.verify() == ()
    store.close()


def test_a_disk_that_is_really_full() -> None:
    """The same on a file system of half a megabyte that is filled to the brim."""
    with tempfile.TemporaryDirectory(prefix="shop-") as name:
        mount = ["mount", "-t", "tmpfs", "-o", "size=512k", "shop", name]
        try:
            subprocess.run(mount, check=True, capture_output=True)
        except (OSError, subprocess.CalledProcessError):
            pytest.skip("a file system can only be mounted by root, and not everywhere")
        try:
            _fill(Path(name))
        finally:
            subprocess.run(["umount", name], check=True)


def _fill(folder: Path) -> None:
    store = open_store(folder)
    job = store.create_job(job_file()).job
    with pytest.raises(RecordError, match="the disk is full"):
        for number in range(2000):
            store.append(job, note("a bead as it should be " * 20, f"n{number}"))
    told = store.events(job)
    assert len(told) > 10 and [event.number for event in told] == list(range(1, len(told) + 1))
    store.close()
    again = open_store(folder)
    assert again.events(job) == told and again.verify() == ()
    again.close()


def test_a_folder_that_cannot_be_made(folder: Path) -> None:
    """A folder below one that may not be written to is told by name."""
    folder.chmod(0o500)
    with (
        as_nobody(),
        pytest.raises(RecordError, match=f"folder {folder}/shop: cannot be made: Permission denied"),
    ):
        open_store(folder / "shop")


def test_a_folder_that_is_a_file(tmp_path: Path) -> None:
    """A file in the place of the folder is told."""
    (tmp_path / "shop").touch()
    with pytest.raises(RecordError, match="cannot be made: File exists"):
        open_store(tmp_path / "shop")


def test_a_folder_that_may_only_be_read(folder: Path) -> None:
    """A new record is not begun in it, and an old one there is refused in words and stays as it is."""
    folder.chmod(0o500)
    with as_nobody(), pytest.raises(RecordError, match="right to write there"):
        open_store(folder)
    folder.chmod(0o700)
    with as_nobody():
        store = open_store(folder)
        store.create_job(job_file())
        store.close()
    before = (folder / FILE_NAME).read_bytes()
    folder.chmod(0o500)
    with as_nobody(), pytest.raises(RecordError, match="right to write there"):
        open_store(folder)
    assert (folder / FILE_NAME).read_bytes() == before


@pytest.mark.parametrize("rights", [0o400, 0o000])
def test_a_file_that_may_only_be_read(folder: Path, rights: int) -> None:
    """A file that may not be written, or not even read, is refused in words and stays as it is."""
    with as_nobody():
        store = open_store(folder)
        store.create_job(job_file())
        store.close()
    before = (folder / FILE_NAME).read_bytes()
    (folder / FILE_NAME).chmod(rights)
    with as_nobody(), pytest.raises(RecordError, match="right to write there"):
        open_store(folder)
    assert (folder / FILE_NAME).read_bytes() == before


def test_a_file_held_by_another_program(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """After some patience the writer is told; what another finishes in time only makes it wait."""
    monkeypatch.setattr(sqlite_file, "PATIENCE_S", 0.2)
    store = open_store(tmp_path)
    job = store.create_job(job_file()).job
    other = sqlite3.connect(tmp_path / FILE_NAME, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    for ask in (lambda: store.append(job, note("x", "n")), lambda: open_store(tmp_path)):
        with pytest.raises(RecordError, match="another program has held it for too long"):
            ask()
    assert len(store.events(job)) == 1
    other.execute("ROLLBACK")
    other.close()
    assert store.append(job, note("x", "n")).number == 2
    store.close()


@on_server
def test_a_job_held_by_another_program(
    postgresql: Server, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On a server too a writer waits for a job only so long."""
    monkeypatch.setenv(DATABASE, postgresql.new_database())
    monkeypatch.setattr(server, "PATIENCE_S", 1)
    store = open_store(tmp_path)
    job = store.create_job(job_file()).job
    with store.engine.begin() as other:
        other.execute(text("SELECT * FROM job FOR UPDATE"))
        with pytest.raises(RecordError, match="another program has held it for too long"):
            store.append(job, note("x", "n"))
    assert store.append(job, note("x", "n")).number == 2
    store.close()


@on_server
@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"password": "wrong"}, "does not let this user in.*AXLEWRIGHT_DB"),
        ({"database": "nowhere"}, "has no such database.*createdb"),
    ],
)
def test_a_server_that_refuses(
    postgresql: Server, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, change: dict[str, str], says: str
) -> None:
    """A wrong password and a missing database are told apart, and the password is not shown."""
    monkeypatch.setenv(DATABASE, postgresql.url(**{"database": "postgres", **change}))
    with pytest.raises(RecordError, match=says) as raised:
        open_store(tmp_path)
    assert "wrong" not in str(raised.value) and "only for tests" not in str(raised.value)


@pytest.mark.parametrize("host", ["127.0.0.1:1", "nowhere.invalid"])
def test_a_server_that_is_not_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, host: str) -> None:
    """A server that does not answer is told as that."""
    monkeypatch.setenv(DATABASE, f"postgresql+psycopg://ann:secret@{host}/shop")
    with pytest.raises(RecordError, match=r"cannot be reached.*host and port") as raised:
        open_store(tmp_path)
    assert "secret" not in str(raised.value)


@on_server
def test_a_server_started_anew_is_used_again(
    postgresql: Server, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Connections cut by the server cost no event: the next telling goes through."""
    monkeypatch.setenv(DATABASE, postgresql.new_database())
    store = open_store(tmp_path)
    job = store.create_job(job_file()).job
    postgresql.run(
        f"SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE usename = '{store.engine.url.username}'"
    )
    assert store.append(job, note("x", "n")).number == 2
    store.close()


@on_server
def test_a_user_who_may_not_make_tables(
    postgresql: Server, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A user without the right to make tables is told."""
    postgresql.run("CREATE USER guest PASSWORD 'guest'")
    monkeypatch.setenv(DATABASE, postgresql.url("postgres", "guest", "guest"))
    with pytest.raises(RecordError, match="does not let this user make or use the tables"):
        open_store(tmp_path)


def test_the_driver_is_missing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without psycopg the way to install it is told."""
    monkeypatch.setitem(sys.modules, "psycopg", None)
    monkeypatch.setenv(DATABASE, "postgresql://ann@localhost/shop")
    with pytest.raises(RecordError, match=r"pip install 'axlewright\[postgresql\]'"):
        open_store(tmp_path)


def test_words_that_are_no_event_any_more(tmp_path: Path) -> None:
    """A row that somebody spoilt by hand is told as damage, not as an error of the program."""
    store = open_store(tmp_path)
    job = store.create_job(job_file()).job
    with store.engine.begin() as connection:
        connection.exec_driver_sql("DROP TRIGGER event_not_update")
        connection.exec_driver_sql("UPDATE event SET body = '{'")
    with pytest.raises(DamagedRecordError, match="an event cannot be read"):
        store.events(job)
    assert any("an event cannot be read" in str(fault) for fault in store.verify())
    store.close()
