"""A shop served with a job that is ready for the arc and a companion made up for it."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import uvicorn
from web.plan.seeded import plan_of, planned
from web.shop_made import MadeUp
from web.weld.companion import BEADS, Companion, join

from axlewright.record.opening import open_store
from axlewright.web.app import make_app
from axlewright.web.open_shop import OpenShop
from axlewright.web.serve import listening_at
from axlewright.web.work.bench import WorkBench

READY = "ready for the arc"


@dataclass(frozen=True)
class Welding:
    """A weld that can be looked at in a browser.

    Args:
        url: address of its weld page.
        job: the job.
        companion: what answers its taps.
    """

    url: str
    job: MadeUp
    companion: Companion


@contextmanager
def welding(data: Path, name: str = "rescue-truck", signed: bool = True) -> Iterator[Welding]:
    """Serve a job of a plan's example, signed or not."""
    store = open_store(data)
    work = WorkBench(store, data)
    job = planned(store, name)
    if signed:
        job.sign(READY)
    plan = plan_of(name)
    companion = Companion(plan["beads"][:BEADS], inch=plan["job"]["units"] == "inch")
    app = make_app(OpenShop(store, work, data), beforehand=True)
    join(app, companion)
    with listening_at(0) as listening:
        server = uvicorn.Server(uvicorn.Config(app, ws="none", lifespan="off", log_level="warning"))
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
        thread.start()
        try:
            address = f"http://localhost:{listening.getsockname()[1]}"
            yield Welding(f"{address}/jobs/{job.job}/weld", job, companion)
        finally:
            server.should_exit = server.force_exit = True
            thread.join(10)
            work.close()
            store.close()
