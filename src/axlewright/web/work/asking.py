"""What long work is asked for, and how far it is."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Literal

WorkKind = Literal["plan", "choose", "check", "correct"]
Status = Literal["waiting", "working", "done", "stopped", "failed"]

_PAGES: dict[WorkKind, str] = {"plan": "plan", "choose": "plan", "check": "check", "correct": "correct"}


@dataclass(frozen=True)
class Progress:
    """How far a piece of work is.

    Args:
        id: of the piece of work.
        job: the job it is for.
        kind: what was asked for.
        who: who asked.
        status: waiting for its turn, working, or how it ended.
        stage: what is being worked on, in words.
        done: how many steps of it, where they can be counted.
        of: out of how many.
        seconds: time since it was asked for [s].
        faults: why it failed, as messages to be shown.
        event: number of the event that holds the result, once done.
        options: what it was asked with.
        so_far: the best there is so far, in words.
        searching: whether it can be stopped with the best so far.
        stages: how many stages it has been through, for pages that tell only what is new.
    """

    id: str
    job: str
    kind: WorkKind
    who: str
    status: Status
    stage: str = ""
    done: int | None = None
    of: int | None = None
    seconds: float = 0.0
    faults: tuple[str, ...] = ()
    event: int | None = None
    options: dict[str, Any] = field(default_factory=dict)
    so_far: str = ""
    searching: bool = False
    stages: int = 0

    @property
    def result(self) -> str:
        """Address of the page that shows what comes of it."""
        return f"/jobs/{self.job}/{_PAGES[self.kind]}"

    @property
    def running(self) -> bool:
        """Whether it is still to be waited for."""
        return self.status in ("waiting", "working")
