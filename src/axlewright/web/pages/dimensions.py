"""Dimensions: did I measure the right thing? A job described by form, each dimension beside its drawing."""

from __future__ import annotations

from collections.abc import AsyncIterator
from dataclasses import dataclass, field, replace
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Form, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse
from markupsafe import Markup
from starlette.datastructures import FormData, UploadFile

from axlewright import tasks
from axlewright.errors import AxlewrightError, Fault, JobFileError, SignedOffError
from axlewright.tasks.keeping import change_job_file, start_job
from axlewright.tasks.texts import JOB_FILE, job_text
from axlewright.web import form
from axlewright.web.one_job import OneJob, job_page, one_job
from axlewright.web.open_shop import shop_of
from axlewright.web.rendering import page
from axlewright.web.telling import telling

router = APIRouter(include_in_schema=False)

NEW = "new"
"""Stands for the job in addresses as long as there is none."""

_MOST_FIELDS = 20_000
_LONGEST_FILE = 1_000_001


async def _form(request: Request) -> AsyncIterator[FormData]:
    """What a form sent, its files closed once it is answered; a job has many fields."""
    async with request.form(max_fields=_MOST_FIELDS, max_files=2) as sent:
        yield sent


Sent = Annotated[FormData, Depends(_form)]


@dataclass(frozen=True)
class Filled:
    """What the page is filled with.

    Args:
        typed: everything typed.
        messages: those to be shown.
        last: what the drawings were last made from.
        touched: fields that were typed into, as the browser counts them; "*" for all.
        focus: the field to go on in.
        summary: whether the messages are also told at the top.
        faults: what else keeps it from being saved.
        ask_reason: whether it must be said why signed dimensions are changed, and what was said so far.
        comments_go: whether the comments of the job file are lost by saving.
    """

    typed: form.Typed
    messages: form.Messages
    last: str = ""
    touched: str = ""
    focus: str = ""
    summary: bool = False
    faults: tuple[Fault, ...] = ()
    ask_reason: tuple[str, ...] | None = None
    comments_go: bool = False
    raw: dict[str, str] = field(default_factory=dict)


@router.get("/jobs/new")
def new_job(request: Request) -> HTMLResponse:
    """How to begin: by form, with a file, or with a demo job."""
    return _ways_to_begin(request)


@router.get("/jobs/new/dimensions")
def empty_form(request: Request) -> HTMLResponse:
    """An empty form."""
    return _page(request, None, Filled(form.blank(), form.Messages()))


@router.post("/jobs/new/dimensions")
def tell_new(request: Request, sent: Sent) -> Response:
    """Begin a job from what was typed, or go on with the form."""
    return _told(request, None, _texts(sent))


@router.post("/jobs/new/dimensions/drawing")
def draw_new(request: Request, sent: Sent) -> HTMLResponse:
    """The drawings anew, while it is typed."""
    return _redrawn(request, _texts(sent))


@router.post("/jobs/upload")
def begin_with_file(request: Request, sent: Sent) -> Response:
    """Begin a job with a job file."""
    texts = _texts(sent)
    try:
        text, source = _file(sent)
        begun = start_job(shop_of(request).store, text, source, telling(request, texts.get("key", "")))
    except AxlewrightError as error:
        return _ways_to_begin(request, error.faults, 422)
    return RedirectResponse(f"/jobs/{begun.job}", 303)


@router.post("/jobs/demo")
def begin_with_demo(
    request: Request, name: Annotated[str, Form()] = "rescue-truck", key: Annotated[str, Form()] = ""
) -> Response:
    """Begin a job with a demo job, to look around."""
    text = tasks.demo_text(name)
    begun = start_job(shop_of(request).store, text, f"{name}.toml", telling(request, key))
    return RedirectResponse(f"/jobs/{begun.job}", 303)


@router.get("/jobs/{job}/dimensions")
def dimensions(request: Request, job: str) -> HTMLResponse:
    """The form with the job's dimensions."""
    one = one_job(request, job)
    tree = tasks.tables_of(job_text(shop_of(request).store, one.state))
    return _page(request, one, Filled(form.typed_of(tree), form.Messages()))


@router.post("/jobs/{job}/dimensions")
def tell(request: Request, job: str, sent: Sent) -> Response:
    """Write down changed dimensions, or go on with the form."""
    return _told(request, one_job(request, job), _texts(sent))


@router.post("/jobs/{job}/dimensions/drawing")
def draw(request: Request, job: str, sent: Sent) -> HTMLResponse:
    """The drawings anew, while it is typed."""
    return _redrawn(request, _texts(sent))


@router.get("/jobs/{job}/job.toml")
def job_file(request: Request, job: str) -> Response:
    """The job file as it is kept."""
    one = one_job(request, job)
    headers = {"content-disposition": f'attachment; filename="{JOB_FILE}"'}
    text = job_text(shop_of(request).store, one.state)
    return Response(text, media_type="application/toml; charset=utf-8", headers=headers)


@router.post("/jobs/{job}/job.toml")
def replace_file(request: Request, job: str, sent: Sent) -> Response:
    """Put another job file in place of the job's."""
    one, texts, store = one_job(request, job), _texts(sent), shop_of(request).store
    try:
        text, source = _file(sent)
        tells = telling(request, texts.get("key", ""), texts.get("reason", ""))
        change_job_file(store, job, text, source, tells)
    except AxlewrightError as error:
        typed = form.typed_of(tasks.tables_of(job_text(store, one.state)))
        # A browser does not send a chosen file once more: it has to be chosen again, with the reason beside it.
        signed = error.faults if isinstance(error, SignedOffError) else None
        filled = Filled(typed, form.Messages(), faults=() if signed else error.faults, raw=texts)
        return _page(request, one, filled, 409 if signed else 422, file_signed=signed)
    return RedirectResponse(f"/jobs/{job}", 303)


