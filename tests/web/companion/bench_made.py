"""A small job with a plan at the bench, what is tapped there, and what follows from it."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import cache
from typing import Any

from reference import benches
from web.shop_made import MadeUp
from web.work.benches import SMALL

from axlewright import tasks
from axlewright.job.reading import parse_job
from axlewright.plan.search.search import Search
from axlewright.record.events import Document, Event
from axlewright.record.store import Store
from axlewright.tasks.following import Follower
from axlewright.tasks.following_asked import Asked, Following, asked, followed
from axlewright.tasks.keeping import start_job, withdraw
from axlewright.tasks.standing import stands
from axlewright.tasks.telling import Telling

ARC = 12.0
"""A bead of the small job burns about so long [s]."""


@cache
def small_plan() -> str:
    """plan.json of the small job, from a search of few orders."""
    job = parse_job(SMALL, "job.toml")
    return tasks.plan_text(tasks.plan_job(job, benches.CACHE[0], search=Search(plans=8)))


@cache
def small_follower() -> Follower:
    """What follows the small job, in this process."""
    return Follower(SMALL, small_plan(), None, benches.CACHE[0])


@dataclass(frozen=True)
class AtTheBench:
    """A job being welded.

    Args:
        store: the record.
        job: the job.
        now: the present of the test.
    """

    store: Store
    job: str
    now: datetime

    def tap(
        self, event: str, bead: str = "", ago: float = 0.0, amends: int | None = None, **cells: str
    ) -> Event:
        """Tell something that happened some seconds ago."""
        told = Telling("Ann", told_at=self.now - timedelta(seconds=ago), amends=amends)
        return self.store.append(self.job, told.event("bench", {"event": event, "bead": bead, **cells}))

    def lay(self, bead: str, ago: float, arc: float = ARC) -> None:
        """Lay a bead that was begun some seconds ago."""
        self.tap("start", bead, ago)
        self.tap("stop", bead, ago - arc)

    def take_back(self, event: Event) -> Event:
        """Take something back."""
        return withdraw(self.store, self.job, event.number, "a slip", Telling("Ann"))

    def asked(self, later: float = 0.0) -> Asked:
        """What is asked of the companion now, or some seconds later."""
        # The machine's clock runs on while a test does.
        return asked(self.store, self.job, max(datetime.now(UTC), self.now) + timedelta(seconds=later))

    def following(self, later: float = 0.0) -> Following:
        """What the companion answers."""
        return small_follower().answer(self.asked(later))

    def plan_order(self) -> list[str]:
        """Names of the beads as the plan has them."""
        return order_of(followed(self.store, stands(self.store, self.job)).plan_text)


def order_of(plan_text: str) -> list[str]:
    """Names of the beads of a plan in order."""
    return [bead["tag"] for bead in plan_of(plan_text)["beads"]]


def plan_of(plan_text: str) -> Any:
    """A plan, read."""
    return json.loads(plan_text)


def at_the_bench(store: Store, name: str = "small") -> AtTheBench:
    """A job with its plan, at the bench; `name` makes it another job."""
    first = start_job(store, SMALL, "job.toml", Telling("Ann", key=f"first-{name}"))
    return with_plan(store, first.job, small_plan())


def with_plan(store: Store, job: str, plan: str) -> AtTheBench:
    """A job with a plan.json in its record."""
    beads = plan_of(plan)["beads"]
    body = {
        "stands_on": {"job_file": 1},
        "chosen": 1,
        "recommended": 1,
        "beads": len(beads),
        "bench_min": 43.0,
    }
    MadeUp(store, job).tell("plan", body, Document("plan.json", "application/json", plan.encode()))
    return AtTheBench(store, job, datetime.now(UTC))
