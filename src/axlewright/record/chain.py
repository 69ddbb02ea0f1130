"""Events as rows of the database, and the chain of digests that shows a later change.

The digest of an event is the SHA-256 of one line of JSON (RFC 8259): its fields by name in alphabetical order, no
spaces after the separators' own, all but ASCII escaped, times in UTC to the microsecond, and under "digest" the digest
of the event before it, "" for the first. docs/record.md has the rule for people who check it with other means.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from datetime import UTC, datetime
from typing import Any

from axlewright.record.events import DocumentLine, Event

_DECODER = json.JSONDecoder()


def chained_digest(event: Event, before: str) -> str:
    """The digest of an event; its own `digest` is not looked at.

    Args:
        event: the event.
        before: digest of the event before it in the job's record, "" for the first.
    """
    told = row_of(event) | {
        "at": _time_words(event.at),
        "told_at": _time_words(event.told_at),
        "digest": before,
    }
    return hashlib.sha256(json.dumps(told, sort_keys=True).encode("ascii")).hexdigest()


def row_of(event: Event) -> dict[str, Any]:
    """An event as a row of its table."""
    return {
        "job": event.job,
        "number": event.number,
        "kind": event.kind,
        "who": event.who,
        "device": event.device,
        "at": event.at,
        "told_at": event.told_at,
        "key": event.key,
        "body": dict(event.body),
        "documents": [
            {"name": line.name, "media_type": line.media_type, "digest": line.digest, "size": line.size}
            for line in event.documents
        ],
        "amends": event.amends,
        "reason": event.reason,
        "digest": event.digest,
    }


def event_of(row: Sequence[Any]) -> Event:
    """The event in a row of its table, whose columns stand in the order of the event's fields."""
    job, number, kind, who, device, at, told_at, key, body, documents, amends, reason, digest = row
    lines = tuple(DocumentLine(**line) for line in documents)
    return Event(job, number, kind, who, device, at, told_at, key, body, lines, amends, reason, digest)


def json_value(words: str) -> Any:
    """A value from its JSON; most events have no documents, which is told without a parser."""
    return [] if words == "[]" else _DECODER.raw_decode(words)[0]


def _time_words(time: datetime) -> str:
    return time.astimezone(UTC).isoformat(timespec="microseconds")
