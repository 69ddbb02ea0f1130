"""A shop that is really served, and a page's ears at its stream."""

from __future__ import annotations

import json
import queue
import threading
import time
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import uvicorn

from axlewright.record.opening import open_store
from axlewright.record.store import Store
from axlewright.web.app import make_app
from axlewright.web.door.listening import listening_at
from axlewright.web.open_shop import OpenShop
from axlewright.web.work.bench import WorkBench

LONGEST = 60.0
"""So long a test waits for anything [s]."""


@dataclass(frozen=True)
class Heard:
    """A server-sent event.

    Args:
        event: its name.
        data: what it says.
        id: its mark, or "".
        at: when it was heard, by a clock that only runs forward [s].
    """

    event: str
    data: Any
    id: str
    at: float


class Ears:
    """A page that listens to a stream until it is closed.

    Args:
        address: of the stream.
        last: mark of the last answer that was heard before, or "".
    """

    def __init__(self, address: str, last: str = "") -> None:
        headers = {"last-event-id": last} if last else {}
        self._answer = urllib.request.urlopen(
            urllib.request.Request(address, headers=headers), timeout=LONGEST
        )
        self.heard: queue.SimpleQueue[Heard] = queue.SimpleQueue()
        self.all: list[Heard] = []
        self._thread = threading.Thread(target=self._listen, daemon=True)
        self._thread.start()

    def until(self, so: Callable[[Heard], bool]) -> Heard:
        """The next event that is so."""
        end = time.monotonic() + LONGEST
        while time.monotonic() < end:
            try:
                heard = self.heard.get(timeout=0.5)
            except queue.Empty:
                continue
            if so(heard):
                return heard
        raise AssertionError(f"not heard in {LONGEST} s: {self.all[-5:]}")

    def following(self, number: int) -> Heard:
        """The first answer that takes an event into account."""
        return self.until(lambda heard: heard.event == "following" and heard.data["number"] >= number)

    def _listen(self) -> None:
        event, mark = "", ""
        try:
            for line in self._answer:
                name, _, said = line.decode().rstrip("\n").partition(": ")
                if name == "event":
                    event, mark = said, ""
                elif name == "id":
                    mark = said
                elif name == "data":
                    heard = Heard(event, json.loads(said), mark, time.perf_counter())
                    self.all.append(heard)
                    self.heard.put(heard)
        except (OSError, ValueError, AttributeError):
            return


@dataclass(frozen=True)
class ServedBench:
    """A shop that is served.

    Args:
        address: where.
        shop: the shop.
    """

    address: str
    shop: OpenShop

    @property
    def store(self) -> Store:
        """Its record."""
        return self.shop.store

    def listen(self, job: str, last: str = "") -> Ears:
        """Listen to the stream of a job."""
        return Ears(f"{self.address}/jobs/{job}/bench/stream", last)

    def tap(self, job: str, **told: object) -> dict[str, Any]:
        """Tap something; how long the acknowledgement took is in `took` [s]."""
        began = time.perf_counter()
        request = urllib.request.Request(
            f"{self.address}/jobs/{job}/bench/events",
            json.dumps(told).encode(),
            {"content-type": "application/json", "origin": self.address},
        )
        with urllib.request.urlopen(request, timeout=LONGEST) as answer:
            said = json.loads(answer.read())
        return {**said, "began": began, "took": time.perf_counter() - began}


@contextmanager
def served_bench(data: Path) -> Iterator[ServedBench]:
    """Serve an empty shop from a data folder."""
    store = open_store(data)
    shop = OpenShop(store, WorkBench(store, data), data)
    app = make_app(shop, beforehand=True)
    with listening_at(0) as listening:
        config = uvicorn.Config(
            app, ws="none", lifespan="off", log_level="error", access_log=False, timeout_graceful_shutdown=2
        )
        server = uvicorn.Server(config)
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
        thread.start()
        try:
            yield ServedBench(f"http://localhost:{listening.getsockname()[1]}", shop)
        finally:
            shop.companion.closing = True
            server.should_exit = True
            thread.join(10)
            shop.close()
            store.close()
