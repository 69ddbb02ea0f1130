"""The picture of a plan that can be turned and played, as `tasks.viewing` made it."""

from __future__ import annotations

import gzip

from fastapi import APIRouter, Request, Response

from axlewright.errors import Fault, RecordError
from axlewright.record.events import DocumentLine
from axlewright.web.open_shop import shop_of

VIEW_FILE = "view.bin"
"""What the picture is called among the documents of a plan's event; the same as in `tasks.viewing`, which is not loaded
for it: a server that starts must not wait for what makes pictures."""

KEPT = "private, max-age=31536000, immutable"

router = APIRouter(include_in_schema=False)


@router.get("/jobs/{job}/plans/{number}/view.bin")
def view(request: Request, job: str, number: int) -> Response:
    """The picture of the plan that an event of a job holds."""
    line = _line(request, job, number)
    headers = {"etag": f'"{line.digest}"', "cache-control": KEPT, "vary": "accept-encoding"}
    if line.digest in request.headers.get("if-none-match", ""):
        return Response(status_code=304, headers=headers)
    data = shop_of(request).store.document(line).data
    if "gzip" in request.headers.get("accept-encoding", ""):
        headers["content-encoding"] = "gzip"
    else:
        data = gzip.decompress(data)
    return Response(data, headers=headers, media_type="application/octet-stream")


def _line(request: Request, job: str, number: int) -> DocumentLine:
    # Asked for what comes after the one before it, the store need not read a long record from its beginning.
    events = shop_of(request).store.events(job, after=max(number, 1) - 1)
    line = events[0].document(VIEW_FILE) if events and events[0].kind == "plan" else None
    if line is None:
        allowed = "has no picture that can be turned"
        raise RecordError(Fault("plan", str(number), allowed, "Make the plan again to get one."))
    return line
