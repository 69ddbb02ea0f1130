"""Texts of the record: documents of its events, and the latest job file."""

from __future__ import annotations

from axlewright.errors import Fault, NotInRecordError
from axlewright.record.events import DocumentLine, Event
from axlewright.record.state import State
from axlewright.record.store import Store

JOB_FILE = "job.toml"


def line_of(event: Event | None, name: str) -> DocumentLine:
    """The document of an event as the event lists it.

    Raises:
        NotInRecordError: there is no such event or document.
    """
    line = None if event is None else event.document(name)
    if line is None:
        raise NotInRecordError(Fault("document", name, "is not in the record", "Make it first."))
    return line


def text_of(store: Store, event: Event | None, name: str) -> str:
    """Text of a document of an event.

    Raises:
        NotInRecordError: there is no such event or document.
    """
    return store.document(line_of(event, name)).data.decode()


def job_text(store: Store, stands: State) -> str:
    """Text of the latest job file.

    Raises:
        RecordError: there is none.
    """
    return text_of(store, stands.latest.get("job file"), JOB_FILE)
