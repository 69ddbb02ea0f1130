"""What is no whole archive of a job is refused with a clear message, and nothing of it is kept."""

from __future__ import annotations

import io
import json
import struct
import warnings
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import archive_examples as examples
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from axlewright.errors import RecordError
from axlewright.record import archive as kept
from axlewright.record.archive_reading import read_archive
from axlewright.record.archive_writing import export_job
from axlewright.record.store import Store

Change = Callable[[dict[str, Any]], None]


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    """An empty record; what is refused does not depend on the database."""
    opened = examples.apart(tmp_path / "here")
    yield opened
    opened.close()


@pytest.fixture
def data(tmp_path: Path) -> bytes:
    """A sound archive."""
    other = examples.apart(tmp_path / "there")
    found = export_job(other, examples.shop_job(other))
    other.close()
    return found


def take_in(store: Store, data: bytes) -> int:
    """Take an archive in."""
    with read_archive(io.BytesIO(data)) as archived:
        return store.take_in(archived.job, archived.events, archived.documents)


def refused(store: Store, data: bytes) -> str:
    """What is said of an archive that is refused; nothing of it is kept."""
    with pytest.raises(RecordError) as told:
        take_in(store, data)
    assert store.jobs() == ()
    assert all(fault.where and fault.allowed and fault.remedy for fault in told.value.faults)
    return str(told.value)


def repacked(data: bytes, change: Callable[[dict[str, bytes]], None]) -> bytes:
    """An archive with its files changed."""
    with zipfile.ZipFile(io.BytesIO(data)) as zipped:
        held = {name: zipped.read(name) for name in zipped.namelist()}
    change(held)
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as zipped:
        for name, content in held.items():
            zipped.writestr(name, content)
    return file.getvalue()


def retold(data: bytes, change: Change) -> bytes:
    """An archive with its record.json changed."""

    def told(held: dict[str, bytes]) -> None:
        record = json.loads(held[kept.RECORD])
        change(record)
        held[kept.RECORD] = json.dumps(record).encode()

    return repacked(data, told)


@pytest.mark.parametrize(
    "what", [b"", b"PK", b"no zip file at all", b"\0" * 1000, b"PK\x05\x06" + b"\0" * 18]
)
def test_no_zip_file(store: Store, what: bytes) -> None:
    """What is no zip file, or an empty one, is said to be so."""
    assert "zip file" in refused(store, what)


def test_cut_short(store: Store, data: bytes) -> None:
    """An archive cut short anywhere is refused."""
    for end in range(0, len(data), 97):
        refused(store, data[:end])


