"""Is it straight? The verdict, both planes before and after, every figure with its band, and what to do next."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse
from markupsafe import Markup

from axlewright.errors import ReadingsError
from axlewright.record.events import Event
from axlewright.record.state import State
from axlewright.record.store import Store
from axlewright.tasks.measuring import sheet_of
from axlewright.tasks.measuring_outline import housing_outline
from axlewright.web.open_shop import shop_of
from axlewright.web.straight.axis_picture import axis_pictures, doubt_letters
from axlewright.web.straight.documents import CHECK, JobNow, changed_since, job_now, result
from axlewright.web.straight.figure_rows import figure_parts
from axlewright.web.straight.reading_rows import kind_words
from axlewright.web.straight.showing import straight_page

router = APIRouter(include_in_schema=False)

_ENDS = ("left", "right", "both together")


@router.get("/jobs/{job}/check")
def check(request: Request, job: str) -> HTMLResponse:
    """Whether the housing is straight, by the latest check."""
    shop = shop_of(request)
    now = job_now(shop.store, job)
    made = now.stands.latest.get("check")
    report = result(shop.store, made, CHECK)
    work = next((one for one in shop.work.of_job(job) if one.kind == "check"), None)
    told: dict[str, Any] = {
        "made": made,
        "report": report,
        "work": work,
        "readings": {which: now.stands.latest.get(f"readings {which}") for which in ("before", "after")},
        "changed": changed_since(now.stands, made) if made is not None and report is not None else (),
    }
    if report is not None and made is not None:
        told |= _figures(shop.store, now, made, report)
    return straight_page(request, "check.html", now, **told)


def _figures(store: Store, now: JobNow, made: Event, report: Mapping[str, Any]) -> dict[str, Any]:
    """What the page shows of a report."""
    pictures = axis_pictures(report, housing_outline(now.job))
    planes = [(one.title, Markup(one.wide), Markup(one.narrow)) for one in pictures.planes]
    latest = "after" if report["after"] else "before"
    return {
        "planes": planes,
        "factors": (pictures.wide, pictures.narrow),
        "parts": figure_parts(report),
        "latest": latest,
        "tyre": _tyre(report),
        "doubts": _doubts(store, now.stands, made, report),
        "sheets": [one for one in made.documents if one.name.startswith("measuring-sheet-")],
    }


def _tyre(report: Mapping[str, Any]) -> list[tuple[str, Mapping[str, Any]]]:
    """Toe at the tyre by side; empty without a diameter."""
    tyre = report["verdict"]["tyre"]
    return [] if tyre is None else list(zip(_ENDS, tyre, strict=True))


def _doubts(
    store: Store, stands: State, made: Event, report: Mapping[str, Any]
) -> list[tuple[str, list[dict[str, Any]]]]:
    """What is odd in each set: the letter of the picture, the reading in words, and what to do."""
    found = []
    for which in ("before", "after"):
        shape = report[which]
        if shape is None or not shape["doubts"]:
            continue
        letters, places = doubt_letters(shape), _places(store, stands, made.body["stands_on"].get(which))
        lines = [
            {**doubt, "letter": letters.get(doubt["line"], ""), "reading": places.get(doubt["line"], "")}
            for doubt in shape["doubts"]
        ]
        found.append((which, lines))
    return found


def _places(store: Store, stands: State, number: int | None) -> dict[int, str]:
    """What each line of a set of readings is, in words, by its number."""
    if number is None or not 0 < number <= len(stands.events) or not stands.events[number - 1].documents:
        return {}
    line = stands.events[number - 1].documents[0]
    try:
        rows = sheet_of(store.document(line).data.decode("utf-8", "replace"), line.name).rows
    except ReadingsError:
        return {}
    return {row.line: kind_words(row.cells) for row in rows}
