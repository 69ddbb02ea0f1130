"""What the server and a companion's process tell each other."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from axlewright.tasks.following_asked import Asked, Followed, Following
from axlewright.web.work.messages import Broke, Refused


@dataclass(frozen=True)
class Ask:
    """To the process: answer this.

    Args:
        asked: what happened so far, and the moment.
        what: what is followed, where it is another than before; else None.
    """

    asked: Asked
    what: Followed | None = None


@dataclass(frozen=True)
class Loading:
    """From the process: it is getting ready, and how far it is."""

    stage: str


@dataclass(frozen=True)
class Answered:
    """From the process: the answer."""

    following: Following


Reply: TypeAlias = Answered | Refused | Broke
FromCompanion: TypeAlias = Loading | Reply
