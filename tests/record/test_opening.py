"""Opening a record: versions, other programs' files, damage, and the last backup."""

from __future__ import annotations

import multiprocessing
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from postgresql_server import Server
from sqlalchemy import Engine, create_engine, make_url
from tellings import job_file, note

from axlewright.errors import DamagedRecordError, RecordError
from axlewright.record import sqlite_file, tables
from axlewright.record.chain import row_of
from axlewright.record.opening import DATABASE, FILE_NAME, open_store
from axlewright.record.server import server_engine
from axlewright.record.sqlite_file import sqlite_engine
from axlewright.record.store import Store
from axlewright.record.upgrading import upgrade


@pytest.fixture(autouse=True)
def no_other_database(monkeypatch: pytest.MonkeyPatch) -> None:
    """Files only, but where a test says otherwise."""
    monkeypatch.delenv(DATABASE, raising=False)


def _filled(folder: Path, notes: int = 40) -> str:
    """A closed record with one job."""
    store = open_store(folder)
    job = store.create_job(job_file()).job
    for number in range(notes):
        store.append(job, note("a note " * 20, f"n{number}"))
    store.close()
    return job


def _backup(folder: Path, name: str) -> Path:
    backup = folder / "backups" / name
    backup.parent.mkdir(exist_ok=True)
    connection = sqlite3.connect(folder / FILE_NAME)
    connection.execute("VACUUM INTO ?", (str(backup),))
    connection.close()
    return backup


def _spoil(path: Path, place: int = 4096, length: int = 4096) -> None:
    data = bytearray(path.read_bytes())
    data[place : place + length] = b"\xaa" * length
    path.write_bytes(data)


def test_tables_are_as_the_steps_make_them(database: str, tmp_path: Path) -> None:
    """All steps together make the tables this version reads and writes, on both databases."""
    store = open_store(tmp_path)
    with store.engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, tables.metadata) == []
    assert tables.VERSIONS[-1] == tables.VERSION
    store.close()


def _engine(folder: Path, monkeypatch: pytest.MonkeyPatch, server: Server | None) -> Engine:
    if server is None:
        return sqlite_engine(make_url(f"sqlite:///{folder / FILE_NAME}"))
    url = server.new_database()
    monkeypatch.setenv(DATABASE, url)
    return server_engine(make_url(url))


@pytest.mark.parametrize(
    "kind", ["sqlite", pytest.param("postgresql", marks=pytest.mark.xdist_group("postgresql"))]
)
def test_an_older_record_is_brought_up_to_date(
    kind: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest
) -> None:
    """A record of the first version keeps its events, is of this version afterwards, and a file's copy is beside it."""
    made = open_store(tmp_path / "made")
    event = made.create_job(job_file())
    server = request.getfixturevalue("postgresql") if kind == "postgresql" else None
    engine = _engine(tmp_path, monkeypatch, server)
    upgrade(engine, to="0001")
    with engine.begin() as connection:
        connection.execute(tables.job.insert().values(id=event.job))
        connection.execute(tables.event.insert(), row_of(event))
        connection.execute(tables.document.insert().values(digest=event.documents[0].digest, data=b"[job]\n"))
    engine.dispose()

    store = open_store(tmp_path)
    assert store.events(event.job) == (event,) and store.verify() == ()
    with pytest.raises(Exception, match="append-only"), store.engine.begin() as connection:
        connection.exec_driver_sql("DELETE FROM event")
    store.close()
    open_store(tmp_path).close()
    copies = [path.name for path in tmp_path.glob("*version*")]
    assert copies == (["axlewright-version-0001.db"] if kind == "sqlite" else [])
    if copies:
        old = create_engine(f"sqlite:///{tmp_path / copies[0]}")
        assert Store(old).events(event.job) == (event,)
        old.dispose()


