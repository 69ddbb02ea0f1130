"""Entering straightness readings as on the measuring sheet, or by a file; saving them asks for a check at once."""

from __future__ import annotations

import uuid
from collections.abc import AsyncIterator
from dataclasses import dataclass, replace
from typing import Annotated, Any, Literal

from fastapi import APIRouter, Depends, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse
from markupsafe import Markup
from starlette.datastructures import FormData, UploadFile

from axlewright.errors import AxlewrightError, Fault, ReadingsError
from axlewright.record.events import Event
from axlewright.record.state import State
from axlewright.tasks import demo_readings
from axlewright.tasks.measuring import (
    TYPED,
    Judged,
    Sheet,
    demo_of,
    is_toml,
    judged,
    sheet_of,
    typed_text,
    uploaded_text,
    with_faults,
    write_readings,
)
from axlewright.tasks.measuring_form import PlaceRow, blank_groups, filled_form, kinds
from axlewright.tasks.measuring_outline import housing_outline
from axlewright.tasks.standing import stands
from axlewright.web.open_shop import OpenShop, shop_of
from axlewright.web.straight.documents import JobNow, job_now
from axlewright.web.straight.reading_pictures import picture_of
from axlewright.web.straight.reading_rows import group_views, new_row, row_view, typed_rows
from axlewright.web.straight.showing import straight_page
from axlewright.web.telling import telling

router = APIRouter(include_in_schema=False)

Which = Literal["before", "after"]
_MOST_FIELDS = 60_000
INVENTED = "invented for the demo"


async def _form(request: Request) -> AsyncIterator[FormData]:
    """What a form sent; a set of readings has many fields."""
    async with request.form(max_fields=_MOST_FIELDS, max_files=4) as sent:
        yield sent


Sent = Annotated[FormData, Depends(_form)]


@dataclass(frozen=True)
class Filled:
    """What the page is filled with.

    Args:
        name: of the set.
        rows: its lines.
        text: a text to go on from instead, where lines cannot hold all it says.
        source: what the text is called.
        verdict: what of it can be used, once it was told.
        saved: the event it was written into, once it was.
        invented: whether the readings are invented ones.
        amends: whether it puts right what was typed for the last set.
        reason: why what was signed is changed.
    """

    name: str = ""
    rows: tuple[PlaceRow, ...] = ()
    text: str = ""
    source: str = TYPED
    verdict: Judged | None = None
    saved: Event | None = None
    invented: bool = False
    amends: bool = False
    reason: str = ""


@router.get("/jobs/{job}/readings/{which}")
def readings(request: Request, job: str, which: Which, demo: bool = False) -> HTMLResponse:
    """The form, with the last readings to go on from."""
    shop = shop_of(request)
    now = job_now(shop.store, job)
    if demo and (name := demo_of(now.job)):
        sheet = sheet_of(demo_readings(name, which), TYPED)
        return _page(request, now, which, Filled(f"{sheet.name}, {INVENTED}", sheet.rows, invented=True))
    return _page(request, now, which, _last(shop, now.stands, which))


@router.get("/jobs/{job}/readings/{which}/row")
def row(request: Request, job: str, which: Which, add: str = "") -> HTMLResponse:
    """Another empty line for a group."""
    now = job_now(shop_of(request).store, job)
    group = next((one for one in blank_groups(now.job, which) if one.name == add), None)
    if group is None:
        fault = Fault("reading", repr(add[:40]), "is no way to measure", "Choose one from the form.")
        raise ReadingsError(fault)
    view = row_view(new_row(group), uuid.uuid4().hex, now.job.inch)
    return straight_page(request, "readings_row.html", now, view=view, kinds=tuple(kinds()))


@router.post("/jobs/{job}/readings/{which}")
def tell(request: Request, job: str, which: Which, sent: Sent) -> Response:
    """Write down what was typed into the form."""
    now = job_now(shop_of(request).store, job)
    rows = typed_rows((name, value) for name, value in sent.multi_items() if isinstance(value, str))
    filled = Filled(
        _words(sent, "name"), rows, amends=bool(_words(sent, "amends")), reason=_words(sent, "reason")
    )
    if add := _words(sent, "add"):
        # Without scripts the button for another line sends the whole form.
        group = next((one for one in blank_groups(now.job, which) if one.name == add), None)
        more = () if group is None else (new_row(group),)
        return _page(request, now, which, replace(filled, rows=(*rows, *more)))
    text, lines = typed_text(filled.name, rows)
    verdict = judged(text, TYPED, now.job)
    faulty = iter(with_faults(lines, verdict))
    back = tuple(next(faulty) if one.filled else one for one in rows)
    return _written(request, now, which, replace(filled, rows=back, verdict=verdict), text, sent)


