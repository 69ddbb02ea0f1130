"""A working process as the server holds it."""

from __future__ import annotations

from collections.abc import Callable

from axlewright.web.work import child
from axlewright.web.work.messages import Do, FromChild, Keep
from axlewright.web.work.piece import Piece
from axlewright.web.work.process import HeldProcess


class Worker:
    """One working process.

    Args:
        heard: told what the process tells, by the listening thread.
        gone: told when the process has ended, by the listening thread.
    """

    def __init__(self, heard: Callable[[Worker, FromChild], None], gone: Callable[[Worker], None]) -> None:
        self.piece: Piece | None = None
        self._process = HeldProcess(
            child.run, "axlewright work", lambda message: heard(self, message), lambda: gone(self)
        )

    @property
    def pid(self) -> int | None:
        """Number of the process."""
        return self._process.pid

    def tell(self, message: Do | Keep) -> None:
        """Tell the process; where it has ended just now, `gone` says so."""
        self._process.tell(message)

    def end(self) -> None:
        """End the process at once."""
        self._process.end()

    def wait(self, seconds: float) -> None:
        """Wait for the process to be gone [s]."""
        self._process.wait(seconds)
