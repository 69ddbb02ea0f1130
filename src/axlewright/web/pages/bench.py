"""The bench: what is tapped there goes into the record at once, and what follows from it comes back."""

from __future__ import annotations

from dataclasses import asdict, replace
from typing import Annotated, Any, Literal

from fastapi import APIRouter, Header, Request
from fastapi.responses import JSONResponse, Response, StreamingResponse
from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, ValidationError
from starlette.concurrency import run_in_threadpool

from axlewright.errors import AxlewrightError, Fault, NotInRecordError, RecordError
from axlewright.record.events import Event
from axlewright.record.kinds import BenchEntry
from axlewright.record.store import Store
from axlewright.tasks.keeping import withdraw
from axlewright.tasks.standing import stands
from axlewright.tasks.telling import Telling
from axlewright.web.companion.stream import stream
from axlewright.web.errors_told import status_of
from axlewright.web.open_shop import shop_of
from axlewright.web.telling import telling

router = APIRouter(include_in_schema=False)

SOON = 5.0
"""So long a page that asks where the bench stands waits for the answer to the last tap [s]."""

AGAIN = "Put it right and send it again."
CELLS = tuple(BenchEntry.model_fields)
MAY_GO = ("bench", "withdrawal")
"""Kinds of events that are taken back at the bench: what was tapped there, and having taken it back."""

Short = Annotated[str, Field(max_length=200)]
Words = Annotated[str, Field(max_length=4000)]


class Tapped(BaseModel):
    """What is tapped at the bench: a line of the bead log, or the number of an event that is taken back.

    `key` is the same for a retry, so that it counts once; `told_at` is when it happened, left out: now; `reason` is
    why something signed off is changed. `amends` is the number of the tap that this one puts right or takes back;
    a page that does not know it yet gives that tap's key instead, in `amends_key`.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    kind: Literal["bench", "withdrawal"] = "bench"
    key: Annotated[str, Field(max_length=100)] = ""
    who: Short = ""
    told_at: AwareDatetime | None = None
    reason: Words = ""
    amends: int | None = None
    amends_key: Annotated[str, Field(max_length=100)] = ""
    words: Words = ""
    event: Short = ""
    bead: Short = ""
    start: Short = ""
    end: Short = ""
    what: Short = ""
    value: Short = ""
    error: Short = ""
    note: Words = ""

    def telling(self, request: Request, amends: int | None) -> Telling:
        """Who tells it, and how; `amends` is the number of the event that it puts right."""
        told = telling(request, self.key, self.reason, self.who)
        return replace(told, told_at=self.told_at, amends=amends)

    def cells(self) -> dict[str, Any]:
        """The line of the bead log."""
        return {cell: getattr(self, cell) for cell in CELLS}


@router.post("/jobs/{job}/bench/events")
async def tap(request: Request, job: str) -> Response:
    """Write down what was tapped. When this is answered it is on the disk; the answer to it follows on the stream."""
    try:
        tapped = _tapped(await request.body())
        told = await run_in_threadpool(_written, request, job, tapped)
    except AxlewrightError as error:
        return JSONResponse({"faults": [asdict(fault) for fault in error.faults]}, status_of(error))
    return JSONResponse({"number": told.number, "at": _moment(told)}, 201)


@router.get("/jobs/{job}/bench/following")
def following(request: Request, job: str) -> Response:
    """Where the bench stands and what comes next; while the companion gets ready, how far it is (202)."""
    try:
        latest = shop_of(request).companion.latest(job, SOON)
    except AxlewrightError as error:
        return JSONResponse({"faults": [asdict(fault) for fault in error.faults]}, status_of(error))
    if latest.faults:
        return JSONResponse({"faults": list(latest.faults)}, 422)
    if not latest.text:
        return JSONResponse({"stage": latest.stage or "getting ready"}, 202)
    return Response(latest.text, media_type="application/json", headers={"etag": f'"{latest.mark}"'})


@router.get("/jobs/{job}/bench/stream")
async def events(
    request: Request, job: str, last_event_id: Annotated[str, Header()] = ""
) -> StreamingResponse:
    """What happens at the bench, as server-sent events: told, loading, following, refused."""
    companion = shop_of(request).companion
    news = await run_in_threadpool(companion.news_of, job)
    said = stream(companion, job, news, last_event_id[:100])
    # A proxy in between must pass each event on at once.
    headers = {"cache-control": "no-store", "x-accel-buffering": "no"}
    return StreamingResponse(said, media_type="text/event-stream", headers=headers)


def _tapped(body: bytes) -> Tapped:
    try:
        tapped = Tapped.model_validate_json(body)
    except ValidationError as error:
        found = error.errors(include_url=False, include_context=False, include_input=False)[:20]
        raise RecordError(*(_not_understood(one) for one in found)) from error
    if tapped.kind == "bench" and not tapped.event:
        raise RecordError(Fault("event", "missing", "must be an event of the bead log", AGAIN))
    return tapped


def _not_understood(one: Any) -> Fault:
    return Fault(".".join(str(part) for part in one["loc"]) or "what was sent", "", str(one["msg"]), AGAIN)


def _written(request: Request, job: str, tapped: Tapped) -> Event:
    shop = shop_of(request)
    amends = _amended(shop.store, job, tapped)
    told = tapped.telling(request, amends)
    if tapped.kind == "bench":
        event = shop.store.append(job, told.event("bench", tapped.cells()))
    else:
        event = withdraw(shop.store, job, amends or 0, tapped.words, told)
    shop.companion.told(job, event.number)
    return event


def _amended(store: Store, job: str, tapped: Tapped) -> int | None:
    """Number of the tap that is put right or taken back; a plan or a signature is not, by a slip of the finger."""
    if tapped.kind == "bench" and tapped.amends is None and not tapped.amends_key:
        return None
    events = stands(store, job).events
    if tapped.amends is None:
        found = next((e for e in events if tapped.amends_key and e.key == tapped.amends_key), None)
    else:
        found = next((e for e in events if e.number == tapped.amends), None)
    if found is None or found.kind not in MAY_GO:
        said, allowed = str(tapped.amends or ""), "is not something told at the bench of this job"
        raise NotInRecordError(Fault("amends", said, allowed, "Choose one from the job's history."))
    return found.number


def _moment(event: Event) -> str:
    return f"{event.at:%Y-%m-%dT%H:%M:%S.%f}"[:-3] + "Z"
