"""The application: pages, files that stand still, what every answer carries, and errors in plain words."""

from __future__ import annotations

from fastapi import FastAPI, Request, Response
from fastapi.responses import HTMLResponse
from fastapi.staticfiles import StaticFiles

from axlewright.errors import AxlewrightError
from axlewright.web.open_shop import OpenShop
from axlewright.web.pages import jobs
from axlewright.web.rendering import HERE, page

ONLY_FROM_HERE = "default-src 'self'; img-src 'self' data: blob:; frame-ancestors 'none'; base-uri 'none'"


def make_app(shop: OpenShop) -> FastAPI:
    """The application of an opened shop."""
    app = FastAPI(title="axlewright", docs_url=None, redoc_url=None, openapi_url="/api/openapi.json")
    app.state.shop = shop
    app.include_router(jobs.router)
    app.mount("/static", StaticFiles(directory=HERE / "static"), name="static")
    app.middleware("http")(_careful)
    app.exception_handler(AxlewrightError)(_in_plain_words)
    return app


async def _careful(request: Request, call_next):  # type: ignore[no-untyped-def]
    """Nothing from elsewhere, nothing inline."""
    answer: Response = await call_next(request)
    answer.headers["Content-Security-Policy"] = ONLY_FROM_HERE
    return answer


async def _in_plain_words(request: Request, error: Exception) -> HTMLResponse:
    assert isinstance(error, AxlewrightError)
    return page(request, "error.html", 422, faults=error.faults)
