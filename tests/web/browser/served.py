"""A shop served for a browser: jobs made up, and one page more that shows every control."""

from __future__ import annotations

import threading
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import jinja2
import uvicorn
from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse
from web.plan.seeded import planned
from web.shop_made import lived_in, made_up
from web.straight import made

from axlewright.errors import Fault
from axlewright.record.opening import open_store
from axlewright.record.store import Store
from axlewright.tasks.standing import stands as state
from axlewright.web.app import make_app
from axlewright.web.door.listening import listening_at
from axlewright.web.door.open_door import OpenDoor, open_door
from axlewright.web.open_shop import OpenShop
from axlewright.web.rendering import environment
from axlewright.web.work.bench import WorkBench

HERE = Path(__file__).parent
CHROMIUM = Path("/usr/bin/chromium")
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
SIZES = {"phone": (360, 740), "tablet": (820, 1180), "desktop": (1366, 900)}


@dataclass(frozen=True)
class Served:
    """A shop that is served.

    Args:
        address: where.
        jobs: its jobs by what the addresses of pages call them.
        store: its record.
    """

    address: str
    jobs: Mapping[str, str]
    store: Store

    def url(self, path: str) -> str:
        """Address of a page, by its path with the jobs' names in it."""
        return self.address + path.format(**self.jobs)


@contextmanager
def served(data: Path, filled: bool = True) -> Iterator[Served]:
    """Serve a shop from a data folder, with jobs in it or none."""
    store = open_store(data)
    work = WorkBench(store, data)
    jobs = _fill(store) if filled else {}
    shop = OpenShop(store, work, data)
    app = make_app(shop, beforehand=True, door=_open_door(data) if filled else None)
    if filled:
        _show_controls(app, store, jobs["new"])
    with listening_at(0) as listening:
        server = uvicorn.Server(uvicorn.Config(app, ws="none", lifespan="off", log_level="warning"))
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
        thread.start()
        try:
            yield Served(f"http://localhost:{listening.getsockname()[1]}", jobs, store)
        finally:
            server.should_exit = True
            # Streams that are still open end by themselves once they see it.
            shop.companion.closing = True
            thread.join(10)
            shop.close()
            store.close()


def _open_door(data: Path) -> OpenDoor:
    """A door with one device paired and one wrong code sent."""
    door = open_door(data, ("http://192.168.1.5:8090", "http://bench.local:8090"))
    door.devices.pair("Ann's phone")
    door.codes.try_code("WRONG", "192.168.1.9")
    return door


def _fill(store: Store) -> dict[str, str]:
    """Jobs in several stages; enough that the list can be searched."""
    finished = made_up(store, "Light truck, bent left tube", "LT-12").up_to("hand-over")
    bent = made_up(store, "Trailer axle, new perches", "TA-3").up_to("weld")
    bent.readings("after")
    bent.check("outside")
    made_up(store, "Forest truck whose name is so long that a phone breaks it into lines", "FS-2031").up_to(
        "intake"
    )
    for number in (2, 3):
        made_up(store, f"Rescue truck no. {number}", f"RT-{number}").up_to("strip")
    new = made_up(store, "Farm truck front axle", "FT-8")
    job = lived_in(store)
    told = planned(store)
    made.check(told)
    made.correction(told)
    return {"job": job.job, "new": new.job, "bent": bent.job, "finished": finished.job, "told": told.job}


def _show_controls(app: FastAPI, store: Store, job: str) -> None:
    """A page with every control of `_controls.html`, whatever the real pages use of them."""
    templates = environment.overlay(
        loader=jinja2.ChoiceLoader([environment.loader, jinja2.FileSystemLoader(HERE)])  # type: ignore[list-item]
    )
    wrong = Fault(
        "wall", "80 mm", "must be thinner than half the tube (44.5 mm)", "Measure it again at a cut edge."
    )

    def controls(request: Request) -> HTMLResponse:
        told = {
            "request": request,
            "who": "Ann",
            "job": job,
            "state": state(store, job),
            "faults": [wrong, "Words."],
        }
        return HTMLResponse(templates.get_template("controls.html").render(told))

    def whence() -> HTMLResponse:
        head = environment.get_template("_controls.html").module.whence_head("Bow")  # type: ignore[attr-defined]
        return HTMLResponse(f"{head}<p>Worked out from the readings.</p>")

    app.add_api_route("/controls", controls, include_in_schema=False)
    app.add_api_route("/jobs/abc/whence/{name}", whence, include_in_schema=False)
    # The files that stand still answer for everything else: what is added later must be asked before.
    app.router.routes.insert(0, app.router.routes.pop())
    app.router.routes.insert(0, app.router.routes.pop())
