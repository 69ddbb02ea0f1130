"""Who tells something, from a request."""

from __future__ import annotations

from dataclasses import replace

from fastapi import Request

from axlewright.tasks.telling import Telling
from axlewright.web.rendering import who_is_there


def telling(request: Request, key: str = "", reason: str = "", who: str = "") -> Telling:
    """Who tells what a form sends: the name in the form or the one given on this device, and the form's key."""
    named = (who or who_is_there(request)).strip() or "not named"
    told = Telling(named[:200], device=request.headers.get("user-agent", "")[:200], reason=reason)
    return replace(told, key=key) if key else told
