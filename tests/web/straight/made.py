"""Checks and corrections of the demo's invented readings, made once, and jobs that have them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from reference import benches
from web.shop_made import PDF, MadeUp

from axlewright import tasks
from axlewright.job.demo_jobs import demo_readings, demo_text
from axlewright.job.reading import parse_job
from axlewright.record.events import Document, Event
from axlewright.tasks.standing import stands as state


@dataclass(frozen=True)
class Results:
    """What the demo's readings come to: straightness.json and correction.json as texts."""

    check: str
    correction: str


@cache
def check_text(before: bool = True, after: bool = True) -> str:
    """straightness.json of the demo's readings before the work, after it, or both."""
    with TemporaryDirectory() as name:
        return tasks.straightness_text(_checked(Path(name), before, after).report)


@cache
def correction_text() -> str:
    """correction.json of the demo's readings after the work, all ways."""
    with TemporaryDirectory() as name:
        checked = _checked(Path(name), True, True)
        return tasks.correction_text(tasks.correct(checked, tasks.Asked(), benches.CACHE[0]))


def _checked(folder: Path, before: bool, after: bool) -> tasks.Checked:
    job = parse_job(demo_text("rescue-truck"), "job.toml")
    paths: dict[str, Path | None] = {"before": None, "after": None}
    for which, wanted in (("before", before), ("after", after)):
        if wanted:
            paths[which] = folder / f"{which}.csv"
            (folder / f"{which}.csv").write_text(demo_readings("rescue-truck", which), encoding="utf-8")
    return tasks.check_straightness(job, paths["after"], paths["before"])


def check(job: MadeUp, before: bool = True, after: bool = True, **changed: Any) -> Event:
    """Have the readings of a job judged, as the work bench would; they are told first where they are missing."""
    known = state(job.store, job.job)
    for which, wanted in (("before", before), ("after", after)):
        if wanted and not known.number_of(f"readings {which}"):
            job.readings(which)
    known = state(job.store, job.job)
    stands_on = {
        "job_file": known.number_of("job file"),
        "before": known.number_of("readings before") if before else None,
        "after": known.number_of("readings after") if after else None,
    }
    body = {"stands_on": stands_on, "answer": "outside", "words": "Not straight.", **changed}
    text = check_text(before, after).encode()
    return job.tell(
        "check",
        body,
        Document("straightness.json", "application/json", text),
        Document("measuring-sheet-a4.pdf", "application/pdf", PDF),
    )


def correction(job: MadeUp, text: str = "", cycle: int = 1) -> Event:
    """A correction of a job's last check."""
    known = state(job.store, job.job)
    names = {"job_file": "job file", "before": "readings before", "after": "readings after", "check": "check"}
    body = {
        "stands_on": {key: known.number_of(part) for key, part in names.items()},
        "decision": "correct",
        "recommended": "counter-beads",
        "cycle": cycle,
    }
    return job.tell(
        "correction",
        body,
        Document("correction.json", "application/json", (text or correction_text()).encode()),
        Document("correction-sheet-a4.pdf", "application/pdf", PDF),
    )
