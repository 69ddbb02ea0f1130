"""The application under /api: its routes, its errors and its description."""

from __future__ import annotations

from fastapi import FastAPI

from axlewright import __version__
from axlewright.web.api import archives, events, jobs, shop, telling, work
from axlewright.web.api.errors import tell_errors
from axlewright.web.api.schema import describe
from axlewright.web.open_shop import OpenShop

DESCRIPTION = """The record of a shop's jobs for other programs on the same machine.

Every refusal has one shape: a list of faults, each with where it is, what was found, what is allowed and what to do.
What changes the record carries a `key`; sent again with the same key it counts once and gets the same answer.
Lengths, temperatures and other figures in bodies are as the pages and files have them; each names its unit.
"""


def make_api(opened: OpenShop) -> FastAPI:
    """The application of an opened shop."""
    app = FastAPI(
        title="axlewright", version=__version__, description=DESCRIPTION, docs_url=None, redoc_url=None
    )
    app.state.shop = opened
    modules = (shop, jobs, events, telling, work, archives)
    for module in modules:
        app.include_router(module.router)
    app.state.described = [route for module in modules for route in module.router.routes]
    tell_errors(app)
    describe(app)
    return app
