"""Jobs whose plan has a picture that can be turned: common practice on the truss demo, with the figures of another plan
around it, as only the picture is looked at."""

from __future__ import annotations

import json

from plan.picture_read import viewed
from reference.jobs import demo
from web.plan.seeded import job_text, plan_text
from web.shop_made import MadeUp

from axlewright.record.events import Document, Event
from axlewright.record.store import Store
from axlewright.tasks.keeping import start_job
from axlewright.tasks.telling import Telling


def picture() -> bytes:
    """The picture that all of them have."""
    return viewed(demo("truss-only"))


def with_picture(store: Store, name: str = "rescue-truck") -> tuple[MadeUp, Event]:
    """A job with a plan that has a picture."""
    job = MadeUp(store, start_job(store, job_text(name), "job.toml", Telling("Ann")).job)
    plan = json.loads(plan_text(name))
    body = {
        "stands_on": {"job_file": 1},
        "chosen": plan["trade_off"]["chosen"],
        "recommended": plan["trade_off"]["recommended"],
        "beads": len(plan["beads"]),
        "bench_min": plan["totals"]["bench_min"],
    }
    documents = (
        Document("plan.json", "application/json", plan_text(name).encode()),
        Document("view.bin", "application/gzip", picture()),
    )
    return job, job.tell("plan", body, *documents)
