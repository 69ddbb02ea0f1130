"""What is signed off is changed only with a reason."""

from __future__ import annotations

from sqlalchemy import Connection, select

from axlewright.errors import Fault, SignedOffError
from axlewright.record import tables
from axlewright.record.events import Event
from axlewright.record.kinds import subject
from axlewright.record.rows import event_by_number, found_events
from axlewright.record.state import still_counting


def check_signed(connection: Connection, event: Event) -> None:
    """That an event gives a reason where it touches a part of the job that a counting sign-off covers.

    Args:
        connection: in a transaction that holds the job.
        event: about to be written.

    Raises:
        SignedOffError: it gives none.
    """
    if event.reason.strip():
        return
    parts = _parts(connection, event)
    if not parts:
        return
    for sign_off in reversed(_sign_offs(connection, event.job)):
        for part in sorted(parts & set(sign_off.body["covers"])):
            raise SignedOffError(_fault(part, sign_off))


def _parts(connection: Connection, event: Event) -> set[str]:
    """The parts of the job an event touches: its own and, through what it amends, those of earlier ones."""
    parts, looked_at = {subject(event.kind, event.body)}, event
    while looked_at.amends is not None:
        amended = event_by_number(connection, event.job, looked_at.amends)
        if amended is None:
            break
        parts.add(subject(amended.kind, amended.body))
        looked_at = amended
    return parts - {""}


def _sign_offs(connection: Connection, job: str) -> list[Event]:
    """The sign-offs that count, in order."""
    table = tables.event
    found = asked = found_events(
        connection, select(table).where(table.c.job == job, table.c.kind == "sign-off")
    )
    # Whether one counts is told by what amends it, and what amends that; of 2,000 events hardly any.
    while asked:
        later = table.c.amends.in_([event.number for event in asked])
        asked = found_events(connection, select(table).where(table.c.job == job, later))
        found += asked
    counting = still_counting(
        [event for _, event in sorted({event.number: event for event in found}.items())]
    )
    return [event for event in counting if event.kind == "sign-off"]


def _fault(part: str, sign_off: Event) -> Fault:
    point, when = sign_off.body["hold_point"], f"{sign_off.at:%Y-%m-%d %H:%M} UTC"
    allowed = f'is covered by the hold point "{point}", which {sign_off.who} signed on {when}'
    return Fault(part, "signed off", allowed, "Give the reason for the change.")
