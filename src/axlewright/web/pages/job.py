"""A job: where it stands, what it waits for, and the one thing to do now."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Annotated, Any

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from axlewright.record.clock import clock_set_back
from axlewright.record.state import State
from axlewright.tasks.keeping import write_note
from axlewright.web.in_words import event_words, when
from axlewright.web.next_step import next_step
from axlewright.web.one_job import job_page, one_job
from axlewright.web.open_shop import shop_of
from axlewright.web.pages.people import here_only
from axlewright.web.telling import telling

router = APIRouter(include_in_schema=False)

LATEST = 5
"""How many of the latest events and notes the job's own page shows."""


@router.get("/jobs/{job}")
def show_job(request: Request, job: str) -> HTMLResponse:
    """Where a job stands."""
    one = one_job(request, job)
    told: dict[str, Any] = {
        "step": next_step(one.state),
        "clock_back": clock_set_back(one.state.events[-1:], datetime.now(UTC)),
        "cards": _cards(one.state),
        "latest": one.state.events[: -LATEST - 1 : -1],
        "notes": one.state.of_kind("note")[: -LATEST - 1 : -1],
    }
    return job_page(request, "job.html", one, **told)


@router.post("/jobs/{job}/notes")
def note(
    request: Request,
    job: str,
    words: Annotated[str, Form()] = "",
    stage: Annotated[str, Form()] = "",
    back: Annotated[str, Form()] = "",
    key: Annotated[str, Form()] = "",
) -> Response:
    """Write a note down."""
    write_note(shop_of(request).store, job, words, telling(request, key), stage or None)
    return RedirectResponse(here_only(back) if back else f"/jobs/{job}", 303)


def _cards(state: State) -> list[tuple[str, str, str, str]]:
    """The parts of a job: path, words, what is there, and what is to be said of it."""
    return [
        ("dimensions", "Dimensions", _told(state, "job file"), ""),
        ("plan", "Plan", _told(state, "plan"), _out_of_date(state, "plan")),
        ("check", "Check", _told(state, "check"), _out_of_date(state, "check")),
        ("correct", "Correct", _told(state, "correction"), _out_of_date(state, "correction")),
    ]


def _told(state: State, kind: str) -> str:
    event = state.last(kind)
    return "not yet" if event is None else f"{event_words(event)} ({when(event.at)}, {event.who})"


def _out_of_date(state: State, kind: str) -> str:
    event = state.last(kind)
    return "" if event is None or state.current(event) else "what it stands on was changed since"
