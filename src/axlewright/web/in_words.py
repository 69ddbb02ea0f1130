"""Times and events in words, as the pages tell them."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

from axlewright.record.events import Event


def when(at: datetime, now: datetime | None = None) -> str:
    """A time as one would say it: "12 minutes ago", "today 14:05", "3 June 2031, 14:05"; by this machine's clock.

    Args:
        at: the time, with its zone.
        now: what counts as now; left out: now.
    """
    now = now or datetime.now(UTC)
    here, today = at.astimezone(), now.astimezone()
    past = now - at
    if timedelta(0) <= past < timedelta(minutes=1):
        return "just now"
    if timedelta(0) <= past < timedelta(hours=1):
        minutes = int(past.total_seconds() // 60)
        return f"{minutes} minute{'' if minutes == 1 else 's'} ago"
    if here.date() == today.date():
        return f"today {here:%H:%M}"
    if here.date() == (today - timedelta(days=1)).date():
        return f"yesterday {here:%H:%M}"
    return f"{day(at)}, {here:%H:%M}"


def day(at: datetime) -> str:
    """A day: "3 June 2031"; by this machine's clock."""
    here = at.astimezone()
    return f"{here.day} {here:%B} {here.year}"


def exactly(at: datetime) -> str:
    """A time to the second, by this machine's clock: "3 June 2031, 14:05:09"."""
    return f"{day(at)}, {at.astimezone():%H:%M:%S}"


def size(count: int) -> str:
    """Size of a file: "812 bytes", "14 kB", "2.3 MB"."""
    if count < 1000:
        return f"{count} bytes"
    return f"{count / 1000:.0f} kB" if count < 1_000_000 else f"{count / 1e6:.1f} MB"


def event_words(event: Event) -> str:
    """What an event tells, in one line."""
    return _WORDS[event.kind](event.body).rstrip(".") if event.kind in _WORDS else event.kind


def _job_file(body: Any) -> str:
    return f"Job file: {body['name']}, in {'inches' if body['units'] == 'inch' else 'millimetres'}"


def _readings(body: Any) -> str:
    refused = f", {body['refused']} refused" if body["refused"] else ""
    return f"Readings {body['set']} the work: {body['used']} used{refused}"


def _check(body: Any) -> str:
    return f"Checked: {body['words'] or body['answer']}"


def _plan(body: Any) -> str:
    own = "" if body["chosen"] == body["recommended"] else ", not the recommended one"
    return f"Plan of {body['beads']} beads in {body['bench_min']:.0f} min of bench time{own}"


def _correction(body: Any) -> str:
    how = f" by {body['recommended']}" if body["recommended"] else ""
    return f"Correction, round {body['cycle']}: {body['decision']}{how}"


def _bench(body: Any) -> str:
    pairs = (
        ("", "bead"),
        ("from ", "start"),
        ("to ", "end"),
        ("", "what"),
        ("", "value"),
        ("± ", "error"),
        ("", "note"),
    )
    told = " ".join(f"{before}{body[key]}" for before, key in pairs if body[key])
    return f"At the bench: {body['event']} {told}".strip()


def _set_up(body: Any) -> str:
    return f"Set-up reading: {body['what']} {body['value']}".strip()


def _sign_off(body: Any) -> str:
    missing = sum(not item["found"] for item in body["items"])
    rest = f", {missing} line{'' if missing == 1 else 's'} not found so" if missing else ""
    return f'Signed "{body["hold_point"]}"{rest}'


def _stage(body: Any) -> str:
    return f"Stage {body['stage']} {'done' if body['done'] else 'taken up again'}"


def _photograph(body: Any) -> str:
    return f"Photograph: {body['words']}" if body["words"] else "Photograph"


def _note(body: Any) -> str:
    return f"Note: {body['words']}"


def _withdrawal(body: Any) -> str:
    return f"Taken back: {body['words']}" if body["words"] else "Taken back"


_WORDS = {
    "job file": _job_file,
    "readings": _readings,
    "check": _check,
    "plan": _plan,
    "correction": _correction,
    "bench": _bench,
    "set-up reading": _set_up,
    "sign-off": _sign_off,
    "stage": _stage,
    "photograph": _photograph,
    "note": _note,
    "withdrawal": _withdrawal,
}
