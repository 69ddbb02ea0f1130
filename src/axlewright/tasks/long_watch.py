"""How far long work is, told while it runs; and a search that is asked to stop with what it has."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

OFTEN = 0.2
"""Counts are told no more often than this [s]; people cannot read faster, and each telling costs the search time."""


@dataclass(frozen=True)
class HowFar:
    """How far a piece of work is.

    Args:
        stage: what is being worked on.
        done: how many steps of it, where they can be counted.
        of: out of how many.
        so_far: the best there is so far, in words.
        searching: whether it can be stopped with a result.
    """

    stage: str
    done: int | None = None
    of: int | None = None
    so_far: str = ""
    searching: bool = False


class Search(Protocol):
    """A search as the watch sees it: `stopped` ends it with the best there is."""

    stopped: bool

    @property
    def done(self) -> int:
        """How much of it is done."""

    @property
    def plans(self) -> int:
        """Out of how much."""


class Watch:
    """Told how far work is, by the thread that works; `keep` may be called by another.

    Args:
        tell: told each stage, and counts from time to time.
    """

    def __init__(self, tell: Callable[[HowFar], None] = lambda far: None) -> None:
        self._tell = tell
        self._last, self._told_at = "", 0.0
        self._keep = False
        self._search: Search | None = None

    def stage(self, stage: str, done: int | None = None, of: int | None = None) -> None:
        """A stage begins, or goes on with its count."""
        if self._worth_telling(stage):
            self._tell(HowFar(stage, done, of))

    def searching(self, search: Search, stage: str, so_far: Callable[[], str]) -> None:
        """A search goes on; `so_far` is asked only when it is told."""
        self._search = search
        # A search may hand over to another on stronger tacks, so the wish is passed on each time.
        if self._keep:
            search.stopped = True
        if self._worth_telling(stage):
            self._tell(HowFar(stage, search.done, search.plans, so_far(), searching=True))

    def keep(self) -> None:
        """Stop a search that runs, and keep the best it has so far; a finished one stays as it is."""
        self._keep = True
        if self._search is not None:
            self._search.stopped = True

    def _worth_telling(self, stage: str) -> bool:
        now = time.monotonic()
        if stage == self._last and now - self._told_at < OFTEN:
            return False
        self._last, self._told_at = stage, now
        return True
