"""What goes wrong is one clear message, exit code 2, nothing written, and never a traceback."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest
from said import axlewright, files_below

from axlewright import tasks
from axlewright.job.demo_jobs import demo_names


def refused(said, *words: str) -> None:
    """Exit code 2, nothing on standard output, all words in the message, no traceback."""
    assert said.code == 2
    assert said.out == ""
    assert "Traceback" not in said.err
    for word in words:
        assert word in said.err


def test_plan_without_a_file(axle) -> None:
    """Leaving the job file out says which argument is missing."""
    refused(axle("plan"), "Missing argument", "JOB.toml", "Usage: axlewright plan")


@pytest.mark.parametrize("arguments", [("plan", "job.toml", "--colour"), ("demo", "--all"), ("--quick",)])
def test_an_unknown_option(axle, arguments: tuple[str, ...]) -> None:
    """An option that does not exist is named."""
    refused(axle(*arguments), "No such option", arguments[-1])


def test_an_unknown_command(axle) -> None:
    """A command that does not exist is named."""
    refused(axle("plann", "job.toml"), "No such command", "plann")


def test_one_job_at_a_time(axle, job_file: Path) -> None:
    """A second job file is not silently left out."""
    refused(axle("plan", str(job_file), "other.toml"), "other.toml")


def test_no_command_shows_the_commands(axle) -> None:
    """Alone, the program lists its commands."""
    said = axle()
    assert said.code == 2
    assert all(command in said.err + said.out for command in ("plan", "demo", "version"))


def test_an_unknown_demo_lists_those_there_are(axle) -> None:
    """The message names every demo job."""
    refused(axle("demo", "lorry"), '"lorry"', *demo_names())


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("volts = 22", "volts = -3", ("line", "volts", "-3")),
        ("wall = 9.5", "wall = 60", ("wall", "60")),
        ("travel_speed", "travel_sped", ("travel_sped", "travel_speed")),
        ('units = "mm"', "units = ", ("line 2",)),
        ("at = 300", "at = 5000", ("at", "5000")),
    ],
)
def test_a_fault_in_the_job_file(axle, job_file: Path, old: str, new: str, words: tuple[str, ...]) -> None:
    """The message names file and place; the output folder is not made."""
    text = job_file.read_text(encoding="utf-8")
    assert old in text
    job_file.write_text(text.replace(old, new, 1), encoding="utf-8")
    folder = job_file.parent / "out"
    refused(axle("plan", str(job_file), "--out", str(folder)), str(job_file), *words)
    assert not folder.exists()


def test_a_job_file_that_is_not_there(axle, tmp_path: Path) -> None:
    """A missing file is named, with a command to start from."""
    refused(axle("plan", str(tmp_path / "none.toml")), "none.toml", "axlewright demo")


@pytest.mark.parametrize("number", ["0", "99"])
def test_a_plan_that_was_not_found_cannot_be_chosen(axle, job_file: Path, number: str) -> None:
    """The message has option, number, the numbers there are and what to do; nothing is written."""
    folder = job_file.parent / "out"
    said = axle("plan", str(job_file), "--seconds", "1", "--choose", number, "--out", str(folder))
    refused(said, f"--choose is {number}: must be 1 to ", "a number of the trade-off picture", "Leave it out")
    assert not folder.exists()


@pytest.mark.parametrize("words", [("--choose", "first"), ("--seconds", "0"), ("--seconds", "soon")])
def test_an_option_that_cannot_be(axle, job_file: Path, words: tuple[str, str]) -> None:
    """The option with a number that is none, or beyond what is allowed, is named before any work."""
    said = axle("plan", str(job_file), *words)
    refused(said, "Invalid value", words[0])
    assert "meshing" not in said.err


def test_a_folder_in_place_of_the_job_file(axle, tmp_path: Path) -> None:
    """A folder is no job."""
    refused(axle("plan", str(tmp_path)), str(tmp_path), "folder")


@pytest.mark.parametrize("below", [(), ("deeper", "still")])
def test_out_on_a_file(axle, job_file: Path, tmp_path: Path, below: tuple[str, ...]) -> None:
    """A file where the folder should be is refused before the work is done, and left as it is."""
    taken = tmp_path / "taken"
    taken.write_text("mine", encoding="utf-8")
    said = axle("plan", str(job_file), "--out", str(taken.joinpath(*below)))
    refused(said, str(taken), "Output folder")
    assert "meshing" not in said.err
    assert taken.read_text(encoding="utf-8") == "mine"


@pytest.mark.skipif(not Path("/proc/self").exists(), reason="needs a file system that refuses new folders")
def test_out_where_no_folder_can_be_made(axle, job_file: Path) -> None:
    """A place that refuses a new folder even to the administrator gives one message."""
    refused(axle("plan", str(job_file), "--out", "/proc/axlewright"), "/proc/axlewright", "output folder")


def test_out_in_a_read_only_folder(
    axle, job_file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A folder that may not be written to is refused before the work is done."""
    folder = tmp_path / "kept"
    folder.mkdir()
    real = os.access
    # The administrator, who may run these tests, can write anywhere; so the rights are asked of a stand-in.
    monkeypatch.setattr(os, "access", lambda path, mode: Path(path) != folder and real(path, mode))
    said = axle("plan", str(job_file), "--out", str(folder / "new"))
    refused(said, str(folder), "read-only")
    assert "meshing" not in said.err
    assert files_below(folder) == set()


