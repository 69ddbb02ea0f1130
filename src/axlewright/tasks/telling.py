"""Who tells something, and how."""

from __future__ import annotations

import uuid
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from axlewright.record.events import Document, NewEvent


def new_key() -> str:
    """A key for something told once."""
    return uuid.uuid4().hex


@dataclass(frozen=True)
class Telling:
    """Who tells something, and how.

    Args:
        who: the person.
        key: the same for a retry of the same telling.
        device: on what it is told.
        told_at: when it happened by that device; left out: now.
        reason: why something signed off is changed.
        amends: number of the event it puts right.
    """

    who: str
    key: str = field(default_factory=new_key)
    device: str = ""
    told_at: datetime | None = None
    reason: str = ""
    amends: int | None = None

    def event(self, kind: str, body: dict[str, Any], documents: tuple[Document, ...] = ()) -> NewEvent:
        """What is told as an event."""
        return NewEvent(
            kind, self.who, body, self.key, documents, self.told_at, self.device, self.amends, self.reason
        )