@router.post("/jobs/{job}/readings/{which}/file")
def tell_file(request: Request, job: str, which: Which, sent: Sent) -> Response:
    """Write down an uploaded file or a pasted table."""
    now = job_now(shop_of(request).store, job)
    file = sent.get("file")
    source, text = TYPED, _raw(sent, "text")
    filled = Filled(text=text, amends=bool(_words(sent, "amends")), reason=_words(sent, "reason"))
    try:
        if isinstance(file, UploadFile) and file.filename:
            source = file.filename[:200]
            text = uploaded_text(file.file.read(1_000_001), source)
        verdict = judged(text, source, now.job)
    except ReadingsError as error:
        return _page(request, now, which, replace(filled, verdict=Judged(None, error.faults)), 422)
    sheet = _sheet(text, source)
    rows = with_faults(sheet.rows, verdict)
    whole = Filled(sheet.name, rows, "" if sheet.whole else text, source, verdict, None, False)
    return _written(
        request, now, which, replace(whole, amends=filled.amends, reason=filled.reason), text, sent
    )


def _written(
    request: Request, now: JobNow, which: Which, filled: Filled, text: str, sent: FormData
) -> Response:
    """Written down where anything can be used: on to the check, or back to the form where lines are left out."""
    verdict = filled.verdict
    if verdict is None or verdict.readings is None:
        return _page(request, now, which, filled, 422)
    shop = shop_of(request)
    tells = telling(request, _words(sent, "key"), filled.reason, _words(sent, "who"))
    last = now.stands.latest.get(f"readings {which}")
    if filled.amends and last is not None:
        tells = replace(tells, amends=last.number)
    toml = is_toml(text, filled.source)
    event = write_readings(shop.store, now.id, which, text, verdict, tells, toml=toml)
    _ask_for_check(request, shop, now.id, filled.reason)
    if not verdict.faults:
        return RedirectResponse(f"/jobs/{now.id}/check", 303)
    later = replace(now, stands=stands(shop.store, now.id))
    return _page(request, later, which, replace(filled, saved=event, amends=True, reason=""))


def _ask_for_check(request: Request, shop: OpenShop, job: str, reason: str) -> None:
    """Have what was read judged; where that cannot begin now, the page of the check offers it."""
    try:
        shop.work.ask(job, "check", {}, telling(request, reason=reason))
    except AxlewrightError:
        return


def _last(shop: OpenShop, stands: State, which: str) -> Filled:
    """The last readings of a set."""
    event = stands.latest.get(f"readings {which}")
    if event is None or not event.documents:
        return Filled()
    line = event.documents[0]
    text = shop.store.document(line).data.decode("utf-8", "replace")
    sheet = _sheet(text, line.name)
    return Filled(sheet.name, sheet.rows, "" if sheet.whole else text, line.name)


def _sheet(text: str, source: str) -> Sheet:
    """Lines of a text; where it is no table the text itself is gone on from."""
    try:
        return sheet_of(text, source)
    except ReadingsError:
        return Sheet("", (), whole=False)


def _page(request: Request, now: JobNow, which: Which, filled: Filled, status: int = 200) -> HTMLResponse:
    groups = group_views(filled_form(blank_groups(now.job, which), filled.rows), now.job.inch)
    outline = housing_outline(now.job)
    pictures = {
        view.group.name: Markup(
            picture_of(
                view.group.name, outline, {one.token: one.at for one in view.rows if one.at is not None}
            )
        )
        for view in groups
    }
    told: dict[str, Any] = {
        "which": which,
        "filled": filled,
        "groups": [view for view in groups if view.rows],
        "others": [view for view in groups if not view.rows],
        "pictures": pictures,
        "kinds": tuple(kinds()),
        "demo": demo_of(now.job),
        "last": now.stands.latest.get(f"readings {which}"),
        "signed": now.signed(f"readings {which}"),
        "unit": "inches" if now.job.inch else "millimetres",
        "INVENTED": INVENTED,
    }
    return straight_page(request, "readings.html", now, status, **told)


def _words(sent: FormData, name: str) -> str:
    """A field of a form as one line of words."""
    return " ".join(_raw(sent, name).split())


def _raw(sent: FormData, name: str) -> str:
    value = sent.get(name, "")
    return value if isinstance(value, str) else ""
