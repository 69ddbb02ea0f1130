"""What an event must be, whatever its kind, before it is written down."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from datetime import UTC, datetime
from typing import Any

from axlewright.errors import Fault, RecordError
from axlewright.record.events import NewEvent
from axlewright.record.kinds import checked_body

LONGEST = {"who": 200, "device": 200, "key": 100, "reason": 4000}
"""Length of an event's own fields in characters, at most."""

AGAIN = "Put it right and send it again."


def checked(new: NewEvent) -> dict[str, Any]:
    """What an event tells, as it is kept.

    Raises:
        RecordError: it does not suit its kind, or holds what cannot be kept in every database or archive.
    """
    body = checked_body(new)
    _check_fields(new)
    check_text(new.kind, body)
    names: list[str] = []
    for document in new.documents:
        check_text("document", {"name": document.name, "media_type": document.media_type})
        if not document.name or document.name in names:
            allowed = "each document of an event has a name of its own"
            raise RecordError(Fault("document", repr(document.name), allowed, AGAIN))
        names.append(document.name)
    return body


def told_time(told_at: datetime | None, now: datetime) -> datetime:
    """When something happened, UTC; now where nobody said.

    Raises:
        RecordError: the time has no time zone, or lies before the year 1 or after 9999 in UTC.
    """
    if told_at is None:
        return now
    if told_at.tzinfo is None:
        raise RecordError(Fault("time", told_at.isoformat(), "must have its time zone", AGAIN))
    try:
        return told_at.astimezone(UTC)
    except OverflowError as error:
        allowed = "must be a time of the years 1 to 9999 in UTC"
        raise RecordError(Fault("time", told_at.isoformat(), allowed, AGAIN)) from error


def check_text(where: str, told: Mapping[str, Any]) -> None:
    """That all words and numbers of something told can be kept and read back as they are.

    Raises:
        RecordError: a number is not finite, or words hold a zero character or half of a character.
    """
    try:
        json.dumps(told, allow_nan=False)
    except ValueError as error:
        raise RecordError(Fault(where, "", "every number must be finite", AGAIN)) from error
    for words in _words(told):
        # A surrogate alone is half of a character; PostgreSQL refuses it and the zero character, UTF-8 the former.
        if "\0" in words or any("\ud800" <= letter <= "\udfff" for letter in words):
            shown = words.encode("unicode_escape").decode("ascii")[:60]
            allowed = "must not hold a zero character or half of a character"
            raise RecordError(Fault(where, repr(shown), allowed, AGAIN))


def _check_fields(new: NewEvent) -> None:
    for name, longest in LONGEST.items():
        words = getattr(new, name)
        check_text(name, {name: words})
        if len(words) > longest:
            allowed = f"must have at most {longest} characters"
            raise RecordError(Fault(name, f"{len(words)} characters long", allowed, AGAIN))
    if not new.key:
        allowed = "every telling has a key, so that a retry counts once"
        raise RecordError(Fault("key", "missing", allowed, AGAIN))


def _words(told: Any) -> Iterator[str]:
    if isinstance(told, str):
        yield told
    elif isinstance(told, Mapping):
        for name, value in told.items():
            yield name
            yield from _words(value)
    elif isinstance(told, list | tuple):
        for value in told:
            yield from _words(value)
