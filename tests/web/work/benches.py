"""Work benches for tests: real processes on small jobs."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from plan.planned import TWO_BRACKETS
from reference.jobs import PLAIN_TUBE

from axlewright.job.demo_jobs import demo_readings, demo_text
from axlewright.record.events import Document, Event
from axlewright.record.opening import open_store
from axlewright.record.store import Store
from axlewright.tasks.keeping import start_job
from axlewright.tasks.standing import stands as state
from axlewright.tasks.telling import Telling
from axlewright.web.work.asking import Progress, WorkKind
from axlewright.web.work.bench import WorkBench

SMALL = PLAIN_TUBE.format(diameter=88.9, wall=9.5, extra=TWO_BRACKETS)
"""Eight beads: a plan of it takes some four seconds, nearly all of them for drawings and sheets."""

QUICK: dict[str, object] = {"plans": 60}
ENDLESS: dict[str, object] = {"plans": 1_000_000, "seconds": 600}
"""A search that ends only when it is stopped."""

LONGEST = 90.0
"""So long a test waits for anything [s]."""


@dataclass(frozen=True)
class Shop:
    """An opened shop without its pages."""

    store: Store
    work: WorkBench
    data: Path

    def job(self, text: str = SMALL) -> str:
        """A new job."""
        return start_job(self.store, text, "job.toml", Telling("Ann")).job

    def measured_job(self) -> str:
        """The demo truck with its readings before and after the work."""
        job = self.job(demo_text("rescue-truck"))
        for which in ("before", "after"):
            self.read(job, which)
        return job

    def read(self, job: str, which: str) -> Event:
        """Readings of the demo truck."""
        kept = Document("readings.csv", "text/csv", demo_readings("rescue-truck", which).encode())
        told = Telling("Ben").event("readings", {"set": which, "used": 30, "refused": 0}, (kept,))
        return self.store.append(job, told)

    def judged(self, job: str) -> Event:
        """A check of the latest readings, which says nothing else."""
        stands = state(self.store, job)
        on = {"job_file": stands.number_of("job file")}
        on |= {which: stands.number_of(f"readings {which}") for which in ("before", "after")}
        body = {"stands_on": on, "answer": "outside", "words": "Not straight."}
        return self.store.append(job, Telling("Ben").event("check", body))

    def ask(self, job: str, kind: WorkKind, reason: str = "", **options: object) -> Progress:
        """Ann asks for work."""
        return self.work.ask(job, kind, options, Telling("Ann", reason=reason))

    def until(self, work: str, so: Callable[[Progress], bool]) -> Progress:
        """Wait until a piece of work is so."""
        end = time.monotonic() + LONGEST
        while time.monotonic() < end:
            found = self.now(work)
            if so(found):
                return found
            time.sleep(0.02)
        raise AssertionError(f"not in {LONGEST} s: {self.now(work)}")

    def ended(self, work: str) -> Progress:
        """Wait until a piece of work has ended."""
        return self.until(work, lambda found: not found.running)

    def now(self, work: str) -> Progress:
        """How far it is."""
        found = self.work.progress(work)
        assert found is not None
        return found

    def done(self, work: str) -> Event:
        """Wait for the result of a piece of work."""
        found = self.ended(work)
        assert found.status == "done", found
        return next(event for event in self.store.events(found.job) if event.number == found.event)

    def text(self, event: Event, name: str) -> str:
        """A document of an event."""
        line = event.document(name)
        assert line is not None
        return self.store.document(line).data.decode()


def opened(data: Path) -> Shop:
    """A shop opened in a folder."""
    store = open_store(data)
    return Shop(store, WorkBench(store, data), data)
