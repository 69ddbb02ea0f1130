"""What a figure is explained with: the job file and the results an event brought or stands on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from axlewright.errors import Fault, NotInRecordError
from axlewright.job.schema import Job
from axlewright.record.events import Event
from axlewright.record.state import State
from axlewright.record.store import Store
from axlewright.tasks.texts import JOB_FILE, line_of
from axlewright.tasks.whence.parsed import parsed_job, parsed_json

Which = Literal["ours", "common"]
DOCUMENTS = {"plan": "plan.json", "check": "straightness.json", "correction": "correction.json"}
"""What each result is kept as, by the kind of its event."""


@dataclass(frozen=True)
class Facts:
    """The job and its results.

    Args:
        job: the job as its file has it.
        job_event: number of the event that told the job file.
        results: content of plan.json, straightness.json and correction.json by "plan", "check", "correction".
        events: number of the event behind each of them.
        of: which of the two plans is asked about.
        piece: name of a bead or tack, or "".
    """

    job: Job
    job_event: int
    results: Mapping[str, Any] = field(default_factory=dict)
    events: Mapping[str, int] = field(default_factory=dict)
    of: Which = "ours"
    piece: str = ""

    @property
    def this(self) -> Any:
        """The plan asked about, as plan.json has it."""
        plan = self.result("plan")
        return plan["common_practice"] if self.of == "common" else plan

    @property
    def bead_or_tack(self) -> Any:
        """The bead or tack asked about.

        Raises:
            RecordError: the plan has none of that name.
        """
        pieces = (*self.this["beads"], *self.this["tacks"])
        found = next((piece for piece in pieces if piece["tag"] == self.piece), None)
        if found is None:
            allowed = "is not in the record: this plan has no bead or tack of that name"
            raise NotInRecordError(Fault("bead", repr(self.piece), allowed, "Ask from its list."))
        return found

    def result(self, kind: str) -> Any:
        """A result by its kind.

        Raises:
            RecordError: the record has none yet.
        """
        if kind not in self.results:
            raise NotInRecordError(Fault(kind, "missing", "is not in the record yet", "Make it first."))
        return self.results[kind]


def facts_of(
    store: Store, stands: State, number: int | None = None, of: Which = "ours", piece: str = ""
) -> Facts:
    """What is known about an event's figures, or about those of the latest results.

    Args:
        store: the record.
        stands: where the job stands.
        number: of the event that brought the result; left out: the latest of each kind.
        of: which of the two plans.
        piece: name of a bead or tack, where one is asked about.

    Raises:
        RecordError: there is no such event.
        JobFileError: and what else `parse_job` raises.
    """
    asked = None if number is None else event_of(stands, number)
    stands_on = {} if asked is None else asked.body.get("stands_on", {})
    found: dict[str, Event] = {}
    for kind in DOCUMENTS:
        if asked is None:
            event = stands.latest.get(kind)
        elif asked.kind == kind:
            event = asked
        else:
            before = stands_on.get(kind)
            event = None if before is None else event_of(stands, before)
        if event is not None and event.document(DOCUMENTS[kind]) is not None:
            found[kind] = event
    results = {kind: parsed_json(store, line_of(event, DOCUMENTS[kind])) for kind, event in found.items()}
    told = _job_file(stands, asked)
    job = parsed_job(store, line_of(told, JOB_FILE))
    return Facts(job, told.number, results, {kind: event.number for kind, event in found.items()}, of, piece)


def event_of(stands: State, number: int) -> Event:
    """The event of that number.

    Raises:
        RecordError: there is none.
    """
    # Numbers run from 1 without gaps.
    if not 1 <= number <= len(stands.events):
        raise NotInRecordError(
            Fault("event", str(number), "is not in the record", "Choose one from the history.")
        )
    return stands.events[number - 1]


def _job_file(stands: State, asked: Event | None) -> Event:
    """The event that told the job file a result stands on, or the latest one."""
    number = None if asked is None else asked.body.get("stands_on", {}).get("job_file")
    if asked is not None and asked.kind == "job file":
        return asked
    return stands.latest["job file"] if number is None else event_of(stands, number)
