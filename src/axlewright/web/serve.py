"""Serving the shop's pages from this machine, until it is stopped."""

from __future__ import annotations

import errno
import socket
import threading
import webbrowser
from collections.abc import Callable
from pathlib import Path

import uvicorn

from axlewright.errors import Fault, OptionError
from axlewright.record.opening import open_store
from axlewright.tasks import cache_folder
from axlewright.tasks.archives import keep_backups_hourly
from axlewright.web.app import make_app
from axlewright.web.open_shop import OpenShop
from axlewright.web.rendering import keep_compiled
from axlewright.web.work.bench import WorkBench

ADDRESS = "127.0.0.1"
"""Only this machine is listened to."""

FAREWELL = 2
"""How long what is being answered may take once the shop is closed [s]."""


def serve(data: Path, port: int, open_browser: bool, say: Callable[[str], None]) -> None:
    """Open the shop in a data folder and serve its pages, until Ctrl+C.

    Args:
        data: folder of the shop's data; made where there is none.
        port: port to listen at; 0 takes any free one.
        open_browser: whether the browser of this machine is opened.
        say: told where the shop is, and what goes wrong beside the pages.

    Raises:
        OptionError: the port cannot be listened at.
        RecordError: the record cannot be opened.
    """
    with listening_at(port) as listening:
        store = open_store(data)
        work = WorkBench(store, data)
        closed = threading.Event()
        keep_compiled(cache_folder() / "pages")
        try:
            _keep_backups(store, data, closed, say)
            address = f"http://localhost:{listening.getsockname()[1]}"
            server = uvicorn.Server(_config(make_app(OpenShop(store, work, data), beforehand=True)))
            say(f"The shop is open: {address}\nIts data: {data}\nCtrl+C closes it.")
            if open_browser:
                threading.Timer(0.5, webbrowser.open, (address,)).start()
            server.run(sockets=[listening])
        finally:
            closed.set()
            work.close()
            store.close()


def _config(app: object) -> uvicorn.Config:
    return uvicorn.Config(
        app,  # type: ignore[arg-type]
        ws="none",
        lifespan="off",
        access_log=False,
        log_level="warning",
        server_header=False,
        timeout_graceful_shutdown=FAREWELL,
    )


def listening_at(port: int) -> socket.socket:
    """A socket that listens at a port of this machine, 0 for any free one.

    Raises:
        OptionError: the port cannot be had.
    """
    # With the protocol named, the event loop sends small answers at once; without it each waits some 40 ms.
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    try:
        # A shop closed a moment ago does not hold its port; on Windows the option would let two hold one.
        if not hasattr(socket, "SO_EXCLUSIVEADDRUSE"):
            listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listening.bind((ADDRESS, port))
        listening.listen(128)
    except (OSError, OverflowError) as error:
        listening.close()
        raise OptionError(_not_to_be_had(port, error)) from error
    return listening


def _not_to_be_had(port: int, error: Exception) -> Fault:
    if isinstance(error, OSError) and error.errno == errno.EADDRINUSE:
        remedy = (
            f"Perhaps the shop is open already: look at http://localhost:{port}. "
            f"Else close the other program, or take another port: --port {port + 1}"
        )
        return Fault("port", str(port), "is taken by another program", remedy)
    words = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
    return Fault("port", str(port), f"cannot be listened at ({words})", "Take another: --port 8100")


def _keep_backups(store: object, data: Path, closed: threading.Event, say: Callable[[str], None]) -> None:
    thread = threading.Thread(
        target=keep_backups_hourly, args=(store, data, closed, say), daemon=True, name="backups"
    )
    thread.start()