def test_out_with_a_name_too_long(axle, job_file: Path, tmp_path: Path) -> None:
    """A name the disk does not take is one message as well."""
    refused(axle("plan", str(job_file), "--out", str(tmp_path / ("x" * 300))), "output folder")


def test_a_full_disk(axle, job_file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A disk that fills up while writing is one message that names the folder."""

    def full(path: Path, *args: object, **kwargs: object) -> int:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "write_text", full)
    monkeypatch.setattr(Path, "write_bytes", full)
    refused(axle("plan", str(job_file), "--out", str(tmp_path / "out")), "No space left on device")


def test_a_fault_of_ours_leaves_no_traceback_on_the_screen(
    axle, job_file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What should never happen is a message with the name of a file that tells the developers more."""

    def broken(*args: object) -> object:
        raise ZeroDivisionError("a bug")

    monkeypatch.setattr(tasks, "plan_job", broken)
    monkeypatch.setenv("TMPDIR", str(tmp_path))
    monkeypatch.setattr("tempfile.tempdir", None)
    said = axle("plan", str(job_file))
    assert said.code == 1
    assert "Traceback" not in said.err and "untouched" in said.err
    trace = next(tmp_path.glob("axlewright-*.txt"))
    assert str(trace) in said.err
    assert "ZeroDivisionError: a bug" in trace.read_text(encoding="utf-8")


def test_stopping_it_is_no_fault(axle, job_file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Control-C says that it stopped, with the exit code shells use for it."""

    def interrupted(*args: object) -> object:
        raise KeyboardInterrupt

    monkeypatch.setattr(tasks, "plan_job", interrupted)
    said = axle("plan", str(job_file))
    assert said.code == 130
    assert said.err.strip().endswith("Stopped.")
    assert "Traceback" not in said.err


def test_as_a_program_a_fault_is_exit_code_2(tmp_path: Path) -> None:
    """The code reaches the shell, and a message with letters of any script can be printed there."""
    (tmp_path / "æøå 車.toml").write_text("units = 3", encoding="utf-8")
    run = axlewright("plan", "æøå 車.toml", cwd=tmp_path, PYTHONIOENCODING="ascii")
    assert run.returncode == 2
    assert "æøå 車.toml" in run.stderr.decode("utf-8")
    assert run.stdout == b"" and b"Traceback" not in run.stderr
    assert sys.executable not in run.stderr.decode("utf-8")
