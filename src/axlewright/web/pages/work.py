"""Long work: begun, looked after, stopped. The pages that show its results include `_work.html`."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from axlewright.errors import Fault, NotInRecordError
from axlewright.web.open_shop import shop_of
from axlewright.web.rendering import page
from axlewright.web.telling import telling
from axlewright.web.work.asking import Progress, WorkKind

router = APIRouter(include_in_schema=False)

Words = Annotated[str, Form()]


@router.post("/jobs/{job}/long-work/{kind}")
def begin(
    request: Request,
    job: str,
    kind: WorkKind,
    number: Words = "",
    seconds: Words = "",
    cycle: Words = "",
    cracked: Words = "",
    ways: Annotated[list[str] | None, Form()] = None,
    key: Words = "",
    reason: Words = "",
) -> Response:
    """Begin a piece of work; a page that uses htmx gets how far it is, any other is led to the job's own page."""
    told = {"number": number, "seconds": seconds, "cycle": cycle, "cracked": cracked, "ways": ways}
    options = {name: value for name, value in told.items() if value}
    work = shop_of(request).work.ask(job, kind, options, telling(request, key, reason))
    return _shown(request, work) if _by_htmx(request) else _led_to_result(work)


@router.get("/long-work/{work}")
def how_far(request: Request, work: str, heard: int | None = None) -> Response:
    """How far a piece of work is.

    Args:
        request: by htmx it is for the part of a page, otherwise for a page of its own.
        work: its name.
        heard: how many stages the page has shown already, where it asks again.
    """
    found = _found(request, work)
    if not _by_htmx(request):
        return _led_to_result(found) if found.status == "done" else _shown(request, found, "work.html")
    if heard is None or not found.running:
        return _shown(request, found)
    return _shown(request, found, "_work_again.html", again=heard != found.stages)


@router.post("/long-work/{work}/stop")
def stop(request: Request, work: str, keep: Words = "") -> Response:
    """Stop a piece of work; a search may keep the best it has found."""
    shop_of(request).work.stop(work, keep == "yes")
    found = _found(request, work)
    return _shown(request, found) if _by_htmx(request) else _led_to_result(found)


def _found(request: Request, work: str) -> Progress:
    found = shop_of(request).work.progress(work)
    if found is None:
        remedy = "Look at the job: what was done is in its record."
        raise NotInRecordError(Fault("the work", "", "is not in the record of this day's work", remedy))
    return found


def _by_htmx(request: Request) -> bool:
    return "hx-request" in request.headers


def _shown(request: Request, work: Progress, template: str = "_work.html", **told: Any) -> HTMLResponse:
    """How far it is; once it has ended, a page that watched it is loaded anew and shows what came of it."""
    answer = page(request, template, work=work, **told)
    if _by_htmx(request) and not work.running:
        answer.headers["HX-Refresh"] = "true"
    return answer


def _led_to_result(work: Progress) -> RedirectResponse:
    return RedirectResponse(work.result, 303)
