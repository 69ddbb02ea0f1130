"""The blank measuring sheet of a job, to print."""

from __future__ import annotations

from typing import Literal

from fastapi import APIRouter, Request, Response

from axlewright.errors import Fault, NotInRecordError
from axlewright.tasks.blank_sheets import blank_sheet
from axlewright.tasks.standing import stands
from axlewright.tasks.texts import JOB_FILE
from axlewright.web.open_shop import shop_of

router = APIRouter(include_in_schema=False)


@router.get("/jobs/{job}/measuring-sheet-{paper}.pdf")
def measuring_sheet(request: Request, job: str, paper: Literal["a4", "us-letter"]) -> Response:
    """Where to measure, with lines to write the readings on; nothing is measured yet."""
    store = shop_of(request).store
    told = stands(store, job).latest.get("job file")
    line = None if told is None else told.document(JOB_FILE)
    if line is None:
        raise NotInRecordError(Fault("job file", "", "is not in the record", "Enter the dimensions first."))
    data = blank_sheet(store.document(line).data.decode(), line.digest, paper)
    headers = {"content-disposition": f'inline; filename="measuring-sheet-{paper}.pdf"'}
    return Response(data, headers=headers, media_type="application/pdf")
