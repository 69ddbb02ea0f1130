"""Documents of a job's record: sheets and drawings to open and print, and the files themselves."""

from __future__ import annotations

from fastapi import APIRouter, Request, Response
from fastapi.responses import HTMLResponse

from axlewright.errors import Fault, NotInRecordError
from axlewright.record.events import DocumentLine, Event
from axlewright.web.one_job import OneJob, job_page, one_job
from axlewright.web.open_shop import shop_of
from axlewright.web.sheet_words import Sheet, sheets_of

router = APIRouter(include_in_schema=False)

# What a document may do when it is opened by itself: drawings carry their style within, nothing carries a script.
MAY = {
    "image/svg+xml": "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; sandbox",
    "application/pdf": "default-src 'self'; style-src 'self' 'unsafe-inline'; frame-ancestors 'none'",
}
MAY_NOTHING = "default-src 'none'; sandbox"
SHOWN_AS = {
    "pdf": "application/pdf",
    "svg": "image/svg+xml",
    "png": "image/png",
    "jpg": "image/jpeg",
    "webp": "image/webp",
    "json": "application/json",
    "csv": "text/plain; charset=utf-8",
    "toml": "text/plain; charset=utf-8",
    "txt": "text/plain; charset=utf-8",
}
"""Media types by the end of a name. What a record says of itself is not trusted: nothing is ever shown as a page."""


@router.get("/jobs/{job}/sheets")
def sheets(request: Request, job: str) -> HTMLResponse:
    """All printed sheets and drawings of the latest results."""
    one = one_job(request, job)
    return job_page(request, "sheets.html", one, groups=_groups(one))


@router.get("/jobs/{job}/documents/{number}/{name}")
def document(request: Request, job: str, number: int, name: str) -> Response:
    """A document of an event."""
    line = _line(one_job(request, job), number, name)
    headers = {"etag": f'"{line.digest}"', "cache-control": "private, max-age=31536000, immutable"}
    media_type = SHOWN_AS.get(name.rpartition(".")[2].lower(), "application/octet-stream")
    headers["content-security-policy"] = MAY.get(media_type, MAY_NOTHING)
    if media_type == "application/octet-stream":
        headers["content-disposition"] = "attachment"
    if line.digest in request.headers.get("if-none-match", ""):
        return Response(status_code=304, headers=headers)
    return Response(shop_of(request).store.document(line).data, headers=headers, media_type=media_type)


def _line(one: OneJob, number: int, name: str) -> DocumentLine:
    events = one.state.events
    line = events[number - 1].document(name) if 0 < number <= len(events) else None
    if line is None:
        raise NotInRecordError(
            Fault("document", repr(name[:100]), "is not in the record", "Choose one from the job's sheets.")
        )
    return line


def _groups(one: OneJob) -> list[tuple[Event, bool, list[Sheet]]]:
    """The latest results that brought sheets, whether each is still current, and the sheets."""
    found = []
    for kind in ("plan", "check", "correction"):
        event = one.state.last(kind)
        if event is not None and (sheets := sheets_of(event)):
            found.append((event, one.state.current(event), sheets))
    return found
