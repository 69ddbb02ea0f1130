"""What answers hold, field by field, and how they are made from the record."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict

from axlewright.record.events import DocumentLine, Event
from axlewright.record.state import Signed, StageState, State
from axlewright.tasks.archives import line_of
from axlewright.web.work.asking import Progress, Status, WorkKind

RESULTS = ("plan", "check", "correction")


class Answer(BaseModel):
    """Base of what is answered."""

    model_config = ConfigDict(from_attributes=True, use_attribute_docstrings=True)


class DocumentTold(Answer):
    """A file of an event; its content is at documents/{digest} of the job."""

    name: str
    media_type: str
    digest: str
    """SHA-256 of the content."""
    size: int
    """In bytes."""


class EventTold(Answer):
    """An event of a job's record."""

    number: int
    """Place in the record, from 1, without gaps."""
    kind: str
    who: str
    device: str
    at: datetime
    """When it was written down, UTC."""
    told_at: datetime
    """When it happened by the device that told it, UTC."""
    key: str
    body: dict[str, Any]
    """What is told, by its kind; see NewEvent."""
    documents: list[DocumentTold]
    amends: int | None
    reason: str
    digest: str
    """SHA-256 over this event and the digest of the one before it."""
    counts: bool
    """Whether it still counts: neither taken back nor put right by a later one."""


class Events(Answer):
    """Events of a job in order."""

    events: list[EventTold]
    more: bool
    """Whether further ones follow; ask again with `after`."""


class JobTold(Answer):
    """A job in the list of jobs."""

    job: str
    name: str
    reference: str
    stage: str
    finished: bool
    waits: list[str]
    """What the stage it is in waits for."""
    last: int
    """Number of its last event."""
    last_at: datetime


class SignedTold(Answer):
    """A hold point as it was last signed."""

    event: int
    who: str
    complete: bool
    """Whether every line was found so, and nothing it covers has changed since."""
    changes: list[int]
    """Events that touched what it covers since."""


class HoldPointTold(Answer):
    """A hold point: what is looked at, what may not be changed afterwards without a reason, and its signature."""

    name: str
    items: list[str]
    covers: list[str]
    signed: SignedTold | None


class StageTold(Answer):
    """A stage, and where it stands."""

    name: str
    does: str
    status: Literal["done", "here", "ahead"]
    missing: list[str]
    hold_point: HoldPointTold | None


class ResultTold(Answer):
    """The last plan, check or correction with its figures."""

    event: int
    current: bool
    """Whether all it was worked out from is still the latest."""
    body: dict[str, Any]


class StateTold(JobTold):
    """Where a job stands."""

    units: Literal["mm", "inch"] | None
    stages: list[StageTold]
    latest: dict[str, int]
    """Number of the last counting event that touched each part of the job."""
    results: dict[str, ResultTold]
    """The last plan, check and correction, as far as there are any."""


class ReadingsTold(Answer):
    """Readings that were written down, and what is wrong with the lines that are left out."""

    event: EventTold
    faults: list[str]


class WorkTold(Answer):
    """How far a piece of long work is."""

    id: str
    job: str
    kind: WorkKind
    who: str
    status: Status
    stage: str
    done: int | None
    of: int | None
    seconds: float
    faults: list[str]
    event: int | None
    """Number of the event that holds the result, once done."""


class TakenInTold(Answer):
    """What an archive brought."""

    job: str
    new: int
    """How many of its events were new to the record."""
    events: int
    """How many it has in the archive."""


class BackupTold(Answer):
    """A backup of the whole record, in the data folder of the shop."""

    name: str
    size: int
    """In bytes."""


class Health(Answer):
    """The record can be read."""

    status: Literal["ok"]
    jobs: int


class Version(Answer):
    """Versions of axlewright, of the tables of its record, and of the archives it writes."""

    axlewright: str
    record: str
    archive: int


def events_told(stands: State, events: Sequence[Event]) -> list[EventTold]:
    """Events of a job as they are answered."""
    gone: set[int] = set()
    # As `record.state.still_counting` has it: later events decide over earlier ones.
    for event in reversed(stands.events):
        if event.amends is not None and event.number not in gone:
            gone.add(event.amends)
    return [_event(event, event.number not in gone) for event in events]


def new_event_told(event: Event) -> EventTold:
    """An event just written down."""
    return _event(event, True)


def _event(event: Event, counts: bool) -> EventTold:
    return EventTold(
        **{
            name: getattr(event, name)
            for name in EventTold.model_fields
            if name not in ("documents", "counts")
        },
        documents=[document_told(line) for line in event.documents],
        counts=counts,
    )


def document_told(line: DocumentLine) -> DocumentTold:
    """A document as it is answered."""
    return DocumentTold.model_validate(line)


def job_told(job: str, stands: State) -> JobTold:
    """A job as the list has it."""
    return JobTold(**_in_list(job, stands))


def state_told(job: str, stands: State) -> StateTold:
    """Where a job stands, as it is answered."""
    file = stands.latest.get("job file")
    return StateTold(
        **_in_list(job, stands),
        units=None if file is None else file.body["units"],
        stages=[_stage(one) for one in stands.stages],
        latest={part: event.number for part, event in stands.latest.items()},
        results={kind: _result(stands, event) for kind in RESULTS if (event := stands.latest.get(kind))},
    )


def work_told(progress: Progress) -> WorkTold:
    """Long work as it is answered."""
    return WorkTold.model_validate(progress)


def _in_list(job: str, stands: State) -> dict[str, Any]:
    line = line_of(job, stands)
    return {
        "job": job,
        "name": line.name,
        "reference": line.reference,
        "stage": stands.stage.plan.name,
        "finished": stands.finished,
        "waits": list(stands.blocks),
        "last": line.last.number,
        "last_at": line.last.at,
    }


def _stage(one: StageState) -> StageTold:
    point = one.hold_point
    held = None
    if point is not None:
        held = HoldPointTold(
            name=point.name, items=list(point.items), covers=list(point.covers), signed=_signed(one.signed)
        )
    missing = [need.words for need in one.missing]
    return StageTold(
        name=one.plan.name, does=one.plan.does, status=one.status, missing=missing, hold_point=held
    )


def _signed(signed: Signed | None) -> SignedTold | None:
    if signed is None:
        return None
    return SignedTold(
        event=signed.event.number,
        who=signed.event.who,
        complete=signed.complete,
        changes=[event.number for event in signed.changes],
    )


def _result(stands: State, event: Event) -> ResultTold:
    return ResultTold(event=event.number, current=stands.current(event), body=dict(event.body))