def _told(request: Request, one: OneJob | None, texts: dict[str, str]) -> Response:
    """What the form's buttons ask for: rows added or taken away, units switched, or everything saved."""
    do = texts.get("do", "save")
    typed = _typed(texts)
    if do != "save":
        typed, focus = form.changed_rows(typed, do)
        shown = form.messages_for(typed).only(texts.get("touched", "").split())
        # Entries were counted anew, and what was last drawn goes by their numbers.
        last = texts.get("last", "") if do == "show" and not _switches(texts) else ""
        return _page(request, one, _filled(texts, typed, shown, last=last, focus=focus))
    messages = form.messages_for(typed)
    if messages.lines:
        last = "" if _switches(texts) else texts.get("last", "")
        told = _filled(texts, typed, messages, last=last, touched="*", summary=True)
        return _page(request, one, told, 422)
    return _saved(request, one, texts, typed)


def _saved(request: Request, one: OneJob | None, texts: dict[str, str], typed: form.Typed) -> Response:
    tree, store = form.tree_of(typed), shop_of(request).store
    tells = telling(request, texts.get("key", ""), texts.get("reason", ""))
    filled = _filled(texts, typed, form.Messages())
    try:
        if one is None:
            job = start_job(store, tasks.written_anew(tree), JOB_FILE, tells).job
            return _gone_on(job, texts)
        before = job_text(store, one.state)
        text, kept = tasks.written_over(before, tree, form.as_typed)
        if not kept and not texts.get("comments_go"):
            return _page(request, one, replace(filled, comments_go=True), 409)
        if text != before:
            change_job_file(store, one.job, text, JOB_FILE, tells)
        return _gone_on(one.job, texts)
    except SignedOffError as error:
        asked = tuple(fault.allowed for fault in error.faults)
        return _page(request, one, replace(filled, ask_reason=asked), 409)
    except AxlewrightError as error:
        return _page(request, one, replace(filled, faults=error.faults, summary=True), 422)


def _gone_on(job: str, texts: dict[str, str]) -> RedirectResponse:
    """To the job; the browser is told which draft it need not keep any more."""
    answer = RedirectResponse(f"/jobs/{job}", 303)
    key = texts.get("draft", "")
    if key.isalnum() and key.isascii() and len(key) <= 64:
        answer.set_cookie("saved-draft", key, max_age=86_400, samesite="strict")
    return answer


def _redrawn(request: Request, texts: dict[str, str]) -> HTMLResponse:
    typed = _typed(texts)
    asked = texts.get("section", "")
    pictures, last = form.redrawn(typed, texts.get("last", ""), frozenset({asked}) if asked else None)
    touched = texts.get("touched", "").split()
    # While the first field is typed into nothing is said yet, so nothing need be checked.
    messages = form.messages_for(typed) if touched or not asked else form.Messages()
    anchors = form.anchors_shown(typed, touched)
    return page(
        request,
        "_dimensions_redrawn.html",
        pictures={key: Markup(picture) for key, picture in pictures.items()},
        last=last,
        said={anchor: messages.at(anchor) for anchor in anchors},
        standing=None if asked else messages,
    )


def _page(
    request: Request, one: OneJob | None, filled: Filled, status: int = 200, file_signed: Any = None
) -> HTMLResponse:
    sheet = form.dimension_sheet(filled.typed, filled.messages, filled.last)
    told: dict[str, Any] = {
        "filled": filled,
        "typed": filled.typed,
        "sheet": sheet,
        "standing": form.messages_for(filled.typed) if filled.touched or filled.raw else None,
        "address": f"/jobs/{NEW if one is None else one.job}/dimensions",
        "file_signed": file_signed,
        "drawn": Markup,
        "draft": filled.raw.get("draft", ""),
    }
    if one is None:
        return page(request, "dimensions.html", status, one=None, job=NEW, name="New job", state=None, **told)
    return job_page(request, "dimensions.html", one, status, **told)


def _filled(texts: dict[str, str], typed: form.Typed, messages: form.Messages, **more: Any) -> Filled:
    told = {
        "last": "",
        "touched": texts.get("touched", ""),
        "comments_go": bool(texts.get("comments_go")),
        **more,
    }
    return Filled(typed, messages, raw=texts, **told)


def _typed(texts: dict[str, str]) -> form.Typed:
    """What was typed, in the system that is wanted now."""
    wanted = texts.get("units", "mm") == "inch"
    typed = form.cleaned({**texts, "units": texts.get("units_typed", texts.get("units", "mm"))})
    return form.switched(typed, wanted)


def _switches(texts: dict[str, str]) -> bool:
    return texts.get("units_typed", "") != texts.get("units", "")


def _texts(sent: FormData) -> dict[str, str]:
    """The texts a form sent."""
    return {name: value for name, value in sent.multi_items() if isinstance(value, str)}


def _file(sent: FormData) -> tuple[str, str]:
    """Text and name of the file that was sent.

    Raises:
        JobFileError: there is none, it is too large, or not UTF-8.
    """
    file = sent.get("file")
    if not isinstance(file, UploadFile) or not file.filename:
        raise JobFileError(
            Fault("file", "missing", "a job file is needed", "Choose a file that ends in .toml.")
        )
    source = "".join(mark if mark.isprintable() else "?" for mark in file.filename)[:200]
    return tasks.uploaded_job_text(file.file.read(_LONGEST_FILE), source), source


def _ways_to_begin(request: Request, faults: tuple[Fault, ...] = (), status: int = 200) -> HTMLResponse:
    demos = tuple(tasks.demo_titles().items())
    return page(request, "dimensions_new.html", status, demos=demos, faults=faults)
