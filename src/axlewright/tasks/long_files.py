"""Written files as documents of an event."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from axlewright.record.events import Document

MEDIA_TYPES = {
    ".json": "application/json",
    ".pdf": "application/pdf",
    ".png": "image/png",
    ".svg": "image/svg+xml",
}


def documents_of(paths: Iterable[Path]) -> tuple[Document, ...]:
    """Files as documents of the same names."""
    return tuple(Document(path.name, MEDIA_TYPES[path.suffix], path.read_bytes()) for path in paths)
