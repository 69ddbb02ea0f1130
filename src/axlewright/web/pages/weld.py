"""The weld page: the next bead in large type, the count-down, the arc, and what is told with gloves on."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from axlewright.record.events import Event
from axlewright.tasks.whence.facts import DOCUMENTS, facts_of
from axlewright.web.one_job import OneJob, job_page, one_job
from axlewright.web.open_shop import shop_of
from axlewright.web.rendering import page
from axlewright.web.weld_sheet.modules import MODULES
from axlewright.web.weld_sheet.view import WeldView, held, laid, weld_view

router = APIRouter(include_in_schema=False)


@router.get("/jobs/{job}/weld")
def show_weld(request: Request, job: str) -> HTMLResponse:
    """What to do in the next ten seconds."""
    one = one_job(request, job)
    view = _view(request, one)
    if view is None:
        return job_page(request, "weld_none.html", one)
    stops = held(one.state)
    return job_page(request, "weld.html", one, view=view, held=stops, laid=laid(one.state), modules=MODULES)


@router.get("/weld-shell")
def shell(request: Request) -> HTMLResponse:
    """The page without a job: what a device shows while the shop's computer is away, filled with what it kept."""
    told: dict[str, Any] = {
        "who": "",
        "job": "",
        "name": "Weld",
        "view": None,
        "held": None,
        "laid": (),
        "modules": MODULES,
    }
    return page(request, "weld.html", **told)


def _view(request: Request, one: OneJob) -> WeldView | None:
    """What is shown of the latest plan; None where there is none that has beads."""
    event: Event | None = one.state.latest.get("plan")
    if event is None or event.document(DOCUMENTS["plan"]) is None:
        return None
    plan = facts_of(shop_of(request).store, one.state, event.number).result("plan")
    return weld_view(plan, event.number) if plan.get("beads") else None
