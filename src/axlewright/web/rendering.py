"""Pages from templates."""

from __future__ import annotations

from pathlib import Path
from typing import Any
from urllib.parse import unquote

from fastapi import Request
from fastapi.responses import HTMLResponse
from jinja2 import Environment, FileSystemLoader, StrictUndefined, select_autoescape

from axlewright.tasks.keeping import new_key

HERE = Path(__file__).parent

environment = Environment(
    loader=FileSystemLoader(HERE / "templates"),
    autoescape=select_autoescape(),
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
)
environment.globals["new_key"] = new_key


def who_is_there(request: Request) -> str:
    """The name given on this device, or ""."""
    return unquote(request.cookies.get("who", ""))[:200]


def page(request: Request, template: str, status: int = 200, **context: Any) -> HTMLResponse:
    """A page, or the part of one that is asked for, from a template."""
    told = {"request": request, "who": who_is_there(request), **context}
    return HTMLResponse(environment.get_template(template).render(told), status_code=status)