def test_no_copy_no_change(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the copy cannot be made, an older record stays of its version and says why."""
    engine = sqlite_engine(make_url(f"sqlite:///{tmp_path / FILE_NAME}"))
    upgrade(engine, to="0001")
    engine.dispose()
    (tmp_path / "axlewright-version-0001.db").mkdir()
    monkeypatch.setattr(Path, "exists", lambda path: path.name == FILE_NAME)
    monkeypatch.setattr(Path, "unlink", lambda path, missing_ok: None)
    with pytest.raises(RecordError, match="no copy could be made"):
        open_store(tmp_path)
    with sqlite3.connect(tmp_path / FILE_NAME) as connection:
        assert connection.execute("SELECT version_num FROM alembic_version").fetchall() == [("0001",)]
    connection.close()


def test_a_newer_record_is_refused(database: str, tmp_path: Path) -> None:
    """A version that this axlewright does not know is named and left as it is."""
    store = open_store(tmp_path)
    with store.engine.begin() as connection:
        connection.exec_driver_sql("UPDATE alembic_version SET version_num = '0099'")
    with pytest.raises(RecordError, match="of version 0099: this axlewright knows versions up to 0002"):
        open_store(tmp_path)
    store.close()


def test_a_database_of_another_program_is_refused(database: str, tmp_path: Path) -> None:
    """Tables that are not the record's are left alone."""
    store = open_store(tmp_path)
    with store.engine.begin() as connection:
        for table in ("event", "document"):
            connection.exec_driver_sql(f"DROP TABLE {table}")
    with pytest.raises(RecordError, match="is a database of another program"):
        open_store(tmp_path)
    store.close()


def test_an_sqlite_file_of_another_program_is_refused(tmp_path: Path) -> None:
    """A file without the record's mark is not touched, though it is a database."""
    path = tmp_path / FILE_NAME
    with sqlite3.connect(path) as connection:
        connection.execute("CREATE TABLE event (x)")
    connection.close()
    before = path.read_bytes()
    with pytest.raises(RecordError, match="is a database of another program"):
        open_store(tmp_path)
    assert path.read_bytes() == before


def test_a_file_that_is_no_database_is_refused(tmp_path: Path) -> None:
    """A text in the place of the record is not touched."""
    (tmp_path / FILE_NAME).write_text("bead,start,end\n" * 100, encoding="utf-8")
    with pytest.raises(DamagedRecordError, match="file is not a database"):
        open_store(tmp_path)
    assert (tmp_path / FILE_NAME).read_text(encoding="utf-8") == "bead,start,end\n" * 100


def test_a_damaged_file_is_told_with_the_last_sound_backup(tmp_path: Path) -> None:
    """The newest backup that is itself sound is offered with the command that brings it back; the file is untouched."""
    _filled(tmp_path)
    older, sound, spoilt = (_backup(tmp_path, f"{name}.db") for name in "abc")
    _spoil(spoilt, place=8192)
    (tmp_path / "backups" / "d.db").write_text("no backup at all", encoding="utf-8")
    _spoil(tmp_path / FILE_NAME, place=8192)
    before = (tmp_path / FILE_NAME).read_bytes()
    with pytest.raises(DamagedRecordError) as raised:
        open_store(tmp_path)
    assert f"axlewright record restore {sound}" in str(raised.value) and FILE_NAME in str(raised.value)
    assert older.exists() and (tmp_path / FILE_NAME).read_bytes() == before


def test_of_a_large_file_the_events_are_checked(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Damage among the events is found at opening whatever the size of the file."""
    _filled(tmp_path)
    monkeypatch.setattr(sqlite_file, "ALL_CHECKED_UP_TO", 0)
    open_store(tmp_path).close()
    with sqlite3.connect(tmp_path / FILE_NAME) as connection:
        (page,) = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = 'event'").fetchone()
    connection.close()
    _spoil(tmp_path / FILE_NAME, place=4096 * (page - 1))
    with pytest.raises(DamagedRecordError):
        open_store(tmp_path)


def test_what_is_acknowledged_is_on_the_disk(tmp_path: Path) -> None:
    """Every connection writes through to the disk, lets pages be read meanwhile, and keeps references whole."""
    store = open_store(tmp_path)
    with store.engine.connect() as one, store.engine.connect() as two:
        for connection in (one, two):
            asked = ("synchronous", "journal_mode", "foreign_keys")
            pragmas = [connection.exec_driver_sql(f"PRAGMA {name}").scalar() for name in asked]
            # 2 is FULL (SQLite, "PRAGMA synchronous").
            assert pragmas == [2, "wal", 1]
    store.close()


def test_a_damaged_file_without_a_backup(tmp_path: Path) -> None:
    """Where there is no backup, that is said too."""
    _filled(tmp_path)
    _spoil(tmp_path / FILE_NAME, place=8192)
    with pytest.raises(DamagedRecordError, match="no sound backup"):
        open_store(tmp_path)


@pytest.mark.parametrize("how", ["gone", "empty"])
def test_a_record_that_is_gone_is_not_begun_anew(tmp_path: Path, how: str) -> None:
    """A missing or empty file beside backups is told, instead of showing an empty shop."""
    _filled(tmp_path)
    backup = _backup(tmp_path, "a.db")
    (tmp_path / FILE_NAME).unlink()
    if how == "empty":
        (tmp_path / FILE_NAME).touch()
    with pytest.raises(DamagedRecordError, match=f"axlewright record restore {backup}"):
        open_store(tmp_path)


def test_damage_met_later_is_told_too(tmp_path: Path) -> None:
    """A file that goes bad while it is open is told when what went bad is read."""
    job = _filled(tmp_path, notes=400)
    store = open_store(tmp_path)
    _spoil(tmp_path / FILE_NAME, place=3 * 4096, length=(tmp_path / FILE_NAME).stat().st_size - 3 * 4096)
    with pytest.raises(DamagedRecordError, match="no sound backup"):
        store.events(job)
    store.close()


def test_two_that_open_a_new_record_at_once(database: str, tmp_path: Path) -> None:
    """Two programs started at the same moment on an empty folder both get the record."""
    context = multiprocessing.get_context("spawn")
    programs = [context.Process(target=_open_and_tell, args=(tmp_path, key)) for key in ("a", "b", "c")]
    for program in programs:
        program.start()
    for program in programs:
        program.join(60)
    assert [program.exitcode for program in programs] == [0, 0, 0]
    store = open_store(tmp_path)
    assert len(store.jobs()) == 3
    store.close()


def _open_and_tell(folder: Path, key: str) -> None:
    store = open_store(folder)
    store.create_job(job_file(key))
    store.close()


def test_a_record_of_this_version_opens_without_the_slow_packages(tmp_path: Path) -> None:
    """Neither alembic nor an object mapper is loaded by a start that finds the record up to date."""
    _filled(tmp_path, notes=1)
    lines = (
        "import sys, pathlib",
        "from axlewright.record.opening import open_store",
        "open_store(pathlib.Path(sys.argv[1])).jobs()",
        "print(sorted({'alembic', 'mako', 'sqlalchemy.orm', 'numpy', 'psycopg'} & set(sys.modules)))",
    )
    command = [sys.executable, "-c", "\n".join(lines), str(tmp_path)]
    assert subprocess.run(command, capture_output=True, check=True, text=True).stdout == "[]\n"


@pytest.mark.parametrize(
    "named",
    ["nonsense", "mysql://a:secret@b/c", "postgresql://", "postgresql+other://a/b", "postgresql://a:b@c:d/e"],
)
def test_a_database_that_is_none_is_refused(
    named: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Only the two kinds of database are taken; what was given is not shown, for it may hold a password."""
    monkeypatch.setenv(DATABASE, named)
    with pytest.raises(RecordError, match="AXLEWRIGHT_DB: must be") as raised:
        open_store(tmp_path)
    assert "secret" not in str(raised.value)
