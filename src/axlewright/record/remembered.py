"""Events remembered in memory: what was written never changes, so only what came since is asked for."""

from __future__ import annotations

import threading
from collections import OrderedDict

from sqlalchemy import Connection

from axlewright.record.events import Event
from axlewright.record.rows import events_after

JOBS = 16
"""Of how many jobs events are remembered, those asked for last; 2,000 events take about 4 MB."""


class Remembered:
    """The events of the jobs asked for last. Safe to use from several threads."""

    def __init__(self) -> None:
        self._known: OrderedDict[str, tuple[Event, ...]] = OrderedDict()
        self._changing = threading.Lock()

    def events(self, connection: Connection, job: str) -> tuple[Event, ...]:
        """All events of a job in order, () where there is no such job."""
        known = self._known.get(job, ())
        # From the last one known on: if that is not there any more, another record was put in the place of this one.
        came = events_after(connection, job, known[-1].number - 1 if known else 0)
        if known and (not came or came[0].digest != known[-1].digest):
            known, came = (), events_after(connection, job, 0)
        events = known + came[1:] if known else came
        with self._changing:
            self._known[job] = events
            self._known.move_to_end(job)
            while len(self._known) > JOBS:
                self._known.popitem(last=False)
        return events
