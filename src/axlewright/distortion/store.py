"""Arrays on disk that are checked before they are believed.

A file holds plain arrays (no pickled objects) and a digest of their contents. Whatever is missing, cut short,
foreign or altered is treated as absent, so that the model is built again.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
from pathlib import Path
from tempfile import NamedTemporaryFile
from typing import Any

import numpy as np

from axlewright.solid.mesh import Floats

DIGEST = "digest"


def save_arrays(path: Path, arrays: dict[str, Floats]) -> bool:
    """Write arrays so that a reader sees all of them or none; False if the disk does not allow it."""
    content: dict[str, Any] = {**arrays, DIGEST: np.array(_digest(path.stem, arrays))}
    unfinished = ""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with NamedTemporaryFile(dir=path.parent, suffix=".part", delete=False) as file:
            unfinished = file.name
            np.savez(file, **content)
        os.replace(unfinished, path)
    except OSError:
        with contextlib.suppress(OSError):
            os.unlink(unfinished)
        return False
    return True


def load_arrays(path: Path) -> dict[str, Floats] | None:
    """Read arrays written by `save_arrays`; None if the file is absent or cannot be trusted."""
    # A damaged or foreign file can fail in as many ways as zip, zlib and numpy together know; each means "absent".
    with (
        contextlib.suppress(Exception),
        path.open("rb") as file,
        np.load(file, allow_pickle=False) as content,
    ):
        arrays = {name: content[name] for name in content.files}
        if str(arrays.pop(DIGEST)) == _digest(path.stem, arrays):
            return arrays
    return None


def _digest(name_of_file: str, arrays: dict[str, Floats]) -> str:
    total = hashlib.sha256(name_of_file.encode())
    for name in sorted(arrays):
        array = np.ascontiguousarray(arrays[name])
        total.update(f"{name}{array.dtype.str}{array.shape}".encode())
        total.update(array.tobytes())
    return total.hexdigest()
