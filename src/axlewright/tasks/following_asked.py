"""What is followed at the bench, and up to when: gathered from the record for the process that follows.

Nothing heavy is imported here: the following itself (`following`) is done in another process.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from typing import Any

from axlewright.errors import Fault, NotInRecordError
from axlewright.record.archive_tables import bead_log_csv
from axlewright.record.events import Event
from axlewright.record.state import State
from axlewright.record.store import Store
from axlewright.tasks.standing import stands as stands_now
from axlewright.tasks.texts import JOB_FILE, text_of

PLAN_FILE = "plan.json"
ORDERS = "orders.json"

Following = dict[str, Any]
"""Where the bench stands and what comes next, as docs/bench-companion.md describes it."""


@dataclass(frozen=True)
class Followed:
    """What is followed.

    Args:
        job_text: the job file that the plan was made from.
        plan_text: plan.json.
        orders: orders.json, which tells what the shop had learned then; "" where the plan has none.
    """

    job_text: str
    plan_text: str
    orders: str = ""


@dataclass(frozen=True)
class Asked:
    """What happened so far, and the moment that is asked about.

    Args:
        log: the bead log, times UTC with their dates.
        entries: numbers of the events the lines of the log tell, in order.
        at: the moment, by the clock of the machine that keeps the record.
        ahead: how far the log's times run ahead of that clock, since it was set back.
        number: the last event that is taken into account.
        plan: number of the plan that is followed.
        doubts: what the record itself leaves in doubt, in words.
        before: beads to come as the answer before had them.
    """

    log: str
    entries: tuple[int, ...]
    at: datetime
    number: int
    plan: int
    ahead: timedelta = timedelta()
    doubts: tuple[str, ...] = ()
    before: tuple[Following, ...] = field(default=())


def followed(store: Store, stands: State) -> Followed:
    """What the latest plan was made from, and the plan.

    Raises:
        RecordError: there is no plan.
    """
    plan = plan_followed(stands)
    number = plan.body["stands_on"]["job_file"]
    job_file = next((event for event in stands.events if event.number == number), None)
    orders = "" if plan.document(ORDERS) is None else text_of(store, plan, ORDERS)
    return Followed(text_of(store, job_file, JOB_FILE), text_of(store, plan, PLAN_FILE), orders)


def plan_followed(stands: State) -> Event:
    """The latest plan.

    Raises:
        RecordError: there is none.
    """
    plan = stands.latest.get("plan")
    if plan is None:
        allowed = "the bench follows a plan, and there is none"
        raise NotInRecordError(Fault("plan", "missing", allowed, "Make a plan first."))
    return plan


def asked(store: Store, job: str, now: datetime) -> Asked:
    """What the record tells of the bench so far.

    Args:
        store: the record.
        job: the job.
        now: the present, with its time zone.

    Raises:
        RecordError: there is no such job, or it has no plan.
    """
    stands = stands_now(store, job)
    plan = plan_followed(stands)
    doubts = [] if stands.current(plan) else ["The job was changed after this plan was made. Plan again."]
    right, ahead = in_step(stands.events, now)
    counting = {event.number for event in stands.counting}
    bench = [event for event in right if event.kind == "bench" and event.number in counting]
    # As the log sorts them; its lines are told by these numbers.
    entries = tuple(event.number for event in sorted(bench, key=lambda e: (e.told_at, e.number)))
    log = bead_log_csv(bench)
    return Asked(log, entries, now, stands.events[-1].number, plan.number, ahead, tuple(doubts))


def in_step(events: Sequence[Event], now: datetime) -> tuple[list[Event], timedelta]:
    """Events with times that never run back: where the clock was set back, later times are moved on by as much.

    Order in a record is by number, never by clock. What is told late keeps the time at which it happened; what a
    device dates later than it was written down cannot have happened yet, and counts as happening then.

    Args:
        events: of a job, in order.
        now: the present by the same clock.

    Returns:
        The events, and by how much the present is to be moved on.
    """
    ahead, last, moved = timedelta(), datetime.min.replace(tzinfo=UTC), []
    for event in events:
        if last > event.at + ahead:
            ahead = last - event.at
        last = event.at + ahead
        moved.append(replace(event, at=last, told_at=min(_later(event.told_at, ahead), last)))
    return moved, max(ahead, last - now)


def _later(time: datetime, ahead: timedelta) -> datetime:
    """A time moved on; one at the end of the calendar stays."""
    try:
        return time + ahead
    except OverflowError:
        return time
