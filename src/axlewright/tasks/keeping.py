"""Keeping the record: each thing a person tells about a job, checked and written down."""

from __future__ import annotations

from axlewright.errors import Fault, RecordError
from axlewright.job.reading import parse_job
from axlewright.job.schema import Job
from axlewright.record.events import Document, Event, NewEvent
from axlewright.record.stages import hold_points
from axlewright.record.state import State
from axlewright.record.store import Store
from axlewright.tasks.standing import stands as stands_now
from axlewright.tasks.telling import Telling
from axlewright.tasks.texts import JOB_FILE, job_text


def start_job(store: Store, text: str, source: str, telling: Telling) -> Event:
    """A new job from the text of a job file; `source` stands for the file in messages.

    Raises:
        JobFileError: the text is no job file.
        GeometryError: the dimensions do not fit together.
        ProcedureError: the work must not go ahead as described.
        RecordError: it cannot be written down.
    """
    return store.create_job(_job_file(text, source, telling))


def change_job_file(store: Store, job: str, text: str, source: str, telling: Telling) -> Event:
    """Another text of a job's file; raises as `start_job` does, and SignedOffError."""
    return store.append(job, _job_file(text, source, telling))


def _job_file(text: str, source: str, telling: Telling) -> NewEvent:
    read = parse_job(text, source)
    body = {"name": read.job.name, "reference": read.job.reference, "units": read.units}
    return telling.event("job file", body, (Document(JOB_FILE, "application/toml", text.encode()),))


def job_of(store: Store, stands: State) -> Job:
    """The job as its latest file has it; raises as `start_job` does."""
    return parse_job(job_text(store, stands), JOB_FILE)


def sign(
    store: Store, job: str, hold_point: str, found: tuple[bool, ...], telling: Telling, note: str = ""
) -> Event:
    """Sign a hold point, saying of each of its lines whether it was found so.

    Raises:
        RecordError: there is no such hold point, nobody is named, or not every line is answered.
    """
    point = hold_points().get(hold_point)
    if point is None:
        allowed = f"must be one of {', '.join(hold_points())}"
        raise RecordError(Fault("hold point", repr(hold_point), allowed, "Choose one of these."))
    if not telling.who.strip():
        raise RecordError(Fault("who", "missing", "a hold point is signed by a person", "Give your name."))
    if len(found) != len(point.items):
        allowed = f"must answer all {len(point.items)} lines"
        raise RecordError(Fault("items", str(len(found)), allowed, "Answer every line."))
    stands = stands_now(store, job)
    if (told := _told_before(stands, "sign-off", telling)) is not None:
        return told
    body = {
        "hold_point": point.name,
        "items": [{"words": w, "found": f} for w, f in zip(point.items, found, strict=True)],
        "covers": {part: stands.number_of(part) for part in point.covers},
        "note": note,
    }
    return store.append(job, telling.event("sign-off", body))


def say_stage(store: Store, job: str, stage: str, done: bool, telling: Telling, note: str = "") -> Event:
    """Say that a stage is done, or taken up again.

    Raises:
        RecordError: it needs something that the record does not show and no note says why it goes without,
            or its hold point is not signed.
    """
    stands = stands_now(store, job)
    if (told := _told_before(stands, "stage", telling)) is not None:
        return told
    here = next((one for one in stands.stages if one.plan.name == stage), None)
    if here is not None and done:
        if here.missing and not note.strip():
            waits = "; ".join(need.words for need in here.missing)
            raise RecordError(
                Fault(f"stage {stage}", "not ready", waits, "Do that, or write why it goes without.")
            )
        if here.hold_point is not None and (here.signed is None or not here.signed.complete):
            allowed = f'its hold point "{here.hold_point.name}" must be signed, every line found so'
            raise RecordError(Fault(f"stage {stage}", "held", allowed, "Sign it first."))
    return store.append(job, telling.event("stage", {"stage": stage, "done": done, "note": note}))


def _told_before(stands: State, kind: str, telling: Telling) -> Event | None:
    """The event that this telling wrote before: a retry is not judged by what happened since."""
    return next((e for e in stands.events if e.key == telling.key and e.kind == kind), None)


def write_note(store: Store, job: str, words: str, telling: Telling, stage: str | None = None) -> Event:
    """Write something down.

    Raises:
        RecordError: there are no words, or too many.
    """
    return store.append(job, telling.event("note", {"words": words, "stage": stage}))


def withdraw(store: Store, job: str, number: int, words: str, telling: Telling) -> Event:
    """Take an event back; it stays in the record but no longer counts.

    Raises:
        RecordError: there is no such event, or it is the job's first file.
    """
    known = {event.number for event in store.events(job)}
    if number not in known or number == 1:
        allowed = "only an event of this job after its first can be taken back"
        raise RecordError(Fault("event", str(number), allowed, "Choose one from the job's history."))
    taking = Telling(telling.who, telling.key, telling.device, telling.told_at, telling.reason, number)
    return store.append(job, taking.event("withdrawal", {"words": words}))
