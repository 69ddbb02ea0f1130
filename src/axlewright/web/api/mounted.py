"""The application under /api, made when it is first asked for.

Its description costs a third of a second that the first page must not wait for; most shops never use it.
"""

from __future__ import annotations

import asyncio
from importlib import import_module

from starlette.concurrency import run_in_threadpool
from starlette.types import ASGIApp, Receive, Scope, Send

from axlewright.web.open_shop import OpenShop


class ApiWhenAsked:
    """Stands where the application under /api will be.

    Args:
        shop: the record and the work bench.
    """

    def __init__(self, shop: OpenShop) -> None:
        self._shop = shop
        self._made: ASGIApp | None = None
        self._making = asyncio.Lock()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Make the application unless it is there, and pass the request on."""
        made = self._made or await self._make()
        await made(scope, receive, send)

    async def _make(self) -> ASGIApp:
        async with self._making:
            if self._made is None:
                self._made = await run_in_threadpool(_made, self._shop)
            return self._made


def _made(shop: OpenShop) -> ASGIApp:
    app: ASGIApp = import_module("axlewright.web.api.app").make_api(shop)
    return app