def test_the_archive_of_another_program(store: Store) -> None:
    """A zip file of another program is told from a damaged archive."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as zipped:
        zipped.writestr("letter.txt", "Dear all")
    assert "without record.json" in refused(store, file.getvalue())
    assert "something else" in refused(
        store, repacked(file.getvalue(), lambda held: held.update({kept.RECORD: b"[]"}))
    )


def test_a_later_version(store: Store, data: bytes) -> None:
    """An archive of a later version says to bring axlewright up to date."""
    said = refused(store, retold(data, lambda told: told.update(version=kept.VERSION + 1)))
    assert f"version {kept.VERSION + 1}" in said and "up to date" in said


def test_a_missing_document(store: Store, data: bytes) -> None:
    """A document that record.json names and the archive lacks is named."""
    said = refused(store, repacked(data, lambda held: held.pop("documents/00002-readings.csv") and None))
    assert "documents/00002-readings.csv" in said and "missing" in said


def test_an_unnamed_document(store: Store, data: bytes) -> None:
    """A document whose file record.json does not name is told by its own name."""
    assert "job.toml: record.json does not say" in refused(
        store, retold(data, lambda told: told["documents"].clear())
    )


@pytest.mark.parametrize("content", [b"", b"station,value\n1,3\n", b"station,value\n1,2\n and more"])
def test_a_changed_document(store: Store, data: bytes, content: bytes) -> None:
    """A document that was changed, shortened or lengthened is refused."""
    assert "00002-readings.csv" in refused(
        store, repacked(data, lambda held: held.update({"documents/00002-readings.csv": content}))
    )


def changed(place: str, value: Any) -> Change:
    """A change of one field of the second event."""
    return lambda told: told["events"][1].update({place: value})


@pytest.mark.parametrize(
    "change",
    [
        changed("who", "somebody"),
        changed("reason", "because"),
        changed("number", 3),
        changed("body", {"set": "after", "used": 12, "refused": 0}),
        changed("told_at", "2026-01-01T00:00:00+00:00"),
        changed("at", "yesterday"),
        changed("digest", "0" * 64),
        changed("digest", "../../x"),
        changed("documents", []),
        changed("kind", "unheard of"),
        changed("amends", 99),
        changed("more", 1),
        lambda told: told["events"].pop(1) and None,
        lambda told: told["events"].reverse(),
        lambda told: told["events"].clear(),
        lambda told: told.update(job="0" * 32),
        lambda told: told.update(job="../x"),
        lambda told: told.update(version="1.0"),
        lambda told: told.pop("job") and None,
        lambda told: told.update(events={"a": 1}),
    ],
)
def test_a_changed_record(store: Store, data: bytes, change: Change) -> None:
    """No field of record.json can be changed without the archive being refused."""
    refused(store, retold(data, change))


@pytest.mark.parametrize(
    "text", [b"", b"\xff", b"{", b"[" * 100_000, b'{"version": ' + b"9" * 5000 + b"}", b"null", b'"\\ud800"']
)
def test_a_record_that_is_no_json(store: Store, data: bytes, text: bytes) -> None:
    """A record.json that is not JSON, or is made to break what reads it, is refused."""
    assert kept.RECORD in refused(store, repacked(data, lambda held: held.update({kept.RECORD: text})))


def test_only_what_the_record_names_is_read(store: Store, data: bytes) -> None:
    """Files that were put into the archive, whatever their names, are neither read nor written."""
    hostile = {"../../escaped.txt": b"x", "/absolute.txt": b"x", "job.toml": b"changed", "events.csv": b""}
    assert take_in(store, repacked(data, lambda held: held.update(hostile))) == 7


def test_a_name_that_leads_out_is_only_a_name(store: Store, data: bytes, tmp_path: Path) -> None:
    """A document may lie anywhere in the archive; its content goes into the record and nowhere else."""
    before = sorted(tmp_path.rglob("*"))

    def moved(held: dict[str, bytes]) -> None:
        held["../../escaped.csv"] = held.pop("documents/00002-readings.csv")
        held[kept.RECORD] = held[kept.RECORD].replace(b"documents/00002-readings.csv", b"../../escaped.csv")

    assert take_in(store, repacked(data, moved)) == 7
    assert sorted(tmp_path.rglob("*")) == before and not list(tmp_path.parent.glob("escaped*"))


def test_more_than_it_may_unpack_to(store: Store, data: bytes) -> None:
    """An archive whose documents claim to unpack to more than its size allows is refused before it is unpacked."""
    huge = changed("documents", [{"name": "x", "media_type": "", "digest": "0" * 64, "size": 10**12}])
    assert "may unpack to 200 MB" in refused(store, retold(data, huge))


def test_no_more_is_unpacked_than_was_said(
    store: Store, data: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A document that unpacks to far more than its event says is left off at that size."""
    read, unpacked = zipfile.ZipExtFile.read, list[int]()

    def counted(file: zipfile.ZipExtFile, count: int) -> bytes:
        piece = read(file, count)
        unpacked.append(len(piece))
        return piece

    bomb = repacked(data, lambda held: held.update({"documents/00002-readings.csv": bytes(50_000_000)}))
    monkeypatch.setattr(zipfile.ZipExtFile, "read", counted)
    said = refused(store, bomb)
    assert "must hold 18 bytes" in said and sum(unpacked) < 3_000_000


def test_a_record_beyond_any_size(store: Store, data: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    """A record.json that unpacks to more than any job has is refused."""
    monkeypatch.setattr(kept, "LARGEST_RECORD", 1000)
    assert "must hold 1000 bytes at most" in refused(store, data)


def test_an_archive_beyond_any_size(store: Store, data: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file larger than any archive is refused by its size."""
    monkeypatch.setattr(kept, "LARGEST_FILE", 1000)
    assert "at most 0 MB" in refused(store, data)


def test_a_list_of_files_beyond_any_size(store: Store, data: bytes) -> None:
    """A zip file that claims to list millions of files is refused before the list is read."""
    at = data.rindex(b"PK\x05\x06") + 12
    assert "more files" in refused(store, data[:at] + struct.pack("<L", 10**9) + data[at + 4 :])


def test_an_encrypted_file(store: Store, data: bytes) -> None:
    """An archive that asks for a password cannot be read."""
    at = data.index(b"PK\x01\x02", data.index(b"record.json"))
    for start in (i for i in range(at - 1, len(data)) if data[i : i + 4] == b"PK\x01\x02"):
        data = data[: start + 8] + b"\x01\x00" + data[start + 10 :]
    assert "zip file" in refused(store, data)


@settings(
    max_examples=300,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(place=st.integers(0, 10**9), value=st.integers(0, 255))
def test_a_changed_byte(store: Store, data: bytes, place: int, value: int) -> None:
    """Whichever byte is changed, the archive is refused or what is taken in is what was written."""
    place %= len(data)
    with warnings.catch_warnings(), read_archive(io.BytesIO(data)) as sound:
        warnings.simplefilter("ignore")
        try:
            with read_archive(io.BytesIO(data[:place] + bytes([value]) + data[place + 1 :])) as archived:
                store.take_in(archived.job, archived.events, archived.documents)
                assert archived.events == sound.events and dict(archived.documents) == dict(sound.documents)
        except RecordError as error:
            assert error.faults
