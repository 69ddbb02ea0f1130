"""Long work as it is asked for: what it needs of the record, and what it gives back to be written there.

Nothing heavy is imported here: the work itself (`long_work`) is done in another process.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from axlewright.errors import Fault, OptionError, RecordError, SignedOffError
from axlewright.record.events import Document, Event
from axlewright.record.state import State
from axlewright.record.store import Store
from axlewright.tasks.telling import Telling
from axlewright.tasks.texts import job_text, text_of

Kind = Literal["plan", "choose", "check", "correct"]
WayName = Literal["counter-beads", "heat lines", "press"]

EVENTS: dict[Kind, str] = {"plan": "plan", "choose": "plan", "check": "check", "correct": "correction"}
"""The kind of event that each kind of work ends in."""

ORDERS = "orders.json"
CORRECTION = "correction.json"


class _Options(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class PlanOptions(_Options):
    """How thorough to search: for how long [s], and through how many plans at most."""

    seconds: float | None = Field(default=None, ge=1.0, le=3600.0)
    plans: int | None = Field(default=None, ge=1, le=1_000_000)


class ChooseOptions(_Options):
    """Which plan of the trade-off to take."""

    number: int


class CheckOptions(_Options):
    """A check leaves nothing to choose."""


class CorrectOptions(_Options):
    """Ways to look at; which correction this would be, counted from the record if left out; a crack that was found."""

    ways: tuple[WayName, ...] = ("counter-beads", "heat lines", "press")
    cycle: int | None = Field(default=None, ge=1, le=20)
    cracked: bool = False


OPTIONS: dict[Kind, type[_Options]] = {
    "plan": PlanOptions,
    "choose": ChooseOptions,
    "check": CheckOptions,
    "correct": CorrectOptions,
}


@dataclass(frozen=True)
class ReadingsFile:
    """Readings as the record has them: the file's name and its content."""

    name: str
    data: bytes


@dataclass(frozen=True)
class LongWork:
    """A piece of long work with everything it needs.

    Args:
        kind: what is asked for.
        options: how, one of `OPTIONS`.
        job_text: the job file.
        stands_on: numbers of the events it is worked out from.
        before: readings before the work, if any.
        after: readings after it, if any.
        orders: orders.json of the plan at hand, to choose from.
        earlier: correction.json of each earlier correction.
    """

    kind: Kind
    options: Any
    job_text: str
    stands_on: dict[str, int | None] = field(default_factory=dict)
    before: ReadingsFile | None = None
    after: ReadingsFile | None = None
    orders: str = ""
    earlier: tuple[str, ...] = ()


@dataclass(frozen=True)
class Worked:
    """What long work gives: what its event tells, but for what it stands on, and the documents."""

    body: dict[str, Any]
    documents: tuple[Document, ...]


def long_work(store: Store, stands: State, kind: Kind, options: dict[str, Any], reason: str = "") -> LongWork:
    """A piece of work with what it needs from the record.

    Args:
        store: the record.
        stands: where the job stands now.
        kind: what is asked for.
        options: how; see `OPTIONS`.
        reason: why something signed off is changed.

    Raises:
        RecordError: the record has not got what the work needs.
        SignedOffError: the result would change what is signed off, and no reason is given.
        OptionError: an option is not one of those there are.
    """
    read = _options(kind, options)
    _refuse_signed(stands, EVENTS[kind], reason)
    text = job_text(store, stands)
    if kind == "plan":
        return LongWork(kind, read, text, _stands_on(stands))
    if kind == "choose":
        return LongWork(kind, read, text, _stands_on(stands), orders=_orders(store, stands))
    before, after = (_readings(store, stands, which) for which in ("before", "after"))
    if before is None and after is None:
        raise _missing("readings", "a check needs readings before or after the work", "Tell them first.")
    on = _stands_on(stands, "before", "after")
    if kind == "check":
        return LongWork(kind, read, text, on, before, after)
    check = _check(stands)
    earlier = _earlier(store, stands, check)
    if read.cycle is None:
        read = read.model_copy(update={"cycle": len(earlier) + 1})
    return LongWork(kind, read, text, {**on, "check": check.number}, before, after, earlier=earlier)


def write_down(store: Store, job: str, work: LongWork, worked: Worked, telling: Telling) -> Event:
    """Write the result of long work into the record, as one event.

    Raises:
        SignedOffError: what it changes was signed off meanwhile, and no reason was given.
        RecordError: it cannot be written down.
    """
    body = {**worked.body, "stands_on": work.stands_on}
    return store.append(job, telling.event(EVENTS[work.kind], body, worked.documents))


def _options(kind: Kind, options: dict[str, Any]) -> Any:
    try:
        return OPTIONS[kind].model_validate(options)
    except ValidationError as error:
        raise OptionError(
            *(
                Fault(
                    ".".join(str(part) for part in detail["loc"]) or kind,
                    "" if detail["type"] == "missing" else repr(detail["input"]),
                    str(detail["msg"]).removeprefix("Input "),
                    "Choose another.",
                )
                for detail in error.errors()
            )
        ) from error


def _refuse_signed(stands: State, part: str, reason: str) -> None:
    """A search of half a minute must not end in a refusal that could have been told at once."""
    if reason.strip():
        return
    for signed in reversed(stands.of_kind("sign-off")):
        if part in signed.body["covers"]:
            allowed = f'is covered by the hold point "{signed.body["hold_point"]}", which {signed.who} signed'
            raise SignedOffError(Fault(part, "signed off", allowed, "Give the reason for the change."))


def _stands_on(stands: State, *sets: str) -> dict[str, int | None]:
    numbers = {which: stands.number_of(f"readings {which}") or None for which in sets}
    return {"job_file": stands.number_of("job file"), **numbers}


def _orders(store: Store, stands: State) -> str:
    """The plans to choose from, as long as they are of the job as it is now."""
    plan = stands.latest.get("plan")
    if plan is None:
        raise _missing("plan", "there must be one before another can be chosen", "Make a plan first.")
    if not stands.current(plan):
        allowed = "the job file was changed since these plans were made"
        raise RecordError(Fault("plan", "out of date", allowed, "Plan again."))
    return text_of(store, plan, ORDERS)


def _readings(store: Store, stands: State, which: str) -> ReadingsFile | None:
    event = stands.latest.get(f"readings {which}")
    if event is None:
        return None
    line = next((line for line in event.documents if line.name.startswith("readings")), None)
    if line is None:
        raise _missing(f"readings {which}", "their table is not in the record", "Tell them again.")
    return ReadingsFile(line.name, store.document(line).data)


def _check(stands: State) -> Event:
    check = stands.latest.get("check")
    if check is None or not stands.current(check):
        raise _missing(
            "check", "the latest readings must have been judged", "Have the readings judged first."
        )
    return check


def _earlier(store: Store, stands: State, check: Event) -> tuple[str, ...]:
    """The last correction that was planned on each earlier check: between checks only one is carried out."""
    of_check = {event.body["stands_on"]["check"]: event for event in stands.of_kind("correction")}
    of_check.pop(check.number, None)
    return tuple(text_of(store, event, CORRECTION) for event in of_check.values())


def _missing(where: str, allowed: str, remedy: str) -> RecordError:
    return RecordError(Fault(where, "missing", allowed, remedy))
