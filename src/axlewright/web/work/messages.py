"""What the server and a working process tell each other."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from axlewright.tasks.long_asked import LongWork, Worked
from axlewright.tasks.long_watch import HowFar


@dataclass(frozen=True)
class Do:
    """To the process: do this work."""

    work: LongWork


@dataclass(frozen=True)
class Keep:
    """To the process: stop the search and go on with the best so far."""


@dataclass(frozen=True)
class Refused:
    """From the process: it cannot be done as asked, and why."""

    faults: tuple[str, ...]


@dataclass(frozen=True)
class Broke:
    """From the process: something broke that should not; where it did, for whoever mends it."""

    trace: str


Answer: TypeAlias = Worked | Refused | Broke
FromChild: TypeAlias = HowFar | Answer
