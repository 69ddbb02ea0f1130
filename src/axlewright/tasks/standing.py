"""Where jobs stand, worked out once for each event: the state is derived and never kept on the disk."""

from __future__ import annotations

import threading
from collections import OrderedDict
from dataclasses import dataclass, field
from weakref import WeakKeyDictionary

from axlewright.record.events import JobLine
from axlewright.record.state import State, state_of
from axlewright.record.store import Store

KEPT_JOBS = 200
"""How many jobs' states stay in memory; the one longest not asked for goes first."""


@dataclass
class _Known:
    """What is known of one record."""

    states: OrderedDict[str, State] = field(default_factory=OrderedDict)
    lock: threading.Lock = field(default_factory=threading.Lock)


_known: WeakKeyDictionary[Store, _Known] = WeakKeyDictionary()
_first = threading.Lock()


def stands(store: Store, job: str) -> State:
    """Where a job stands; only events told since the last time are read.

    Events are only ever added, so what was worked out for the events up to a number stays true for them.

    Raises:
        RecordError: there is no such job.
    """
    known = _of(store)
    with known.lock:
        before = known.states.get(job)
    if before is None:
        return _keep(known, job, state_of(store.events(job)))
    new = store.events(job, after=before.events[-1].number)
    return _keep(known, job, state_of(before.events + new) if new else before)


def stands_in_line(store: Store, line: JobLine) -> State:
    """Where a job of the list stands; without a look into the record where its last event is known."""
    known = _of(store)
    with known.lock:
        before = known.states.get(line.job)
    if before is not None and before.events[-1].number == line.last.number:
        return before
    return stands(store, line.job)


def _of(store: Store) -> _Known:
    with _first:
        return _known.setdefault(store, _Known())


def _keep(known: _Known, job: str, state: State) -> State:
    with known.lock:
        beside = known.states.get(job)
        # Two requests may work it out at once; the one that saw more events is kept.
        if beside is None or beside.events[-1].number <= state.events[-1].number:
            known.states[job] = state
        known.states.move_to_end(job)
        while len(known.states) > KEPT_JOBS:
            known.states.popitem(last=False)
    return state
