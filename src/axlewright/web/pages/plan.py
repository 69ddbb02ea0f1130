"""The plan: is it a good one, and how sure is it? Worked out from the record alone."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse

from axlewright.errors import Fault, NotInRecordError
from axlewright.record.events import Event
from axlewright.record.state import Signed, State
from axlewright.tasks.whence.facts import event_of, facts_of
from axlewright.web.one_job import OneJob, job_page, one_job
from axlewright.web.open_shop import shop_of
from axlewright.web.plan_sheet.view import plan_view
from axlewright.web.sheet_words import sheets_of
from axlewright.web.trade_picture import AXES, said, trade_picture
from axlewright.web.work.asking import Progress

router = APIRouter(include_in_schema=False)


@router.get("/jobs/{job}/plan")
def show_plan(
    request: Request,
    job: str,
    event: Annotated[int | None, Query(ge=1, le=1_000_000)] = None,
    across: str = "bench",
    up: str = "distortion",
    look: Annotated[int | None, Query(ge=1, le=1000)] = None,
) -> HTMLResponse:
    """The latest plan of a job, or that of an older event."""
    one = one_job(request, job)
    told: dict[str, Any] = {"working": _work(request, job), "signed": signed_plan(one.state)}
    shown = _shown(one, event)
    if shown is None:
        return job_page(request, "plan_none.html", one, **told)
    view = plan_view(facts_of(shop_of(request).store, one.state, shown.number))
    across, up = _axes(across, up)
    trade = view.trade
    picture = None if trade is None else trade_picture(trade, across, up, view.inch)
    return job_page(
        request,
        "plan.html",
        one,
        **told,
        event=shown,
        latest=one.state.latest.get("plan"),
        plans=one.state.of_kind("plan"),
        current=one.state.current(shown),
        view=view,
        picture=picture,
        axes=AXES,
        across=across,
        up=up,
        look=_looked_at(trade, look),
        said=said,
        sheets=sheets_of(shown),
        view_url=f"/jobs/{job}/plans/{shown.number}/view.bin",
        inch=view.inch,
    )


def signed_plan(state: State) -> Signed | None:
    """The hold point that covers the plan, as signed; None where it is not."""
    for stage in state.stages:
        if stage.signed is not None and "plan" in stage.signed.event.body["covers"]:
            return stage.signed
    return None


def _shown(one: OneJob, number: int | None) -> Event | None:
    """The plan asked for, or the latest one; None where there is none yet."""
    if number is None:
        return one.state.latest.get("plan")
    found = event_of(one.state, number)
    if found.kind != "plan":
        allowed = "is not in the record as a plan"
        raise NotInRecordError(Fault("event", str(number), allowed, "Choose one from the plans of this job."))
    return found


def _work(request: Request, job: str) -> list[Progress]:
    """Planning of this job that is under way, or the last one if it failed."""
    pieces = [one for one in shop_of(request).work.of_job(job) if one.kind in ("plan", "choose")]
    running = [one for one in pieces if one.running]
    failed = [one for one in pieces[:1] if one.status == "failed"]
    return running or failed


def _axes(across: str, up: str) -> tuple[str, str]:
    """Two counts that differ; what is not known gives way to bench time and distortion."""
    across = across if across in AXES else "bench"
    up = up if up in AXES else "distortion"
    if across == up:
        up = next(key for key in ("distortion", "bench") if key != across)
    return across, up


def _looked_at(trade: Any, look: int | None) -> int | None:
    """The plan to be chosen next: the one looked at, else the one shown."""
    if trade is None:
        return None
    numbers = {point["number"] for point in trade["points"]}
    return look if look in numbers else trade["chosen"]
