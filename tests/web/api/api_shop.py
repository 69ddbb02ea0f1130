"""A shop asked by other programs, in this process; its long work is begun but no process works on it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from starlette.types import ASGIApp

from axlewright.record.opening import DATABASE, open_store
from axlewright.web.app import make_app
from axlewright.web.open_shop import OpenShop
from axlewright.web.work import bench

HOSTS = ("localhost", "testserver")


class IdleWorker:
    """Stands where the process of a piece of work is: takes it, and is never done with it."""

    pid = None

    def __init__(self, heard: Callable[..., None], gone: Callable[..., None]) -> None:
        self.piece: Any = None

    def tell(self, message: object) -> None:
        """Take what is asked for."""

    def end(self) -> None:
        """There is no process to end."""

    def wait(self, seconds: float) -> None:
        """Nor one to wait for."""


@contextmanager
def opened_shop(data: Path) -> Iterator[tuple[OpenShop, ASGIApp]]:
    """A shop with an empty record, and its application."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(bench, "Worker", IdleWorker)
        patch.delenv(DATABASE, raising=False)
        store = open_store(data)
        shop = OpenShop(store, bench.WorkBench(store), data)
        try:
            yield shop, make_app(shop, HOSTS)
        finally:
            shop.work.close()
            store.close()
