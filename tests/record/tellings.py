"""Things told about a job, for tests."""

from __future__ import annotations

from typing import Any

from axlewright.record.events import Document, NewEvent

FILE = Document("job.toml", "application/toml", b"[job]\n")


def job_file(key: str = "file", **other: Any) -> NewEvent:
    """A job file; `other` are further fields of the event."""
    return NewEvent("job file", "Ann", {"name": "Truss", "units": "mm"}, key, (FILE,), **other)


def note(words: str, key: str, **other: Any) -> NewEvent:
    """A note."""
    return NewEvent("note", "Ben", {"words": words}, key, **other)


def bead(name: str, key: str, **other: Any) -> NewEvent:
    """A bead laid at the bench."""
    return NewEvent("bench", "Ben", {"event": "bead", "bead": name}, key, **other)


def readings(which: str, key: str, **other: Any) -> NewEvent:
    """Straightness readings."""
    return NewEvent("readings", "Ann", {"set": which, "used": 12, "refused": 0}, key, **other)


def sign_off(point: str, covers: dict[str, int], key: str, **other: Any) -> NewEvent:
    """A hold point signed."""
    return NewEvent("sign-off", "Ann", {"hold_point": point, "covers": covers}, key, **other)
