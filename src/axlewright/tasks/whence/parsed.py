"""Documents of the record, read once: what has the same digest has the same content."""

from __future__ import annotations

import json
from collections import OrderedDict
from collections.abc import Callable
from threading import Lock
from typing import Any

from axlewright.errors import Fault, RecordError
from axlewright.job.reading import parse_job
from axlewright.job.schema import Job
from axlewright.record.events import DocumentLine
from axlewright.record.store import Store

_MOST = 24
"""Documents kept at once: some megabytes of plans."""

_kept: OrderedDict[tuple[str, str], Any] = OrderedDict()
_keeping = Lock()


def parsed_json(store: Store, line: DocumentLine) -> Any:
    """What a JSON document holds; not to be changed by whoever gets it.

    Raises:
        RecordError: it is not in the record, or is no JSON.
    """
    return _once("json", store, line, _json)


def parsed_job(store: Store, line: DocumentLine) -> Job:
    """The job in a job file of the record; raises as `parse_job` does, and RecordError."""
    return _once("job", store, line, lambda text: parse_job(text, line.name))


def _once(kind: str, store: Store, line: DocumentLine, read: Callable[[str], Any]) -> Any:
    key = (kind, line.digest)
    with _keeping:
        if key in _kept:
            _kept.move_to_end(key)
            return _kept[key]
    found = read(store.document(line).data.decode())
    with _keeping:
        _kept[key] = found
        while len(_kept) > _MOST:
            _kept.popitem(last=False)
    return found


def _json(text: str) -> Any:
    try:
        return json.loads(text)
    except ValueError as error:
        raise RecordError(Fault("document", "", "is no JSON", "Make it again.")) from error
