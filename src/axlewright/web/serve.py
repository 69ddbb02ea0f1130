"""Serving the shop's pages from this machine, until it is stopped."""

from __future__ import annotations

import socket
import threading
import webbrowser
from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path
from types import FrameType

import uvicorn

from axlewright.record.opening import open_store
from axlewright.tasks import cache_folder
from axlewright.tasks.archives import keep_backups_hourly
from axlewright.web.app import make_app
from axlewright.web.door.certificate import Certificate, certificate_of
from axlewright.web.door.listening import listening_at, listening_for_all
from axlewright.web.door.opening import opened, opening_words
from axlewright.web.open_shop import OpenShop
from axlewright.web.rendering import keep_compiled
from axlewright.web.work.bench import WorkBench

FAREWELL = 2
"""How long what is being answered may take once the shop is closed [s]."""


@dataclass(frozen=True)
class ShopWide:
    """Serving the devices of the shop besides this machine.

    Args:
        certificate: file of the shop's own certificate; none for plain HTTP.
        key: file of its private key.
    """

    certificate: Path | None = None
    key: Path | None = None


def serve(
    data: Path,
    port: int,
    open_browser: bool,
    say: Callable[[str], None],
    shop_wide: ShopWide | None = None,
) -> None:
    """Open the shop in a data folder and serve its pages, until Ctrl+C.

    Args:
        data: folder of the shop's data; made where there is none.
        port: port to listen at; 0 takes any free one.
        open_browser: whether the browser of this machine is opened.
        say: told where the shop is, and what goes wrong beside the pages.
        shop_wide: how the local network is served; left out, only this machine is.

    Raises:
        OptionError: the port cannot be listened at, or the certificate cannot be used.
        RecordError: the record cannot be opened.
    """
    certificate = certificate_of(shop_wide.certificate, shop_wide.key) if shop_wide else None
    with ExitStack() as stack:
        sockets = listening_for_all(port, stack) if shop_wide else [stack.enter_context(listening_at(port))]
        store = open_store(data)
        shop = OpenShop(store, WorkBench(store, data), data)
        closed = threading.Event()
        keep_compiled(cache_folder() / "pages")
        try:
            _keep_backups(store, data, closed, say)
            taken = sockets[0].getsockname()[1]
            address = f"{'https' if certificate else 'http'}://localhost:{taken}"
            door = opened(data, taken, certificate) if shop_wide else None
            app = make_app(shop, beforehand=True, door=door)
            say(f"The shop is open: {address}\nIts data: {data}\nCtrl+C closes it.")
            if door is not None:
                say(opening_words(door, address))
            if open_browser:
                threading.Timer(0.5, webbrowser.open, (address,)).start()
            _run(app, certificate, sockets, shop)
        finally:
            closed.set()
            shop.close()
            store.close()


class _Server(uvicorn.Server):
    """A server whose streams to the bench end as soon as it is told to close; they would hold it up."""

    def __init__(self, config: uvicorn.Config, shop: OpenShop) -> None:
        super().__init__(config)
        self._shop = shop

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        """Take a signal. Nothing here may wait: the thread that was interrupted may hold any lock."""
        self._shop.companion.closing = True
        super().handle_exit(sig, frame)


def _run(app: object, certificate: Certificate | None, sockets: list[socket.socket], shop: OpenShop) -> None:
    config = uvicorn.Config(
        app,  # type: ignore[arg-type]
        ws="none",
        lifespan="off",
        access_log=False,
        log_level="warning",
        server_header=False,
        timeout_graceful_shutdown=FAREWELL,
        # Who asks is told by the connection alone: a header could name any address.
        proxy_headers=False,
        ssl_certfile=certificate.file if certificate else None,
        ssl_keyfile=certificate.key if certificate else None,
    )
    _Server(config, shop).run(sockets=sockets)


def _keep_backups(store: object, data: Path, closed: threading.Event, say: Callable[[str], None]) -> None:
    thread = threading.Thread(
        target=keep_backups_hourly, args=(store, data, closed, say), daemon=True, name="backups"
    )
    thread.start()
