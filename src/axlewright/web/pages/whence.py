"""Where a number comes from: for the dialog, or as a page of its own."""

from __future__ import annotations

from typing import Annotated, Literal

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse

from axlewright.tasks.whence.answer import where_from
from axlewright.tasks.whence.facts import facts_of
from axlewright.web.one_job import job_page, one_job
from axlewright.web.open_shop import shop_of

router = APIRouter(include_in_schema=False)


@router.get("/jobs/{job}/whence/{figure}")
def whence(
    request: Request,
    job: str,
    figure: str,
    event: Annotated[int | None, Query(ge=1, le=1_000_000)] = None,
    of: Literal["ours", "common"] = "ours",
    piece: Annotated[str, Query(max_length=20)] = "",
) -> HTMLResponse:
    """Inputs, formula and source of a figure."""
    one = one_job(request, job)
    facts = facts_of(shop_of(request).store, one.state, event, of, piece)
    answer = where_from(figure, facts)
    asked = [f"{key}={value}" for key, value in (("event", event), ("of", of), ("piece", piece)) if value]
    template = "_whence.html" if request.headers.get("hx-request") else "whence.html"
    return job_page(
        request, template, one, answer=answer, facts=facts, of=of, piece=piece, query="&".join(asked)
    )
