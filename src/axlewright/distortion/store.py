"""Arrays on disk that are checked before they are believed.

A file holds plain arrays (no pickled objects) and a digest of their contents. Whatever is missing, cut short,
foreign or altered is treated as absent, so that the model is built again.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import zipfile
from pathlib import Path
from tempfile import NamedTemporaryFile
from typing import Any

import numpy as np

from axlewright.solid.mesh import Floats

DIGEST = "digest"


def save_arrays(path: Path, arrays: dict[str, Floats]) -> bool:
    """Write arrays so that a reader sees all of them or none; False if the disk does not allow it."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with NamedTemporaryFile(dir=path.parent, suffix=".part", delete=False) as file:
            content: dict[str, Any] = {**arrays, DIGEST: np.array(_digest(arrays))}
            np.savez(file, **content)
        os.replace(file.name, path)
    except OSError:
        return False
    return True


def load_arrays(path: Path) -> dict[str, Floats] | None:
    """Read arrays written by `save_arrays`; None if the file is absent or cannot be trusted."""
    with contextlib.suppress(OSError, ValueError, KeyError, EOFError, zipfile.BadZipFile):
        with np.load(path, allow_pickle=False) as file:
            arrays = {name: file[name] for name in file.files}
        if str(arrays.pop(DIGEST)) == _digest(arrays):
            return arrays
    return None


def _digest(arrays: dict[str, Floats]) -> str:
    total = hashlib.sha256()
    for name in sorted(arrays):
        array = np.ascontiguousarray(arrays[name])
        total.update(f"{name}{array.dtype.str}{array.shape}".encode())
        total.update(array.tobytes())
    return total.hexdigest()
