"""Pages of straightness from templates, with the filters their figures are written by."""

from __future__ import annotations

from typing import Any

from fastapi import Request
from fastapi.responses import HTMLResponse

from axlewright.web.rendering import environment, page
from axlewright.web.straight import words
from axlewright.web.straight.documents import JobNow

environment.filters |= {
    "said": words.sentence,
    "amount": words.value,
    "band": words.band,
    "tape": words.length,
    "dial": words.amount_of_length,
    "oclock": words.clock,
    "force": words.force,
    "lasts": words.duration,
    "chance": words.chance,
}


def straight_page(
    request: Request, template: str, now: JobNow, status: int = 200, **told: Any
) -> HTMLResponse:
    """A page about the straightness of a job."""
    return page(request, template, status, now=now, **told)
