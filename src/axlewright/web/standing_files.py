"""Files that stand still: style, scripts, icons; and the two a browser asks for when the shop is installed."""

from __future__ import annotations

import hashlib
import mimetypes
import os

from fastapi import APIRouter, Request, Response
from fastapi.responses import HTMLResponse
from fastapi.staticfiles import StaticFiles
from starlette.types import Scope

from axlewright.web.rendering import STATIC, asset, page
from axlewright.web.weld_sheet.modules import MODULES

mimetypes.add_type("application/manifest+json", ".webmanifest")
mimetypes.add_type("text/javascript", ".js")

FOR_GOOD = "public, max-age=31536000, immutable"
ASK_FIRST = "no-cache"

router = APIRouter(include_in_schema=False)


class StandingFiles(StaticFiles):
    """Files that stand still: kept for good where their address carries the mark of their content."""

    def file_response(
        self,
        full_path: str | os.PathLike[str],
        stat_result: os.stat_result,
        scope: Scope,
        status_code: int = 200,
    ) -> Response:
        """A file, and how long it may be kept."""
        answer = super().file_response(full_path, stat_result, scope, status_code)
        marked = scope.get("query_string", b"").startswith(b"v=")
        answer.headers["cache-control"] = FOR_GOOD if marked else ASK_FIRST
        return answer


@router.get("/offline")
def offline(request: Request) -> HTMLResponse:
    """What is shown while the shop's computer cannot be reached."""
    return page(request, "offline.html")


@router.get("/service-worker.js")
def service_worker() -> Response:
    """Keeps the shell; its mark changes with the shell's files, so that browsers fetch them anew."""
    shell = ("shop.css", "shop.js", "vendor/htmx.min.js", "icons/axle.svg", "weld.css")
    weld = (f"weld/{name}" for name in MODULES)
    mark = hashlib.sha256(" ".join(asset(path) for path in (*shell, *weld)).encode()).hexdigest()[:12]
    text = (STATIC / "service-worker.js").read_text(encoding="utf-8")
    return Response(f'const MARK = "{mark}";\n{text}', media_type="text/javascript")
