"""The companion of one job: asks its process after every tap, the latest first, and starts it again where it died."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path

from axlewright.errors import AxlewrightError, Fault
from axlewright.record.store import Store
from axlewright.tasks.following_asked import Asked, Followed, asked, followed
from axlewright.tasks.standing import stands as stands_now
from axlewright.web.companion import child
from axlewright.web.companion.messages import Answered, Ask, FromCompanion, Loading, Reply
from axlewright.web.companion.news import News
from axlewright.web.work.messages import Refused
from axlewright.web.work.process import HeldProcess
from axlewright.web.work.traces import broken

IDLE = 30 * 60.0
"""A companion that nobody has asked for so long is let go [s]."""

DEATHS = 3
"""A process that died so often without an answer between is not started again until the next tap."""

FAREWELL = 2.0
"""How long a process that is ended may take to go [s]."""

_DIED = str(
    Fault(
        "the companion",
        "broken off",
        "its process was ended from outside again and again, or there was not enough memory",
        "Close other programs and tap once more; every tap so far is in the record.",
    )
)


@dataclass(frozen=True)
class Settings:
    """What a companion knows of its surroundings.

    Args:
        store: the record.
        data: folder of the shop's data, where it is kept what broke; left out, the system's own for passing files.
        idle: how long one that is not asked is kept [s].
        clock: tells the present, UTC.
    """

    store: Store
    data: Path | None = None
    idle: float = IDLE
    clock: Callable[[], datetime] = lambda: datetime.now(UTC)


class Companion:
    """The companion of one job.

    Args:
        job: the job.
        settings: its surroundings.
        news: told what it finds.
        ended: told when it has let go by itself.
    """

    def __init__(self, job: str, settings: Settings, news: News, ended: Callable[[Companion], None]) -> None:
        self.job, self.used = job, time.monotonic()
        self._settings, self._news, self._ended = settings, news, ended
        self._changed = threading.Condition()
        self._wanted, self._closed, self._deaths = False, False, 0
        self._process: HeldProcess | None = None
        self._loaded: tuple[int, Followed] | None = None
        self._reply: Reply | None = None
        self._thread = threading.Thread(target=self._run, name="companion", daemon=True)
        self._thread.start()

    def ask(self) -> bool:
        """Have the latest answered; several at once are answered once. False where it has let go already."""
        with self._changed:
            if self._closed:
                return False
            self.used, self._wanted, self._deaths = time.monotonic(), True, 0
            self._changed.notify_all()
            return True

    def close(self) -> None:
        """End it at once."""
        with self._changed:
            self._closed = True
            process = self._process
            self._changed.notify_all()
        if process is not None:
            process.end()

    def wait(self, seconds: float) -> None:
        """Wait for it to be gone [s]."""
        self._thread.join(seconds)

    @property
    def pid(self) -> int | None:
        """Number of its process; None where there is none."""
        process = self._process
        return None if process is None else process.pid

    def _run(self) -> None:
        while self._next():
            try:
                self._answer()
            except AxlewrightError as error:
                self._news.refused(tuple(str(fault) for fault in error.faults))
        self.close()
        if self._process is not None:
            self._process.wait(FAREWELL)
        self._ended(self)

    def _next(self) -> bool:
        """Wait for the next question; False where there will be none."""
        with self._changed:
            while not (self._wanted or self._closed):
                left = self.used + self._settings.idle - time.monotonic()
                if left <= 0.0:
                    self._closed = True
                    break
                self._changed.wait(left)
            self._wanted = False
            return not self._closed

    def _answer(self) -> None:
        question = asked(self._settings.store, self.job, self._settings.clock())
        latest = self._news.latest.following
        if latest is not None:
            question = replace(question, before=tuple(latest["next"]))
        reply = self._asked(question, self._what(question))
        if isinstance(reply, Answered):
            self._deaths = 0
            self._news.answered(reply.following)
        elif reply is not None:
            # A process that refused has nothing loaded, one that broke is in doubt: the next question begins anew.
            self._loaded = None
            refused = isinstance(reply, Refused)
            self._news.refused(reply.faults if refused else (broken(reply.trace, self._settings.data),))  # type: ignore[union-attr]

    def _what(self, question: Asked) -> Followed:
        """What is followed; read from the record anew only where there is another plan."""
        if self._loaded is not None and self._loaded[0] == question.plan:
            return self._loaded[1]
        store = self._settings.store
        return followed(store, stands_now(store, self.job))

    def _asked(self, question: Asked, what: Followed) -> Reply | None:
        """The reply of the process; None where it died or all is to end."""
        with self._changed:
            if self._closed:
                return None
            if self._process is None:
                self._loaded = None
                self._process = HeldProcess(child.run, "axlewright companion", self._heard, self._gone)
            known = self._loaded is not None and self._loaded[1] == what
            self._reply, process = None, self._process
        process.tell(Ask(question, None if known else what))
        with self._changed:
            self._changed.wait_for(
                lambda: self._reply is not None or self._process is not process or self._closed
            )
            if self._process is process:
                self._loaded = (question.plan, what)
            return self._reply

    def _heard(self, message: FromCompanion) -> None:
        """What the process tells; called by its listening thread."""
        if isinstance(message, Loading):
            self._news.loading(message.stage)
            return
        with self._changed:
            self._reply = message
            self._changed.notify_all()

    def _gone(self) -> None:
        """The process has ended: another takes its place and answers what was asked."""
        with self._changed:
            self._process, self._deaths = None, self._deaths + 1
            again = self._deaths < DEATHS and not self._closed
            self._wanted = self._wanted or again
            self._changed.notify_all()
        if not again and not self._closed:
            self._news.refused((_DIED,))
