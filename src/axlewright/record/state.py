"""Where a job stands: worked out from its events, never kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from axlewright.record.events import Event
from axlewright.record.kinds import subject
from axlewright.record.stages import HoldPoint, Need, StagePlan, stages


@dataclass(frozen=True)
class Signed:
    """A hold point that was signed.

    Args:
        event: the sign-off.
        changes: the events that touched what it covers since.
    """

    event: Event
    changes: tuple[Event, ...]

    @property
    def complete(self) -> bool:
        """Whether every line was found so, and nothing it covers has changed since."""
        return not self.changes and all(item["found"] for item in self.event.body["items"])


@dataclass(frozen=True)
class StageState:
    """Where a stage stands.

    Args:
        plan: the stage.
        status: "done", "here" or "ahead"; of all that are not done, the first is "here".
        missing: what it needs and the record does not show.
        told: the event that last said it is done or taken up again, if any.
        signed: its hold point as last signed; None where it has none or is not signed.
    """

    plan: StagePlan
    status: Literal["done", "here", "ahead"]
    missing: tuple[Need, ...]
    told: Event | None
    signed: Signed | None

    @property
    def hold_point(self) -> HoldPoint | None:
        """Its hold point, if it has one."""
        return self.plan.hold_point


@dataclass(frozen=True)
class State:
    """Where a job stands.

    Args:
        events: everything told, in order.
        counting: what still counts: neither withdrawn nor amended by a later event.
        latest: the last counting event that touched each part of the job, by `record.kinds.subject`.
        stages: all stages in order.
    """

    events: tuple[Event, ...]
    counting: tuple[Event, ...]
    latest: dict[str, Event]
    stages: tuple[StageState, ...]

    @property
    def stage(self) -> StageState:
        """The stage the job is in; the last one once all are done."""
        return next((stage for stage in self.stages if stage.status == "here"), self.stages[-1])

    @property
    def finished(self) -> bool:
        """Whether every stage is done."""
        return all(stage.status == "done" for stage in self.stages)

    @property
    def blocks(self) -> tuple[str, ...]:
        """What the stage it is in waits for, in words."""
        here = self.stage
        waits = [need.words for need in here.missing]
        point = here.hold_point
        if point is not None and here.signed is None:
            waits.append(f'Sign the hold point "{point.name}"')
        elif point is not None and here.signed is not None and here.signed.changes:
            waits.append(f'Sign "{point.name}" again: what it covers was changed')
        elif point is not None and here.signed is not None and not here.signed.complete:
            waits.append(f'Not every line of "{point.name}" was found so')
        return tuple(waits)

    def last(self, kind: str) -> Event | None:
        """The last counting event of a kind; None where there is none."""
        return next((event for event in reversed(self.counting) if event.kind == kind), None)

    def of_kind(self, kind: str) -> tuple[Event, ...]:
        """All counting events of a kind, in order."""
        return tuple(event for event in self.counting if event.kind == kind)

    def current(self, result: Event) -> bool:
        """Whether what a result (a plan, check or correction) was worked out from is still the latest."""
        stands_on = result.body["stands_on"]
        subjects = {"job_file": "job file", "before": "readings before", "after": "readings after"}
        named = subjects | {"plan": "plan", "check": "check"}
        return all(
            number is None or self.number_of(named[key]) == number for key, number in stands_on.items()
        )

    def number_of(self, part: str) -> int:
        """Number of the last counting event that touched a part of the job; 0 where none did."""
        event = self.latest.get(part)
        return 0 if event is None else event.number


def state_of(events: Sequence[Event]) -> State:
    """Where a job with these events stands.

    Args:
        events: everything told, in order.
    """
    counting = still_counting(events)
    latest = {part: event for event in counting if (part := subject(event.kind, event.body))}
    found, open_before = [], False
    for plan in stages():
        stage = _stage(plan, counting, latest, open_before, events)
        open_before = open_before or stage.status != "done"
        found.append(stage)
    return State(tuple(events), counting, latest, tuple(found))


def still_counting(events: Sequence[Event]) -> tuple[Event, ...]:
    """The events that were neither withdrawn nor amended; taking back a withdrawal lets its event count again."""
    gone: set[int] = set()
    # Later events decide over earlier ones, so the last is looked at first: one that is gone takes nothing back.
    for event in reversed(events):
        if event.amends is not None and event.number not in gone:
            gone.add(event.amends)
    return tuple(e for e in events if e.number not in gone and e.kind != "withdrawal")


def parts_touched(events: Sequence[Event]) -> dict[int, str]:
    """The part of the job each event touches, by its number; a withdrawal touches what it takes back."""
    touched: dict[int, str] = {}
    for event in events:
        own = subject(event.kind, event.body)
        touched[event.number] = own or touched.get(event.amends or 0, "")
    return touched


def _stage(
    plan: StagePlan,
    counting: tuple[Event, ...],
    latest: dict[str, Event],
    open_before: bool,
    events: Sequence[Event],
) -> StageState:
    missing = tuple(need for need in plan.needs if not _shown(need.what, latest))
    told = _last(counting, "stage", "stage", plan.name)
    signed = None if plan.hold_point is None else _signed(plan.hold_point, counting, events)
    held = plan.hold_point is not None and (signed is None or not signed.complete)
    done = told is not None and told.body["done"] and not held
    status: Literal["done", "here", "ahead"] = "done" if done else "ahead" if open_before else "here"
    return StageState(plan, status, missing, told, signed)


def _shown(what: str, latest: dict[str, Event]) -> bool:
    """Whether the record shows what a stage needs; a check counts for the readings it was made from."""
    check = latest.get("check")
    if what not in ("check", "straight"):
        return what in latest
    after = latest.get("readings after")
    if check is None or after is None or check.body["stands_on"]["after"] != after.number:
        return False
    return what == "check" or check.body["answer"] == "inside"


def _signed(point: HoldPoint, counting: tuple[Event, ...], events: Sequence[Event]) -> Signed | None:
    event = _last(counting, "sign-off", "hold_point", point.name)
    if event is None:
        return None
    covers, touched = event.body["covers"], parts_touched(events)
    return Signed(event, tuple(e for e in events if e.number > event.number and touched[e.number] in covers))


def _last(counting: tuple[Event, ...], kind: str, key: str, value: str) -> Event | None:
    found = (e for e in reversed(counting) if e.kind == kind and e.body[key] == value)
    return next(found, None)
