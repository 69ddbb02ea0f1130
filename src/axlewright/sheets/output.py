"""Writing a finished file where the user asked for it, whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path

from axlewright.errors import Fault, OutputError


def write_whole(path: Path, data: bytes) -> Path:
    """Write `data` to `path` by way of a neighbour, so that no half-written file is ever left behind.

    Args:
        path: file to write; it is replaced where it exists.
        data: what it will hold.

    Raises:
        OutputError: the folder is missing, the path is a folder, or the file may not be written.
    """
    try:
        check_writable(path)
        neighbour = path.with_name(f"{path.name}.{os.getpid()}.part")
        try:
            neighbour.write_bytes(data)
            os.replace(neighbour, path)
        finally:
            neighbour.unlink(missing_ok=True)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        remedy = "Close the file if a viewer holds it open, check space and rights, or choose another place."
        raise _refusal("Output file", path, f"it cannot be written ({reason})", remedy) from error
    return path


def check_writable(path: Path) -> None:
    """Refuse what can be seen to fail before any work is done.

    Raises:
        OutputError: the folder is missing or a file, the path is a folder, or the file is read-only.
    """
    if path.is_dir():
        raise _refusal("Output file", path, "it is a folder, and a file is to be written", "Add a file name.")
    check_folder(path.parent)
    if path.exists() and not os.access(path, os.W_OK):
        raise _refusal("Output file", path, "it is read-only", "Allow writing to it or choose another name.")


def check_folder(folder: Path) -> None:
    """Refuse a folder that is missing, is a file or may not be written to.

    Raises:
        OutputError: for any of these.
    """
    if not folder.exists():
        raise _refusal("Output folder", folder, "it does not exist", "Make it first or choose another.")
    if not folder.is_dir():
        raise _refusal("Output folder", folder, "it is a file", "Name a folder.")
    if not os.access(folder, os.W_OK):
        raise _refusal("Output folder", folder, "it is read-only", "Allow writing to it or choose another.")


def named(path: Path) -> str:
    """The whole path as it may stand in a message."""
    return '"' + "".join(mark if mark.isprintable() else "?" for mark in str(path)) + '"'


def _refusal(where: str, path: Path, allowed: str, remedy: str) -> OutputError:
    """The error for one path."""
    return OutputError(Fault(where, named(path), allowed, remedy))
