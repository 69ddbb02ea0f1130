"""Reading files: what is no readable text file gets one clear message."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest
from job_texts import RESCUE

from axlewright.errors import JobFileError
from axlewright.job import parse_job, read_job


def _message(path: str | Path) -> str:
    with pytest.raises(JobFileError) as caught:
        read_job(path)
    assert len(caught.value.faults) == 1
    assert "\n" not in str(caught.value)
    return str(caught.value)


def test_a_file_is_read(tmp_path: Path) -> None:
    """A file holds the same job as its text, given as a path or as text."""
    path = tmp_path / "job.toml"
    path.write_text(RESCUE, encoding="utf-8")
    assert read_job(path) == read_job(str(path)) == parse_job(RESCUE, "text")


def test_a_byte_order_mark_and_windows_line_ends_do_no_harm(tmp_path: Path) -> None:
    """A file saved by a Windows editor is the same job."""
    path = tmp_path / "job.toml"
    path.write_bytes(b"\xef\xbb\xbf" + RESCUE.replace("\n", "\r\n").encode("utf-8"))
    assert read_job(path) == parse_job(RESCUE, "text")


def test_a_missing_file(tmp_path: Path) -> None:
    """A path where nothing is says so and names a way to start."""
    message = _message(tmp_path / "none.toml")
    assert "none.toml" in message and "not there" in message and "axlewright demo" in message


def test_a_folder(tmp_path: Path) -> None:
    """A folder is named as one."""
    assert "a folder" in _message(tmp_path)


def test_wrong_encoding_names_the_line(tmp_path: Path) -> None:
    """Bytes that are not UTF-8 are located by line."""
    path = tmp_path / "job.toml"
    path.write_bytes(b'units = "mm"\n[job]\nname = "M\xfcller"\n')
    message = _message(path)
    assert "line 3" in message and "UTF-8" in message


def test_utf_16_is_refused(tmp_path: Path) -> None:
    """A file saved as UTF-16 asks for UTF-8."""
    path = tmp_path / "job.toml"
    path.write_bytes(RESCUE.encode("utf-16"))
    assert "UTF-8" in _message(path)


def test_ten_megabytes_are_refused_before_parsing(tmp_path: Path) -> None:
    """A large file is refused by its size."""
    path = tmp_path / "job.toml"
    path.write_bytes(os.urandom(10_000_000))
    assert "1 MB" in _message(path)


def test_a_name_that_no_system_takes() -> None:
    """A path with a null character, or far too long, is refused like any other."""
    assert "Check the name" in _message("a\0b.toml")
    assert "Check the name" in _message("x" * 5000 + ".toml")


@pytest.mark.skipif(sys.platform == "win32", reason="rights and device files are another matter on Windows")
def test_an_unreadable_file_and_a_device(tmp_path: Path) -> None:
    """A device is no job file; a file without the right to read it is refused (unless one may read all)."""
    assert "ordinary file" in _message("/dev/zero")
    path = tmp_path / "job.toml"
    path.write_text(RESCUE, encoding="utf-8")
    path.chmod(0)
    if os.access(path, os.R_OK):
        pytest.skip("this user may read every file")
    assert "unreadable" in _message(path)


def test_a_file_that_fails_while_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An error of the file system while opening becomes a message."""
    path = tmp_path / "job.toml"
    path.write_text(RESCUE, encoding="utf-8")

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)
    assert "Permission denied" in _message(path)
