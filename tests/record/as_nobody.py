"""Being a user whom the rights of files hold back, which they do not do to root."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

NOBODY = 65534


@contextmanager
def folder_of_nobody() -> Iterator[Path]:
    """A new folder that belongs to who runs inside `as_nobody`, reached by everybody."""
    with tempfile.TemporaryDirectory(prefix="shop-") as name:
        if os.geteuid() == 0:
            os.chown(name, NOBODY, NOBODY)
        folder = Path(name)
        try:
            yield folder
        finally:
            folder.chmod(0o700)


@contextmanager
def as_nobody() -> Iterator[None]:
    """Root becomes another user for the block; others stay who they are."""
    if os.geteuid() != 0:
        yield
        return
    os.seteuid(NOBODY)
    try:
        yield
    finally:
        os.seteuid(0)
