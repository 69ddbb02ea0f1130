"""The history of a job: everything told, the newest first, and taking something back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Annotated, Any

from fastapi import APIRouter, Form, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from axlewright.record.clock import clock_set_back
from axlewright.record.events import Event
from axlewright.record.kinds import KINDS
from axlewright.record.state import State
from axlewright.tasks.keeping import withdraw
from axlewright.web.one_job import job_page, one_job
from axlewright.web.open_shop import shop_of
from axlewright.web.telling import telling

router = APIRouter(include_in_schema=False)

ON_A_PAGE = 40


@dataclass(frozen=True)
class Line:
    """An event as the history shows it.

    Args:
        event: the event.
        counts: whether it still counts.
        gone_by: the event that took it back or put it right, if any.
        amends: the event that it takes back or puts right, if any.
        clock_back: whether the clock stood earlier than at the event before.
        told_later: whether it was told by a device some time before it was written down.
    """

    event: Event
    counts: bool
    gone_by: Event | None
    amends: Event | None
    clock_back: bool
    told_later: bool


@router.get("/jobs/{job}/history")
def history(
    request: Request,
    job: str,
    kind: Annotated[str, Query(max_length=40)] = "",
    page: Annotated[int, Query(ge=1, le=100_000)] = 1,
) -> HTMLResponse:
    """The events of a job, all or of one kind, a page at a time."""
    one = one_job(request, job)
    events = [event for event in reversed(one.state.events) if kind in ("", event.kind)]
    pages = max(1, -(-len(events) // ON_A_PAGE))
    page = min(page, pages)
    shown = events[(page - 1) * ON_A_PAGE : page * ON_A_PAGE]
    met = {event.kind for event in one.state.events}
    told: dict[str, Any] = {
        "lines": lines_of(one.state, shown),
        "kinds": [each for each in KINDS if each in met],
        "kind": kind,
        "at": page,
        "pages": pages,
        "found": len(events),
        "clock_back": clock_set_back(one.state.events, datetime.now(UTC)),
    }
    return job_page(request, "history.html", one, **told)


@router.post("/jobs/{job}/history/{number}/take-back")
def take_back(
    request: Request,
    job: str,
    number: int,
    key: Annotated[str, Form()] = "",
    words: Annotated[str, Form()] = "",
    reason: Annotated[str, Form()] = "",
) -> Response:
    """Take an event back, or let one count again that was."""
    withdraw(shop_of(request).store, job, number, words, telling(request, key, reason))
    return RedirectResponse(f"/jobs/{job}/history", 303)


def lines_of(state: State, shown: list[Event]) -> list[Line]:
    """Events as the history shows them."""
    counting = {event.number for event in state.counting}
    gone_by = _gone_by(state.events)
    events = state.events
    return [
        Line(
            event,
            event.number in counting or (event.kind == "withdrawal" and event.number not in gone_by),
            gone_by.get(event.number),
            events[event.amends - 1] if event.amends else None,
            event.number > 1 and event.at < events[event.number - 2].at,
            abs((event.at - event.told_at).total_seconds()) > 60,
        )
        for event in shown
    ]


def _gone_by(events: tuple[Event, ...]) -> dict[int, Event]:
    """By number of each event that no longer counts: the event that took it back or put it right."""
    gone: dict[int, Event] = {}
    for event in reversed(events):
        if event.amends is not None and event.number not in gone:
            gone.setdefault(event.amends, event)
    return gone
