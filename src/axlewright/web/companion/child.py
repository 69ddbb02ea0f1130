"""A companion's process: keeps one job's model in memory, answers one question after another, ends with the server.

The module itself is light, as the server imports it too; what following needs is fetched here when the process starts.
"""

from __future__ import annotations

import gc
import os
import queue
import signal
import threading
import traceback
from multiprocessing.connection import Connection
from typing import TYPE_CHECKING

from axlewright import tasks
from axlewright.errors import AxlewrightError
from axlewright.web.companion.messages import Answered, Ask, Loading, Reply
from axlewright.web.work.messages import Broke, Refused

if TYPE_CHECKING:
    from axlewright.tasks.following import Follower

READY = "getting ready"


class _Bench:
    """What the listening thread and the answering thread share."""

    def __init__(self, pipe: Connection) -> None:
        self.pipe, self.asked = pipe, queue.SimpleQueue[Ask]()
        self.follower: Follower | None = None

    def listen(self) -> None:
        """Take questions until the server is gone, however it went; then there is nobody to answer."""
        try:
            while True:
                self.asked.put(self.pipe.recv())
        except (EOFError, OSError):
            os._exit(0)

    def answer(self, ask: Ask) -> Reply:
        """Answer a question; what is followed is loaded first where it is another."""
        try:
            if ask.what is not None:
                self.follower = None
                self.follower = tasks.follower_of(ask.what, lambda stage: self.pipe.send(Loading(stage)))
                # What was loaded stays: looking through it for litter would hold up an answer now and then.
                gc.collect()
                gc.freeze()
            assert self.follower is not None
            return Answered(self.follower.answer(ask.asked))
        except AxlewrightError as error:
            return Refused(tuple(str(fault) for fault in error.faults))
        except Exception:
            return Broke(traceback.format_exc())


def run(pipe: Connection) -> None:
    """Answer until the server ends; its only way of hearing and telling is the pipe."""
    # Ctrl-C at the server's terminal reaches this process too; the server decides when following ends.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    bench = _Bench(pipe)
    threading.Thread(target=bench.listen, daemon=True).start()
    bench.pipe.send(Loading(READY))
    while True:
        bench.pipe.send(bench.answer(bench.asked.get()))
