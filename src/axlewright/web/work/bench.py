"""The work bench: pieces of long work, each in a process of its own, and how far they are."""

from __future__ import annotations

from typing import Any

from axlewright.record.store import Store
from axlewright.tasks.keeping import Telling
from axlewright.web.work.asking import Progress, WorkKind


class WorkBench:
    """Takes long work, tells how far it is, writes the result into the record, stops it when asked.

    Args:
        store: the record that results are written into.
    """

    def __init__(self, store: Store) -> None:
        self._store = store

    def ask(self, job: str, kind: WorkKind, options: dict[str, Any], telling: Telling) -> Progress:
        """Begin a piece of work; where the same is already under way for the job, that one."""
        raise NotImplementedError

    def progress(self, work: str) -> Progress | None:
        """How far a piece of work is; None where there is none of that name."""
        raise NotImplementedError

    def of_job(self, job: str) -> tuple[Progress, ...]:
        """The work of a job that runs or ended since the shop was opened, the latest first."""
        return ()

    def stop(self, work: str, keep: bool = True) -> None:
        """Stop a piece of work; with `keep`, a search gives the best plan it has so far."""

    def close(self) -> None:
        """End all work."""
