"""Photographs of a job: taken with the camera of the device, shown with their words and their stage."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, File, Form, Request, UploadFile
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from axlewright import tasks
from axlewright.errors import AxlewrightError, Fault, RecordError
from axlewright.web.errors_told import status_of
from axlewright.web.one_job import job_page, one_job
from axlewright.web.open_shop import shop_of
from axlewright.web.telling import telling

router = APIRouter(include_in_schema=False)

LARGEST = 20_000_000
"""Largest file that is read [bytes]; a byte more is read to tell that it is larger."""


@router.get("/jobs/{job}/photographs")
def photographs(request: Request, job: str, stage: str = "") -> HTMLResponse:
    """All photographs of a job, the newest first."""
    return _shown(request, job, stage)


@router.post("/jobs/{job}/photographs")
def take_photograph(
    request: Request,
    job: str,
    picture: Annotated[UploadFile | None, File()] = None,
    words: Annotated[str, Form()] = "",
    stage: Annotated[str, Form()] = "",
    key: Annotated[str, Form()] = "",
) -> Response:
    """Put a photograph into the record."""
    one_job(request, job)
    try:
        data = b"" if picture is None else picture.file.read(LARGEST + 1)
        if not data:
            raise RecordError(Fault("photograph", "", "is missing", "Take one, or choose a file."))
        tasks.add_photograph(shop_of(request).store, job, data, words, stage or None, telling(request, key))
    except AxlewrightError as error:
        return _shown(request, job, stage, words, error)
    return RedirectResponse(f"/jobs/{job}/photographs", 303)


def _shown(
    request: Request, job: str, stage: str, words: str = "", error: AxlewrightError | None = None
) -> HTMLResponse:
    one = one_job(request, job)
    told = {
        "faults": error.faults if error else (),
        "words": words,
        "stage": stage or one.state.stage.plan.name,
    }
    status = status_of(error) if error else 200
    return job_page(
        request, "photographs.html", one, status, taken=one.state.of_kind("photograph")[::-1], **told
    )
