"""The list of jobs: which one needs me?"""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from axlewright.web.open_shop import shop_of
from axlewright.web.rendering import page

router = APIRouter(include_in_schema=False)


@router.get("/")
def job_list(request: Request) -> HTMLResponse:
    """All jobs."""
    return page(request, "jobs.html", jobs=shop_of(request).store.jobs())
