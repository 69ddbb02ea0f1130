"""Refusing a place that cannot be written to before the work, not after it."""

from __future__ import annotations

import os
from pathlib import Path

from axlewright.sheets.output import check_folder


def check_out(folder: Path) -> None:
    """Refuse an output folder that cannot be made or written to.

    Raises:
        OutputError: for any of these.
    """
    there = (place for place in (folder, *folder.parents) if os.path.exists(place))
    check_folder(next(there, folder))
