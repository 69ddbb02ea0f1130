"""A piece of long work from the moment it is asked for until it has ended."""

from __future__ import annotations

import time
import uuid
from dataclasses import dataclass, field
from typing import Any

from axlewright.tasks.long_asked import LongWork
from axlewright.tasks.long_watch import HowFar
from axlewright.tasks.telling import Telling
from axlewright.web.work.asking import Progress, Status, WorkKind

WAITING = "waiting for its turn"
STARTING = "getting ready"
WRITING = "writing it down"
ENDING = "taking the best plan so far"


@dataclass
class Piece:
    """A piece of long work; only the work bench changes it.

    Args:
        job: the job it is for.
        kind: what was asked for.
        options: how.
        telling: who asked.
        work: what it is done from.
    """

    job: str
    kind: WorkKind
    options: dict[str, Any]
    telling: Telling
    work: LongWork
    id: str = field(default_factory=lambda: uuid.uuid4().hex)
    status: Status = "waiting"
    far: HowFar = field(default_factory=lambda: HowFar(WAITING))
    stages: int = 0
    searched: bool = False
    keeps: bool = False
    faults: tuple[str, ...] = ()
    event: int | None = None
    asked_at: float = field(default_factory=time.monotonic)
    ended_at: float | None = None

    @property
    def running(self) -> bool:
        """Whether it is still to be waited for."""
        return self.status in ("waiting", "working")

    def same(self, work: LongWork) -> bool:
        """Whether it does just that work."""
        return self.work == work

    def moves(self, far: HowFar) -> None:
        """It has got so far; a search that was told to end may tell once more before it does."""
        if far.searching and self.keeps:
            return
        if (far.stage, far.searching) != (self.far.stage, self.far.searching):
            self.stages += 1
        self.far = far
        self.searched = self.searched or far.searching

    def keep(self) -> None:
        """Its search is told to end with the best so far."""
        self.keeps = True
        if self.far.searching:
            self.moves(HowFar(ENDING))

    def begins(self) -> None:
        """A process has taken it up."""
        self.status = "working"
        self.moves(HowFar(STARTING))

    def ends(self, status: Status, faults: tuple[str, ...] = (), event: int | None = None) -> None:
        """It has come to its end."""
        self.status, self.faults, self.event, self.ended_at = status, faults, event, time.monotonic()

    def progress(self) -> Progress:
        """How far it is, for pages."""
        until = time.monotonic() if self.ended_at is None else self.ended_at
        return Progress(
            id=self.id,
            job=self.job,
            kind=self.kind,
            who=self.telling.who,
            status=self.status,
            stage=self.far.stage,
            done=self.far.done,
            of=self.far.of,
            seconds=until - self.asked_at,
            faults=self.faults,
            event=self.event,
            options=self.options,
            so_far=self.far.so_far,
            searching=self.far.searching,
            stages=self.stages,
        )
