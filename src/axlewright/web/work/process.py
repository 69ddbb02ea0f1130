"""A process of ours as the server holds it, and the thread that listens to it."""

from __future__ import annotations

import threading
from collections.abc import Callable
from contextlib import suppress
from multiprocessing import get_context
from multiprocessing.connection import Connection
from typing import Any

# Every system can spawn; a fork of a server with threads may hang.
_CONTEXT = get_context("spawn")


class HeldProcess:
    """One process, and a pipe to it.

    Args:
        run: what it does; given its end of the pipe.
        name: of the process.
        heard: told what the process tells, by the listening thread.
        gone: told when the process has ended, by the listening thread.
    """

    def __init__(
        self,
        run: Callable[[Connection], None],
        name: str,
        heard: Callable[[Any], None],
        gone: Callable[[], None],
    ) -> None:
        self._heard, self._gone = heard, gone
        self._pipe, theirs = _CONTEXT.Pipe()
        self._process = _CONTEXT.Process(target=run, args=(theirs,), name=name, daemon=True)
        self._process.start()
        # With our copy closed, the end of the process is the end of the pipe.
        theirs.close()
        self._listener = threading.Thread(target=self._listen, name=name, daemon=True)
        self._listener.start()

    @property
    def pid(self) -> int | None:
        """Number of the process."""
        return self._process.pid

    def tell(self, message: object) -> None:
        """Tell the process; where it has ended just now, `gone` says so."""
        with suppress(OSError):
            self._pipe.send(message)

    def end(self) -> None:
        """End the process at once."""
        self._process.kill()

    def wait(self, seconds: float) -> None:
        """Wait for the process to be gone [s]."""
        self._listener.join(seconds)

    def _listen(self) -> None:
        try:
            # A message cut short by the death of the process is no message.
            with suppress(EOFError, OSError):
                while True:
                    self._heard(self._pipe.recv())
        finally:
            self._process.kill()
            self._process.join()
            self._pipe.close()
            self._gone()
