"""The name at the bench: who tells what this device tells."""

from __future__ import annotations

from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Form
from fastapi.responses import RedirectResponse, Response

router = APIRouter(include_in_schema=False)

A_YEAR = 31_536_000


@router.post("/at-the-bench")
def name_at_the_bench(name: Annotated[str, Form()] = "", back: Annotated[str, Form()] = "/") -> Response:
    """Keep the name on this device; an empty one is forgotten."""
    answer = RedirectResponse(here_only(back), 303)
    keep_name(answer, name)
    return answer


def keep_name(answer: Response, name: str) -> None:
    """Keep a name on the device that gets the answer."""
    kept = quote(" ".join(name.split())[:200], safe="")
    if kept:
        answer.set_cookie("who", kept, max_age=A_YEAR, samesite="lax", httponly=True)
    else:
        answer.delete_cookie("who", samesite="lax", httponly=True)


def here_only(path: str) -> str:
    """A path of this shop to go on to; "/" for anything that would lead elsewhere."""
    leads_away = not path.startswith("/") or path[1:2] in ("/", "\\") or any(ord(c) < 33 for c in path)
    return "/" if leads_away else path
