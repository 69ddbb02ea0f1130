"""Jobs with real plans in a record, for the tests of the plan page; `make_plans.py` made them."""

from __future__ import annotations

import gzip
import json
from pathlib import Path
from typing import Any

from web.shop_made import MadeUp

from axlewright.record.events import Document, Event
from axlewright.record.store import Store
from axlewright.tasks.keeping import start_job
from axlewright.tasks.telling import Telling

DATA = Path(__file__).parent / "data"
NAMES = ("rescue-truck", "clamped-inch")


def job_text(name: str) -> str:
    """The job file a plan was made from."""
    return (DATA / f"{name}.toml").read_text(encoding="utf-8")


def plan_text(name: str) -> str:
    """The plan as plan.json."""
    return gzip.decompress((DATA / f"{name}.plan.json.gz").read_bytes()).decode()


def plan_of(name: str) -> Any:
    """The plan, read."""
    return json.loads(plan_text(name))


def planned(store: Store, name: str = "rescue-truck", text: str = "") -> MadeUp:
    """A job with a plan; another text of plan.json may stand for its own."""
    job = MadeUp(store, start_job(store, job_text(name), "job.toml", Telling("Ann")).job)
    tell_plan(job, text or plan_text(name))
    return job


def tell_plan(job: MadeUp, text: str, reason: str = "") -> Event:
    """Write a plan into the record of a job, as work that has ended does."""
    plan = json.loads(text)
    body = {
        "stands_on": {"job_file": 1},
        "chosen": plan["trade_off"]["chosen"],
        "recommended": plan["trade_off"]["recommended"],
        "beads": len(plan["beads"]),
        "bench_min": plan["totals"]["bench_min"],
    }
    sheet = Document("work-sheet-a4.pdf", "application/pdf", b"%PDF-1.4\n")
    return job.tell(
        "plan", body, Document("plan.json", "application/json", text.encode()), sheet, reason=reason
    )
