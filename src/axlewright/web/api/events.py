"""Events of a job: to read, to add, and their documents."""

from __future__ import annotations

from typing import Annotated, Literal, get_args

from fastapi import APIRouter, Path, Query, Response

from axlewright.errors import Fault, NotInRecordError
from axlewright.record.archive import plain_name
from axlewright.record.kinds import KINDS
from axlewright.web.api.answers import Events, EventTold, events_told, new_event_told
from axlewright.web.api.appending import append
from axlewright.web.api.bodies import LARGEST_NUMBER, read_as, takes
from axlewright.web.api.errors import refusals
from axlewright.web.api.kinds import NEW_EVENT, NewEvent
from axlewright.web.api.parameters import EventNumber, JobId, Shop, Stands

router = APIRouter(tags=["events"])

MOST_AT_ONCE = 1000
Kind = Literal[
    "job file",
    "readings",
    "check",
    "plan",
    "correction",
    "bench",
    "set-up reading",
    "sign-off",
    "stage",
    "photograph",
    "note",
    "withdrawal",
]
assert get_args(Kind) == tuple(KINDS), "a kind of event is missing from the description"
FILE = {"content": {"application/octet-stream": {"schema": {"type": "string", "format": "binary"}}}}


@router.get("/jobs/{job}/events", responses=refusals(404))
def read_events(
    now: Stands,
    after: Annotated[int, Query(ge=0, le=LARGEST_NUMBER, description="Only those after this number.")] = 0,
    limit: Annotated[int, Query(ge=1, le=MOST_AT_ONCE, description="So many at most.")] = 100,
    kind: Annotated[Kind | None, Query(description="Only those of this kind.")] = None,
) -> Events:
    """Events of a job in order."""
    found = [event for event in now.events[after:] if kind in (None, event.kind)]
    return Events(events=events_told(now, found[:limit]), more=len(found) > limit)


@router.post(
    "/jobs/{job}/events",
    status_code=201,
    responses=refusals(404, 409, 413, 415),
    openapi_extra=takes("NewEvent"),
)
def add_event(shop: Shop, job: JobId, told: Annotated[NewEvent, read_as(NEW_EVENT)]) -> EventTold:
    """Write an event down. When this is answered it is on the disk; the same key again gets the same answer."""
    return new_event_told(append(shop.store, job, told))


@router.get("/jobs/{job}/events/{number}", responses=refusals(404))
def one_event(now: Stands, number: EventNumber) -> EventTold:
    """An event of a job."""
    if number > len(now.events):
        raise NotInRecordError(
            Fault("event", str(number), "is not in the record", "Ask for the list of events.")
        )
    return events_told(now, [now.events[number - 1]])[0]


@router.get("/jobs/{job}/documents/{digest}", response_class=Response, responses={200: FILE, **refusals(404)})
def document(
    shop: Shop,
    now: Stands,
    digest: Annotated[str, Path(pattern="^[0-9a-f]{64}$", description="As an event lists it.")],
) -> Response:
    """The content of a document, to keep as a file."""
    lines = (line for event in now.events for line in event.documents if line.digest == digest)
    line = next(lines, None)
    if line is None:
        raise NotInRecordError(
            Fault("document", digest, "is not in the record", "Ask for the list of events.")
        )
    # What a record says of a document is not trusted: no browser shows one as a page of the shop.
    headers = {
        "content-disposition": f'attachment; filename="{plain_name(line.name)}"',
        "etag": f'"{digest}"',
    }
    return Response(shop.store.document(line).data, headers=headers, media_type="application/octet-stream")
