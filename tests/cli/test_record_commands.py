"""The record from the command line, as a shop does it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from axlewright.job.demo_jobs import demo_text
from axlewright.record.opening import open_store
from axlewright.tasks.keeping import start_job, write_note
from axlewright.tasks.telling import Telling


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[str, str]:
    """A data folder with one job: the option that names it, and the job."""
    monkeypatch.delenv("AXLEWRIGHT_DB", raising=False)
    monkeypatch.setenv("AXLEWRIGHT_DATA", str(tmp_path / "not this one"))
    store = open_store(tmp_path / "data")
    job = start_job(store, demo_text("truss-only"), "demo", Telling("Ann")).job
    write_note(store, job, "first words", Telling("Ben"))
    store.close()
    return f"--data={tmp_path / 'data'}", job


def test_a_job_goes_from_one_shop_to_another(axle, shop, tmp_path):
    """What one shop exports the other imports, once; and its own export of it is the same file."""
    data, job = shop
    here, there = tmp_path / "here.zip", tmp_path / "there.zip"
    other = f"--data={tmp_path / 'other'}"
    assert axle("record", "export", job[:8], "--out", str(here), data).code == 0
    first, again = (axle("record", "import", str(here), other) for _ in range(2))
    assert "Took in 2 new events of 2" in first.err and "Took in 0 new events of 2" in again.err
    assert axle("record", "export", job, "--out", str(there), other).code == 0
    assert here.read_bytes() == there.read_bytes()


def test_an_archive_is_named_after_its_job(axle, shop, tmp_path, monkeypatch):
    """Without --out the archive lies in the present folder under the job's name."""
    data, job = shop
    monkeypatch.chdir(tmp_path)
    said = axle("record", "export", job, data)
    (path,) = tmp_path.glob("*.zip")
    assert job[:8] in path.name and path.name in said.err


def test_the_list_of_jobs(axle, shop):
    """The list shows the beginning of the id, the name, the stage and what was told last."""
    data, job = shop
    said = axle("record", "list", data)
    assert said.code == 0 and job[:8] in said.out and "intake" in said.out and "note" in said.out


def test_backed_up_and_brought_back(axle, shop, tmp_path):
    """A backup brings the record back; what was told since is kept aside."""
    data, job = shop
    said = axle("record", "backup", data)
    path = re.search(r"Wrote (.*\.db)", said.err)[1]
    assert Path(path).parent == tmp_path / "data" / "backups"
    said = axle("record", "restore", path, data)
    assert said.code == 0 and "aside" in said.err
    assert axle("record", "verify", data).code == 0
    assert job[:8] in axle("record", "list", data).out


def test_a_backup_elsewhere(axle, shop, tmp_path):
    """With --out the backup lies in another folder."""
    axle("record", "backup", shop[0], "--out", str(tmp_path / "stick"))
    assert len(list((tmp_path / "stick").glob("axlewright-*.db"))) == 1


def test_a_sound_record_is_said_to_be_sound(axle, shop):
    """A record that was not changed from outside is found as it was written."""
    said = axle("record", "verify", shop[0])
    assert said.code == 0 and "Nothing is wrong: 1 job," in said.err


def test_a_damaged_record_offers_its_backup(axle, shop, tmp_path):
    """A record that is damaged names the command that brings the last backup back, and that command does."""
    axle("record", "backup", shop[0])
    file = tmp_path / "data" / "axlewright.db"
    file.write_bytes(file.read_bytes()[:512] + b"\xff" * 20000)
    said = axle("record", "list", shop[0])
    offered = re.search(r"axlewright record restore (\S+\.db)", said.err)
    assert said.code == 2 and offered is not None
    assert axle("record", "restore", offered[1], shop[0]).code == 0
    assert axle("record", "verify", shop[0]).code == 0


@pytest.mark.parametrize("command", ["list", "verify", "backup"])
def test_no_record_there(axle, tmp_path, monkeypatch, command):
    """Where there is no record that is said, and none is begun."""
    monkeypatch.delenv("AXLEWRIGHT_DB", raising=False)
    said = axle("record", command, "--data", str(tmp_path / "nowhere"))
    assert said.code == 2 and "there is no record in it" in said.err
    assert not (tmp_path / "nowhere").exists()


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("export", "no-such"), "neither the id"),
        (("import", "missing.zip"), "cannot be read"),
        (("restore", "missing.db"), "No such file"),
    ],
)
def test_what_is_not_there(axle, shop, arguments, words):
    """A job, an archive or a backup that is not there is named, without a trace of the program's inside."""
    said = axle("record", *arguments, shop[0])
    assert said.code == 2 and words in said.err and arguments[1] in said.err and "Traceback" not in said.err
