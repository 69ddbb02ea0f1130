"""Where things are kept, and how results are written."""

from __future__ import annotations

import os
from pathlib import Path

from platformdirs import user_cache_path, user_data_path

from axlewright.errors import Fault, OutputError
from axlewright.sheets.output import write_whole


def cache_folder() -> Path:
    """Where built models are kept: AXLEWRIGHT_CACHE if set, else the user's own cache folder."""
    chosen = os.environ.get("AXLEWRIGHT_CACHE")
    return Path(chosen) if chosen else user_cache_path("axlewright")


def data_folder() -> Path:
    """Where the record is kept: AXLEWRIGHT_DATA if set, else the user's own data folder."""
    chosen = os.environ.get("AXLEWRIGHT_DATA")
    return Path(chosen) if chosen else user_data_path("axlewright")


def written(folder: Path, name: str, data: str | bytes) -> Path:
    """Text or bytes as a file in a folder that is made if need be.

    Raises:
        OutputError: the folder cannot be made or written to.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        return write_whole(folder / name, data.encode() if isinstance(data, str) else data)
    except OSError as error:
        allowed = f"must be a folder that can be written to ({error.strerror or error})"
        remedy = "Name another folder with --out, or make room and allow writing there"
        raise OutputError(Fault("output folder", repr(str(folder)), allowed, remedy)) from error
