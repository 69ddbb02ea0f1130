"""What do I do about it? The decision, the ways side by side with what to expect, and how to ask again."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from axlewright.tasks.measuring_outline import housing_outline
from axlewright.web.open_shop import shop_of
from axlewright.web.straight.correction_views import way_views
from axlewright.web.straight.documents import CHECK, CORRECTION, changed_since, job_now, result
from axlewright.web.straight.showing import straight_page

router = APIRouter(include_in_schema=False)

WAYS = ("counter-beads", "heat lines", "press")
STOP = "Stop. Let it cool. Measure. Plan again."
_MOST_EARLIER = 10


@router.get("/jobs/{job}/correct")
def correct(request: Request, job: str) -> HTMLResponse:
    """What to do about the shape last measured."""
    shop = shop_of(request)
    now = job_now(shop.store, job)
    checked, made = now.stands.latest.get("check"), now.stands.latest.get("correction")
    report = result(shop.store, made, CORRECTION)
    verdict = result(shop.store, checked, CHECK)
    work = next((one for one in shop.work.of_job(job) if one.kind == "correct"), None)
    corrections = now.stands.of_kind("correction")
    told: dict[str, Any] = {
        "made": made,
        "report": report,
        "checked": checked,
        "verdict": None if verdict is None else verdict["verdict"],
        "check_changed": changed_since(now.stands, checked) if checked is not None else (),
        "work": work,
        "changed": changed_since(now.stands, made) if made is not None and report is not None else (),
        "earlier": [one for one in reversed(corrections) if one is not made][:_MOST_EARLIER],
        "all_ways": WAYS,
        "asked": _asked(report),
        "STOP": STOP,
    }
    if report is not None and made is not None:
        told["ways"] = way_views(report, housing_outline(now.job))
        told["sheets"] = [one for one in made.documents if one.name.startswith("correction-sheet-")]
    return straight_page(request, "correct.html", now, **told)


def _asked(report: Any) -> dict[str, Any]:
    """What the form to ask again is filled with: the ways last asked for, at first all of them."""
    if report is None:
        return {"ways": WAYS}
    ways = [plan["way"] for plan in report["lines"]] + (["press"] if report["press"] is not None else [])
    return {"ways": ways or WAYS}
