"""Pages fetched when they are asked for."""

from __future__ import annotations

import subprocess
import sys

from fastapi import FastAPI
from fastapi.testclient import TestClient
from web.shop_made import MadeUp

from axlewright.web.app import LATER, all_routes

HEAVY = (
    "alembic",
    "matplotlib",
    "typst",
    "PIL",
    "scipy.sparse",
    "axlewright.plan",
    "axlewright.web.pages.plan",
)


def test_nothing_heavy_is_fetched_before_the_first_page() -> None:
    """The server starts without what only plans, drawings and pictures need."""
    code = f"import sys, axlewright.web.serve; print([name for name in {HEAVY} if name in sys.modules])"
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert told.stdout.strip() == "[]"


def test_the_first_page_fetches_no_others(app: FastAPI, client: TestClient, job: MadeUp) -> None:
    """The list of jobs and the shell's files need none of the other pages; a job's page brings them all."""
    for path in ("/", "/static/shop.css", "/offline", "/service-worker.js"):
        assert client.get(path).status_code == 200
    assert not app.state.later.here
    assert client.get(f"/jobs/{job.job}").status_code == 200
    assert app.state.later.here


def test_new_is_no_job(client: TestClient) -> None:
    """The job's own page does not answer for the pages beside it."""
    assert client.get("/jobs/new").status_code in (200, 303, 307)


def test_all_routes_can_be_listed(app: FastAPI) -> None:
    """Whoever looks at every route is given those of the pages fetched later too, once each."""
    paths = [(route.path, *sorted(route.methods)) for route in all_routes(app)]
    assert ("/jobs/{job}/plan", "GET") in paths
    assert ("/", "GET") in paths
    assert len(paths) == len(set(paths))
    assert len(LATER) == len(set(LATER))
