"""What the pages of straightness stand on: the job as it is now, its results, and whether they are up to date."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from axlewright.errors import Fault, NotInRecordError
from axlewright.record.events import Event
from axlewright.record.state import State
from axlewright.record.store import Store
from axlewright.tasks import Job
from axlewright.tasks.standing import stands as standing
from axlewright.tasks.texts import JOB_FILE
from axlewright.tasks.whence.parsed import parsed_job, parsed_json

CHECK, CORRECTION = "straightness.json", "correction.json"


@dataclass(frozen=True)
class JobNow:
    """A job as it is now.

    Args:
        id: its name in addresses.
        stands: where it stands.
        job: as its latest file has it.
    """

    id: str
    stands: State
    job: Job

    @property
    def name(self) -> str:
        """What the shop calls it."""
        return self.job.job.name

    def signed(self, part: str) -> bool:
        """Whether a part of the job is signed off as it stands, so that changing it needs a reason."""
        signs = (stage.signed for stage in self.stands.stages)
        return any(sign is not None and sign.complete and part in sign.event.body["covers"] for sign in signs)


def job_now(store: Store, job: str) -> JobNow:
    """A job as it is now.

    Raises:
        RecordError: there is no such job.
        JobFileError: and what else `parse_job` raises: its file cannot be read any more.
    """
    stands = standing(store, job)
    told = stands.latest.get("job file")
    line = None if told is None else told.document(JOB_FILE)
    if line is None:
        raise NotInRecordError(Fault("job file", "", "is not in the record", "Enter the dimensions first."))
    return JobNow(job, stands, parsed_job(store, line))


def result(store: Store, event: Event | None, name: str) -> Mapping[str, Any] | None:
    """A JSON document of an event; None where there is none."""
    line = None if event is None else event.document(name)
    found = None if line is None else parsed_json(store, line)
    return found if isinstance(found, dict) else None


def changed_since(stands: State, made: Event) -> tuple[str, ...]:
    """What a check or correction was worked out from and has changed since, in words; empty where it is up to date."""
    on = made.body["stands_on"]
    parts = {"job_file": "job file", "before": "readings before", "after": "readings after"}
    words = {
        "job_file": "the dimensions",
        "before": "readings before the work",
        "after": "readings after the work",
    }
    if made.kind == "correction":
        parts["check"], words["check"] = "check", "the check"
    return tuple(words[key] for key, part in parts.items() if stands.number_of(part) != (on.get(key) or 0))
