"""A stage of a job: what is done in it, its hold point to sign, and saying that it is done."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from starlette.concurrency import run_in_threadpool

from axlewright.errors import AxlewrightError, Fault, NotInRecordError, RecordError, SignedOffError
from axlewright.record.state import StageState
from axlewright.tasks.keeping import say_stage, sign
from axlewright.web.errors_told import status_of
from axlewright.web.next_step import FOR_NEEDS, PAGES_OF_STAGES
from axlewright.web.one_job import OneJob, job_page, one_job
from axlewright.web.open_shop import shop_of
from axlewright.web.pages.people import keep_name
from axlewright.web.telling import telling

router = APIRouter(include_in_schema=False)

YES, NOT_YET = "yes", "not yet"


@router.get("/jobs/{job}/stages/{stage}")
def show_stage(request: Request, job: str, stage: str) -> HTMLResponse:
    """A stage."""
    one = one_job(request, job)
    return _shown(request, one, _stage(one, stage))


@router.post("/jobs/{job}/stages/{stage}/sign")
async def sign_hold_point(request: Request, job: str, stage: str) -> Response:
    """Sign the hold point of a stage, and say that the stage is done where that was asked for with it."""
    form = {name: str(value) for name, value in (await request.form()).items()}
    return await run_in_threadpool(_sign, request, job, stage, form)


@router.post("/jobs/{job}/stages/{stage}/done")
def stage_done(
    request: Request,
    job: str,
    stage: str,
    note: Annotated[str, Form()] = "",
    key: Annotated[str, Form()] = "",
    reason: Annotated[str, Form()] = "",
) -> Response:
    """Say that a stage is done."""
    return _say(request, job, stage, True, note, key, reason)


@router.post("/jobs/{job}/stages/{stage}/again")
def stage_again(
    request: Request,
    job: str,
    stage: str,
    note: Annotated[str, Form()] = "",
    key: Annotated[str, Form()] = "",
    reason: Annotated[str, Form()] = "",
) -> Response:
    """Take a stage up again."""
    return _say(request, job, stage, False, note, key, reason)


def _sign(request: Request, job: str, stage: str, form: dict[str, str]) -> Response:
    one = one_job(request, job)
    here = _stage(one, stage)
    point, store = here.hold_point, shop_of(request).store
    if point is None:
        raise NotInRecordError(
            Fault("hold point", "", "is not in the record", "This stage has none to sign.")
        )
    who, key, note = form.get("who", "").strip(), form.get("key", ""), form.get("note", "")
    try:
        if not who:
            raise RecordError(Fault("name", "", "a hold point is signed by a person", "Write your name."))
        answers = [form.get(f"line-{at}", "") for at in range(len(point.items))]
        if not all(answer in (YES, NOT_YET) for answer in answers):
            raise RecordError(Fault("lines", "", "every line needs an answer", "Say yes or not yet to each."))
        told = telling(request, key, form.get("reason", ""), who)
        sign(store, job, point.name, tuple(answer == YES for answer in answers), told, note)
        if form.get("done") == "yes" and all(answer == YES for answer in answers):
            say_stage(store, job, stage, True, telling(request, f"{key}-done" if key else "", who=who))
    except SignedOffError:
        raise
    except AxlewrightError as error:
        return _shown(request, one_job(request, job), here, error, form)
    answer = RedirectResponse(f"/jobs/{job}/stages/{stage}", 303)
    keep_name(answer, who)
    return answer


def _say(request: Request, job: str, stage: str, done: bool, note: str, key: str, reason: str) -> Response:
    one = one_job(request, job)
    _stage(one, stage)
    try:
        say_stage(shop_of(request).store, job, stage, done, telling(request, key, reason), note)
    except SignedOffError:
        raise
    except AxlewrightError as error:
        return _shown(request, one, _stage(one, stage), error, {"note": note})
    return RedirectResponse(f"/jobs/{job}" if done else f"/jobs/{job}/stages/{stage}", 303)


def _stage(one: OneJob, name: str) -> StageState:
    found = next((stage for stage in one.state.stages if stage.plan.name == name), None)
    if found is None:
        raise NotInRecordError(
            Fault("stage", repr(name[:40]), "is not in the record", "Choose one from the line.")
        )
    return found


def _shown(
    request: Request,
    one: OneJob,
    stage: StageState,
    error: AxlewrightError | None = None,
    form: dict[str, str] | None = None,
) -> HTMLResponse:
    told: dict[str, Any] = {
        "stage": stage,
        "needs": [(need, need in stage.missing, FOR_NEEDS.get(need.what)) for need in stage.plan.needs],
        "pages": PAGES_OF_STAGES.get(stage.plan.name, ()),
        "answers": _answers(stage, form or {}),
        "form": form or {},
        "faults": error.faults if error else (),
        "notes": _of_stage(one, "note", stage),
        "taken": _of_stage(one, "photograph", stage),
    }
    return job_page(request, "stage.html", one, status_of(error) if error else 200, **told)


def _answers(stage: StageState, form: dict[str, str]) -> list[str]:
    """What each line of the hold point is answered with to begin with: as sent, or as signed where nothing changed."""
    if stage.hold_point is None:
        return []
    sent = [form.get(f"line-{at}", "") for at in range(len(stage.hold_point.items))]
    if any(sent) or stage.signed is None or stage.signed.changes:
        return sent
    return [YES if item["found"] else "" for item in stage.signed.event.body["items"]]


def _of_stage(one: OneJob, kind: str, stage: StageState) -> list[Any]:
    return [event for event in one.state.of_kind(kind)[::-1] if event.body["stage"] == stage.plan.name]
