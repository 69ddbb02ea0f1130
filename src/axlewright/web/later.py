"""Pages that are fetched when the first of them is asked for, so that the list of jobs is there at once.

The list needs little; forms, checks, plans and drawings need the job's schema and the readings', which take longer to
fetch than the list to show. Once the list is answered, they are fetched while it is read.
"""

from __future__ import annotations

import gc
import threading
from collections.abc import Iterable
from importlib import import_module

from fastapi import APIRouter, FastAPI
from starlette.concurrency import run_in_threadpool
from starlette.types import ASGIApp, Receive, Scope, Send

FIRST = frozenset({"/", "/at-the-bench", "/offline", "/service-worker.js"})
"""Addresses that need none of the others."""

STANDING = ("/static/", "/api/")


class Later:
    """Adds pages to an application once.

    Args:
        app: the application.
        modules: names of the modules whose `router` is added, in order.
    """

    def __init__(self, app: FastAPI, modules: Iterable[str]) -> None:
        self._app, self._modules = app, tuple(modules)
        self._lock = threading.Lock()
        self.here = False
        self.routers: list[APIRouter] = []

    def fetch(self) -> None:
        """Add them, if they are not there yet; whoever comes meanwhile waits."""
        with self._lock:
            if not self.here:
                self.routers = [import_module(name).router for name in self._modules]
                for router in self.routers:
                    self._app.include_router(router)
                self.here = True


class FetchesLater:
    """Has the other pages fetched before the first of them is asked.

    Args:
        app: what is asked then.
        later: the other pages.
        beforehand: whether the process is there for these pages alone: they are then fetched once anything was
            answered, without waiting for them to be asked for.
    """

    def __init__(self, app: ASGIApp, later: Later, beforehand: bool) -> None:
        self.app, self.later, self.beforehand = app, later, beforehand
        self.begun = False

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, the page it asks for fetched."""
        if scope["type"] == "http" and not self.later.here and not _first(scope["path"]):
            await run_in_threadpool(self._fetch)
        await self.app(scope, receive, send)
        if self.beforehand and not self.begun and not self.later.here:
            self.begun = True
            threading.Thread(target=self._fetch, name="pages", daemon=True).start()

    def _fetch(self) -> None:
        self.later.fetch()
        if self.beforehand:
            # What was fetched stays: without this, looking through all of it for litter holds up a page now and then
            # by a fifth of a second.
            gc.collect()
            gc.freeze()


def _first(path: str) -> bool:
    return path in FIRST or path.startswith(STANDING)
