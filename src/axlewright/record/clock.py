"""Telling that a clock was set back, for people who look at times. Order in a record is by number, never by clock."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

from axlewright.record.events import Event

ADJUSTED = timedelta(minutes=1)
"""Clocks kept by the network are put right by less than this all the time, which is nobody's business."""


def clock_set_back(events: Sequence[Event], now: datetime | None = None) -> str | None:
    """In words, that the clock of the machine that keeps the record went back; None where it did not.

    Args:
        events: of a job, in order.
        now: what that clock says now, if that is to be compared too.
    """
    back = timedelta()
    place: tuple[Event, Event] | None = None
    latest: Event | None = None
    for event in events:
        if latest is not None and latest.at - event.at > back:
            back, place = latest.at - event.at, (latest, event)
        if latest is None or event.at > latest.at:
            latest = event
    order = "Events stand in the order in which they were told"
    if place is not None and back >= ADJUSTED:
        before, after = place
        went = f"event {after.number} is dated {_words(back)} before event {before.number}, told earlier"
        return f"The clock of this machine was set back: {went}. {order}."
    if now is not None and latest is not None and latest.at - now >= ADJUSTED:
        went = f"event {latest.number} is dated {_words(latest.at - now)} ahead of the clock now"
        return f"The clock of this machine was set back: {went}. {order}; look at date and time."
    return None


def _words(span: timedelta) -> str:
    minutes = int(span.total_seconds() // 60)
    days, minutes = divmod(minutes, 24 * 60)
    hours, minutes = divmod(minutes, 60)
    parts = ((days, "d"), (hours, "h"), (minutes, "min"))
    return " ".join(f"{count} {unit}" for count, unit in parts if count)
