"""The working process: takes one piece of work after another, and ends with the server.

The module itself is light, as the server imports it too; what the work needs is fetched here when the process starts.
"""

from __future__ import annotations

import os
import queue
import signal
import threading
import traceback
from multiprocessing.connection import Connection

from axlewright import tasks
from axlewright.errors import AxlewrightError
from axlewright.tasks.long_asked import LongWork
from axlewright.tasks.long_watch import Watch
from axlewright.web.work.messages import Answer, Broke, Do, Keep, Refused

POLITE = 5
"""Pages go before long work where both want the processor."""


class _Bench:
    """What the listening thread and the working thread share."""

    def __init__(self, pipe: Connection) -> None:
        self.pipe, self.orders = pipe, queue.SimpleQueue[tuple[LongWork, Watch]]()
        self._watch = Watch()

    def listen(self) -> None:
        """Take orders until the server is gone, however it went; then there is nobody to work for."""
        try:
            while True:
                message = self.pipe.recv()
                if isinstance(message, Do):
                    self._watch = Watch(self.pipe.send)
                    self.orders.put((message.work, self._watch))
                elif isinstance(message, Keep):
                    self._watch.keep()
        except (EOFError, OSError):
            os._exit(0)


def run(pipe: Connection) -> None:
    """Work until the server ends; its only way of hearing and telling is the pipe."""
    # Ctrl-C at the server's terminal reaches this process too; the server decides when work ends.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if hasattr(os, "nice"):
        os.nice(POLITE)
    bench = _Bench(pipe)
    threading.Thread(target=bench.listen, daemon=True).start()
    # Fetched before the first order comes, as it takes a second or two.
    broken = _fetched()
    while True:
        work, watch = bench.orders.get()
        bench.pipe.send(_answer(work, watch) if broken is None else broken)


def _fetched() -> Broke | None:
    try:
        _ = tasks.do_work
    except Exception:
        return Broke(traceback.format_exc())
    return None


def _answer(work: LongWork, watch: Watch) -> Answer:
    try:
        return tasks.do_work(work, watch)
    except AxlewrightError as error:
        return Refused(tuple(str(fault) for fault in error.faults))
    except Exception:
        return Broke(traceback.format_exc())
