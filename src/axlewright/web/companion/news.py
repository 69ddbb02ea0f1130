"""The latest of one job's bench, and who waits for it."""

from __future__ import annotations

import hashlib
import json
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace

from axlewright.tasks.following_asked import Following


@dataclass(frozen=True)
class Latest:
    """The latest of one job's bench.

    Args:
        number: of the last event that is on the disk.
        following: the latest answer; None before the first.
        text: the same as JSON.
        mark: says which answer it is, the same after the shop was closed and opened.
        stage: how far the companion is while it gets ready, in words.
        faults: why there is no answer to the last question.
    """

    number: int = 0
    following: Following | None = None
    text: str = ""
    mark: str = ""
    stage: str = ""
    faults: tuple[str, ...] = ()

    @property
    def settled(self) -> bool:
        """Whether the last event is taken into account, or it is said why not."""
        return bool(self.faults) or (self.following is not None and self.following["number"] >= self.number)


class News:
    """Keeps the latest, and wakes who waits for it. Safe to use from several threads."""

    def __init__(self) -> None:
        self._changed = threading.Condition()
        self._latest = Latest()
        self._listeners: list[Callable[[], None]] = []

    @property
    def latest(self) -> Latest:
        """The latest."""
        return self._latest

    def told(self, number: int) -> None:
        """An event is on the disk."""
        with self._changed:
            number = max(number, self._latest.number)
            self._tell(replace(self._latest, number=number, faults=()))

    def loading(self, stage: str) -> None:
        """The companion is getting ready."""
        with self._changed:
            self._tell(replace(self._latest, stage=stage))

    def refused(self, faults: tuple[str, ...]) -> None:
        """There is no answer."""
        with self._changed:
            self._tell(replace(self._latest, faults=faults, stage=""))

    def answered(self, following: Following) -> None:
        """There is an answer."""
        text = json.dumps(following, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
        mark = f"{following['number']}-{hashlib.sha256(text.encode()).hexdigest()[:12]}"
        with self._changed:
            number = max(self._latest.number, following["number"])
            self._tell(Latest(number, following, text, mark))

    def wait(self, seconds: float) -> Latest:
        """The latest once it is settled, or after a time [s]."""
        with self._changed:
            self._changed.wait_for(lambda: self._latest.settled, seconds)
            return self._latest

    @contextmanager
    def listening(self, listener: Callable[[], None]) -> Iterator[None]:
        """Have a listener called whenever there is something new, by whichever thread brought it."""
        with self._changed:
            self._listeners.append(listener)
        try:
            yield
        finally:
            with self._changed:
                self._listeners.remove(listener)

    def _tell(self, latest: Latest) -> None:
        if latest != self._latest:
            self._latest = latest
            self._changed.notify_all()
            for listener in self._listeners:
                listener()
