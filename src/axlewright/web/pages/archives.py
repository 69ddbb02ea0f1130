"""A job as one file: to carry to another shop, to keep, and to take in again."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from typing import IO, Annotated

from fastapi import APIRouter, File, Request, UploadFile
from fastapi.responses import RedirectResponse, Response, StreamingResponse

from axlewright.tasks.archives import archive_name, line_of, take_in, write_archive
from axlewright.tasks.standing import stands
from axlewright.web.open_shop import OpenShop, shop_of

router = APIRouter(include_in_schema=False)

KEPT_IN_MEMORY = 8_000_000
"""Size up to which an archive on its way needs no file on the disk [byte]."""

PIECE = 256 * 1024
"""How much is sent at a time [byte]."""


@router.get("/jobs/{job}/archive.zip")
def export(request: Request, job: str) -> Response:
    """The archive of a job."""
    return archive_answer(shop_of(request), job)


@router.post("/jobs/take-in")
def bring_in(request: Request, archive: Annotated[UploadFile, File()]) -> Response:
    """Take a job in from its archive, and show it."""
    found = take_in(shop_of(request).store, archive.file)
    return RedirectResponse(f"/jobs/{found.job}", 303)


def archive_answer(shop: OpenShop, job: str) -> Response:
    """The archive of a job as an answer; of a large one only a piece at a time is in memory.

    Raises:
        RecordError: there is no such job.
    """
    line = line_of(job, stands(shop.store, job))
    file = tempfile.SpooledTemporaryFile(KEPT_IN_MEMORY)  # noqa: SIM115 (closed when it is sent)
    try:
        write_archive(shop.store, job, file)
    except BaseException:
        file.close()
        raise
    headers = {
        "content-disposition": f'attachment; filename="{archive_name(line)}"',
        "content-length": str(file.tell()),
    }
    file.seek(0)
    return StreamingResponse(_pieces(file), headers=headers, media_type="application/zip")


def _pieces(file: IO[bytes]) -> Iterator[bytes]:
    with file:
        while piece := file.read(PIECE):
            yield piece
