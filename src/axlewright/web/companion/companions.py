"""All companions of a shop: one for each job being welded, two at most."""

from __future__ import annotations

import threading
from pathlib import Path

from axlewright.record.store import Store
from axlewright.tasks.standing import stands as stands_now
from axlewright.web.companion.companion import FAREWELL, Companion, Settings
from axlewright.web.companion.news import Latest, News

AT_ONCE = 2
"""So many jobs are followed at a time; the one longest not asked for goes. Each takes some 300 MB of memory."""


class Companions:
    """Follows jobs at the bench. Nothing is started before the first is asked for.

    Args:
        store: the record.
        data: folder of the shop's data, where it is kept what broke; left out, the system's own for passing files.
        settings: surroundings of each, where they are other than usual.
    """

    def __init__(self, store: Store, data: Path | None = None, settings: Settings | None = None) -> None:
        self._settings = settings or Settings(store, data)
        self._store = self._settings.store
        self._lock = threading.RLock()
        self._companions: dict[str, Companion] = {}
        self._news: dict[str, News] = {}
        self.closing = False

    def news(self, job: str) -> News:
        """The latest of a job's bench."""
        with self._lock:
            return self._news.setdefault(job, News())

    def told(self, job: str, number: int) -> None:
        """An event of a job is on the disk: say so, and have it answered."""
        self.news(job).told(number)
        self.follow(job)

    def follow(self, job: str) -> None:
        """Have a job followed: its companion is started where there is none, and answers."""
        with self._lock:
            if self.closing:
                return
            companion = self._companions.get(job)
            if companion is not None and companion.ask():
                return
            self._companions.pop(job, None)
            self._make_room()
            companion = Companion(job, self._settings, self.news(job), self._ended)
            self._companions[job] = companion
            companion.ask()

    def look(self, job: str) -> None:
        """Have a job followed if anything was told that nobody said here: by another program, or a new plan.

        Raises:
            RecordError: there is no such job.
        """
        last = stands_now(self._store, job).events[-1].number
        if last > self.news(job).latest.number:
            self.told(job, last)

    def latest(self, job: str, seconds: float) -> Latest:
        """The answer to the last event of a job, or how far it is after a time [s].

        Raises:
            RecordError: there is no such job.
        """
        news = self.news_of(job)
        return news.wait(seconds)

    def news_of(self, job: str) -> News:
        """The latest of a job's bench, which is followed from now on.

        Raises:
            RecordError: there is no such job.
        """
        last = stands_now(self._store, job).events[-1].number
        news = self.news(job)
        if last > news.latest.number or not news.latest.settled or news.latest.faults:
            self.told(job, last)
        else:
            self._warm(job)
        return news

    def close(self) -> None:
        """End all."""
        with self._lock:
            self.closing = True
            companions = tuple(self._companions.values())
        for companion in companions:
            companion.close()
        for companion in companions:
            companion.wait(FAREWELL)

    @property
    def processes(self) -> dict[str, int]:
        """Numbers of the processes there are, by job."""
        with self._lock:
            found = {job: companion.pid for job, companion in self._companions.items()}
        return {job: pid for job, pid in found.items() if pid is not None}

    def _warm(self, job: str) -> None:
        """A job whose page is looked at is kept, or taken up again where it was let go."""
        with self._lock:
            if job not in self._companions:
                self.follow(job)

    def _make_room(self) -> None:
        while len(self._companions) >= AT_ONCE:
            oldest = min(self._companions.values(), key=lambda companion: companion.used)
            del self._companions[oldest.job]
            oldest.close()

    def _ended(self, companion: Companion) -> None:
        """A companion has gone; one that took its place meanwhile stays."""
        with self._lock:
            if self._companions.get(companion.job) is companion:
                del self._companions[companion.job]
