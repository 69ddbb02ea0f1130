"""Writing an event of any kind down: by the same way as the pages where the record must hold to more than its form."""

from __future__ import annotations

import json
from collections.abc import Callable
from importlib import import_module
from typing import Any

from axlewright.errors import Fault, ReadingsError, RecordError
from axlewright.record.events import Document, Event
from axlewright.record.stages import hold_points
from axlewright.record.store import Store
from axlewright.tasks.keeping import change_job_file, job_of, say_stage, withdraw
from axlewright.tasks.standing import stands as stands_now
from axlewright.tasks.texts import JOB_FILE
from axlewright.web.api.kinds import NewEvent

RESULT_FILES = {"check": "straightness.json", "plan": "plan.json", "correction": "correction.json"}
READINGS_FILES = ("readings.csv", "readings.toml")
AGAIN = "Put it right and send it again."

Way = Callable[[Store, str, NewEvent, tuple[Document, ...]], Event]


def append(store: Store, job: str, told: NewEvent) -> Event:
    """Write an event down.

    Args:
        store: the record.
        job: the job.
        told: the event.

    Raises:
        RecordError: there is no such job, or it does not fit what the record has.
        SignedOffError: it touches what is signed off and gives no reason.
        AxlewrightError: a job file or readings in it cannot be used.
    """
    documents = tuple(document.document() for document in told.documents)
    return _WAYS.get(told.kind, _as_told)(store, job, told, documents)


def write_readings(
    store: Store, job: str, which: str, text: str, telling: Any
) -> tuple[Event, tuple[Fault, ...]]:
    """Write readings down, with what is wrong with the lines that are left out.

    Raises:
        ReadingsError: nothing of them can be used.
        RecordError: there is no such job.
        SignedOffError: they are signed off and no reason is given.
    """
    # Fetched by name: it needs numpy, which nothing else of the API does.
    measuring = import_module("axlewright.tasks.measuring")
    toml = measuring.is_toml(text, "readings")
    verdict = measuring.judged(text, READINGS_FILES[toml], job_of(store, stands_now(store, job)))
    if verdict.readings is None:
        raise ReadingsError(*verdict.faults)
    event = measuring.write_readings(store, job, which, text, verdict, telling, toml=toml)
    return event, verdict.faults


def _as_told(store: Store, job: str, told: NewEvent, documents: tuple[Document, ...]) -> Event:
    event = told.telling(told.amends).event(told.kind, _body(told), documents)
    return store.append(job, event)


def _job_file(store: Store, job: str, told: NewEvent, documents: tuple[Document, ...]) -> Event:
    text = _text(_only(documents, (JOB_FILE,)))
    return change_job_file(store, job, text, JOB_FILE, told.telling(told.amends))


def _readings(store: Store, job: str, told: NewEvent, documents: tuple[Document, ...]) -> Event:
    text = _text(_only(documents, READINGS_FILES))
    return write_readings(store, job, _body(told)["set"], text, told.telling(told.amends))[0]


def _result(store: Store, job: str, told: NewEvent, documents: tuple[Document, ...]) -> Event:
    """A result worked out elsewhere: with its figures, and from events that there are."""
    name = RESULT_FILES[told.kind]
    figures = next((document for document in documents if document.name == name), None)
    if figures is None:
        raise RecordError(Fault("documents", "", f"a {told.kind} comes with its {name}", AGAIN))
    try:
        whole = isinstance(json.loads(figures.data), dict)
    except (ValueError, RecursionError):
        whole = False
    if not whole:
        raise RecordError(Fault(name, "", "must be a JSON object", AGAIN))
    body, last = _body(told), len(store.events(job))
    for part, number in body["stands_on"].items():
        if number is not None and not 1 <= number <= last:
            raise RecordError(Fault(f"stands_on.{part}", str(number), "must be an event of this job", AGAIN))
    return _as_told(store, job, told, documents)


def _sign_off(store: Store, job: str, told: NewEvent, documents: tuple[Document, ...]) -> Event:
    """A signature is on what the record has now: had it changed since it was looked at, it would sign unseen."""
    body = _body(told)
    point = hold_points().get(body["hold_point"])
    if point is None:
        allowed = f"must be one of {', '.join(hold_points())}"
        raise RecordError(Fault("hold_point", repr(body["hold_point"]), allowed, "Choose one of these."))
    if tuple(item["words"] for item in body["items"]) != point.items:
        raise RecordError(Fault("items", "", "must be the lines of the hold point, in order", AGAIN))
    stands = stands_now(store, job)
    covers = {part: stands.number_of(part) for part in point.covers}
    known = any(event.key == told.key for event in stands.events)
    if body["covers"] != covers and not known:
        raise RecordError(
            Fault("covers", json.dumps(body["covers"])[:200], f"must be {json.dumps(covers)}", "Look again.")
        )
    return _as_told(store, job, told, documents)


def _stage(store: Store, job: str, told: NewEvent, documents: tuple[Document, ...]) -> Event:
    _none(documents)
    body = _body(told)
    return say_stage(store, job, body["stage"], body["done"], told.telling(told.amends), body["note"])


def _withdrawal(store: Store, job: str, told: NewEvent, documents: tuple[Document, ...]) -> Event:
    _none(documents)
    if told.amends is None:
        raise RecordError(Fault("amends", "missing", "must be the event that is taken back", AGAIN))
    return withdraw(store, job, told.amends, _body(told)["words"], told.telling())


def _photograph(store: Store, job: str, told: NewEvent, documents: tuple[Document, ...]) -> Event:
    if len(documents) != 1:
        raise RecordError(Fault("documents", str(len(documents)), "a photograph is one picture", AGAIN))
    # Fetched by name: it needs what opens pictures.
    photographs = import_module("axlewright.tasks.photographs")
    body, telling = _body(told), told.telling(told.amends)
    event: Event = photographs.add_photograph(
        store, job, documents[0].data, body["words"], body["stage"], telling
    )
    return event


_WAYS: dict[str, Way] = {
    "job file": _job_file,
    "readings": _readings,
    "check": _result,
    "plan": _result,
    "correction": _result,
    "sign-off": _sign_off,
    "stage": _stage,
    "withdrawal": _withdrawal,
    "photograph": _photograph,
}


def _body(told: NewEvent) -> dict[str, Any]:
    return told.body.model_dump(mode="json")


def _only(documents: tuple[Document, ...], names: tuple[str, ...]) -> Document:
    if len(documents) != 1 or documents[0].name not in names:
        raise RecordError(Fault("documents", "", f"must be one, named {' or '.join(names)}", AGAIN))
    return documents[0]


def _none(documents: tuple[Document, ...]) -> None:
    if documents:
        raise RecordError(Fault("documents", str(len(documents)), "this kind of event has none", AGAIN))


def _text(document: Document) -> str:
    try:
        return document.data.decode()
    except UnicodeDecodeError as error:
        raise RecordError(Fault(document.name, "", "must be UTF-8 text", AGAIN)) from error
