"""Where something broke, kept in a file for whoever mends it; people are told in plain words."""

from __future__ import annotations

import tempfile
from pathlib import Path

from axlewright.errors import Fault

FOLDER = "broken"


def broken(trace: str, folder: Path | None) -> str:
    """Keep a trace, and say in plain words that something broke.

    Args:
        trace: of the error.
        folder: folder of the shop's data; left out, the system's folder for passing files.
    """
    kept = _kept(trace, Path(tempfile.gettempdir()) if folder is None else folder / FOLDER)
    remedy = (
        "Ask for it again; if it breaks again, send that file and the job file to whoever looks after it."
    )
    allowed = f"something broke inside axlewright; what happened is written in {kept}"
    return str(Fault("the work", "broken off", allowed, remedy))


def _kept(trace: str, folder: Path) -> str:
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile(
            "w", dir=folder, prefix="work-", suffix=".txt", delete=False, encoding="utf-8"
        ) as file:
            file.write(trace)
        return file.name
    except OSError:
        return "no file, as none can be written"
