"""The application: its pages, what guards them, and errors in plain words."""

from __future__ import annotations

from collections.abc import Iterable

from fastapi import FastAPI
from fastapi.routing import APIRoute
from starlette.middleware.gzip import DEFAULT_EXCLUDED_CONTENT_TYPES, GZipMiddleware

from axlewright.web import standing_files
from axlewright.web.api.mounted import ApiWhenAsked
from axlewright.web.door.door import Door
from axlewright.web.door.open_door import OpenDoor
from axlewright.web.errors_told import Breakdowns, tell_errors
from axlewright.web.guard import THIS_MACHINE, Guard
from axlewright.web.later import FetchesLater, Later
from axlewright.web.open_shop import OpenShop
from axlewright.web.pages import jobs, people
from axlewright.web.rendering import STATIC

FIRST = (jobs, people, standing_files)
"""What is there from the start: the list of jobs, the name at the bench, and files that stand still."""

LATER = (
    "devices",
    # Before the job's own page: "new" and "demo" are no jobs.
    "dimensions",
    "archives",
    "stages",
    "history",
    "photographs",
    "documents",
    "readings",
    "measuring_sheet",
    "plan",
    "weld",
    "whence",
    "check",
    "correct",
    "view",
    "bench",
    "work",
    # After all others: its /jobs/{job} would answer for /jobs/new and the like.
    "job",
)
"""Modules of `web.pages` that are fetched when the first of them is asked for: add yours here, not at the end."""

ALREADY_SMALL = (*DEFAULT_EXCLUDED_CONTENT_TYPES, "application/pdf")


def make_app(
    shop: OpenShop,
    hosts: Iterable[str] = THIS_MACHINE,
    beforehand: bool = False,
    door: OpenDoor | None = None,
) -> FastAPI:
    """The application of an opened shop.

    Args:
        shop: the record and the work bench.
        hosts: names it may be asked by, without port.
        beforehand: whether all pages are fetched once the first was answered, not only when one is asked for; where the
            process serves the shop and does nothing else.
        door: to the local network; left out, nobody but this machine may be let ask at all.
    """
    app = FastAPI(title="axlewright", docs_url=None, redoc_url=None, openapi_url=None)
    app.state.shop = shop
    app.state.door = door
    for module in FIRST:
        app.include_router(module.router)
    app.mount("/api", ApiWhenAsked(shop))
    app.mount("/static", standing_files.StandingFiles(directory=STATIC), name="static")
    app.state.later = Later(app, (f"axlewright.web.pages.{name}" for name in LATER))
    tell_errors(app)
    # The last added is asked first.
    app.add_middleware(FetchesLater, later=app.state.later, beforehand=beforehand)
    app.add_middleware(GZipMiddleware, minimum_size=800, compresslevel=6, exclude_content_types=ALREADY_SMALL)
    if door is not None:
        app.add_middleware(Door, door=door)
    app.add_middleware(Breakdowns, data=shop.data)
    names = frozenset(hosts) | (door.names if door else frozenset())
    app.add_middleware(Guard, hosts=names, own_address=door is not None)
    return app


def all_routes(app: FastAPI) -> list[APIRoute]:
    """Every route of the pages, those fetched later too; the API has its own list."""
    later: Later = app.state.later
    later.fetch()
    routers = [*(module.router for module in FIRST), *later.routers]
    return [route for router in routers for route in router.routes if isinstance(route, APIRoute)]
