"""A job as one file: to fetch, and to take in again."""

from __future__ import annotations

import tempfile

from fastapi import APIRouter, Request, Response
from starlette.concurrency import run_in_threadpool

from axlewright.tasks.archives import take_in
from axlewright.web.api.answers import TakenInTold
from axlewright.web.api.bodies import check_type
from axlewright.web.api.errors import refusals
from axlewright.web.api.parameters import JobId, Shop
from axlewright.web.pages.archives import KEPT_IN_MEMORY, archive_answer

router = APIRouter(tags=["archives"])

ZIP = "application/zip"
CONTENT = {"content": {ZIP: {"schema": {"type": "string", "format": "binary"}}}}


@router.get("/jobs/{job}/archive.zip", response_class=Response, responses={200: CONTENT, **refusals(404)})
def export(shop: Shop, job: JobId) -> Response:
    """A job as one archive that anybody can read; docs/archive.md says what is in it."""
    return archive_answer(shop, job)


@router.post(
    "/archives",
    status_code=201,
    responses=refusals(413, 415),
    openapi_extra={"requestBody": {"required": True, **CONTENT}},
)
async def bring_in(request: Request, shop: Shop) -> TakenInTold:
    """Take a job in from its archive; of a job that is here already, the further events."""
    check_type(request, ZIP)
    with tempfile.SpooledTemporaryFile(KEPT_IN_MEMORY) as file:
        async for piece in request.stream():
            file.write(piece)
        found = await run_in_threadpool(take_in, shop.store, file)
    return TakenInTold.model_validate(found)
