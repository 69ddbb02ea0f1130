"""The kinds of events, what each tells, and what part of the job it touches."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from axlewright.errors import Fault, RecordError
from axlewright.record.events import NewEvent

Words = Annotated[str, Field(max_length=4000)]
Short = Annotated[str, Field(max_length=200)]
Stage = Literal[
    "intake", "strip", "fit-up", "tack", "weld", "check", "correct", "finish", "set-up", "hand-over"
]
SetName = Literal["before", "after"]


class Body(BaseModel):
    """Base of what events tell."""

    model_config = ConfigDict(frozen=True, extra="forbid", use_attribute_docstrings=True)


class StandsOn(Body):
    """Numbers of the events a result was worked out from; None where it needed none of that kind."""

    job_file: int
    before: int | None = None
    after: int | None = None
    plan: int | None = None
    check: int | None = None


class JobFileTold(Body):
    """A job file; the text itself is the document job.toml."""

    name: Short
    reference: Short = ""
    units: Literal["mm", "inch"]


class ReadingsTold(Body):
    """Straightness readings; the table itself is the document readings.csv or readings.toml."""

    set: SetName
    used: int = Field(ge=0)
    refused: int = Field(ge=0)


class CheckMade(Body):
    """What the readings say; the figures are in the document straightness.json."""

    stands_on: StandsOn
    answer: Literal["inside", "outside", "cannot be told"]
    words: Words


class PlanMade(Body):
    """A plan; its beads are in the document plan.json, the orders to choose from in orders.json."""

    stands_on: StandsOn
    chosen: int
    recommended: int | None
    beads: int
    bench_min: float
    words: Words = ""


class CorrectionMade(Body):
    """What to do about the shape; the figures are in the document correction.json."""

    stands_on: StandsOn
    decision: Literal["leave it", "correct", "send out", "measure first"]
    recommended: Literal["counter-beads", "heat lines", "press"] | None
    cycle: int = Field(ge=1)
    words: Words = ""


class BenchEntry(Body):
    """A line of the bead log, cell by cell; docs/bead-log.md says what each cell means."""

    event: Short
    bead: Short = ""
    start: Short = ""
    end: Short = ""
    what: Short = ""
    value: Short = ""
    error: Short = ""
    note: Words = ""


class SetUpReading(Body):
    """A reading taken while the axle is set up."""

    what: Short
    value: Short
    note: Words = ""


class SignedItem(Body):
    """A line of a hold point, and whether it was found so."""

    words: Short
    found: bool
    note: Short = ""


class SignOff(Body):
    """A hold point signed; `covers` maps what it covers to the number of the last event that touched it, 0 if none."""

    hold_point: Short
    items: tuple[SignedItem, ...] = ()
    covers: dict[Short, int]
    note: Words = ""


class StageTold(Body):
    """A stage done, or taken up again."""

    stage: Stage
    done: bool
    note: Words = ""


class Photograph(Body):
    """A photograph; the picture is the event's document."""

    words: Words = ""
    stage: Stage | None = None


class Note(Body):
    """Something worth writing down."""

    words: Annotated[str, Field(min_length=1, max_length=4000)]
    stage: Stage | None = None


class Withdrawal(Body):
    """The event it amends is taken back; it stays in the record, but no longer counts."""

    words: Words = ""


KINDS: dict[str, type[Body]] = {
    "job file": JobFileTold,
    "readings": ReadingsTold,
    "check": CheckMade,
    "plan": PlanMade,
    "correction": CorrectionMade,
    "bench": BenchEntry,
    "set-up reading": SetUpReading,
    "sign-off": SignOff,
    "stage": StageTold,
    "photograph": Photograph,
    "note": Note,
    "withdrawal": Withdrawal,
}
"""What each kind of event tells."""


def checked_body(event: NewEvent) -> dict[str, Any]:
    """What an event tells, as it is kept.

    Raises:
        RecordError: there is no such kind, or its body does not suit it.
    """
    kind = KINDS.get(event.kind)
    if kind is None:
        allowed = f"must be one of {', '.join(KINDS)}"
        raise RecordError(Fault("kind", repr(event.kind), allowed, "Choose one of these."))
    try:
        return kind.model_validate(dict(event.body)).model_dump(mode="json")
    except ValidationError as error:
        raise RecordError(*(_fault(event.kind, detail) for detail in error.errors()[:20])) from error


def _fault(kind: str, detail: Any) -> Fault:
    place = ".".join(str(part) for part in detail["loc"]) or kind
    allowed = str(detail["msg"]).removeprefix("Input ").removeprefix("Value ")
    return Fault(f"{place} of {kind}", "", allowed, "Put it right and send it again.")


def subject(kind: str, body: Mapping[str, Any]) -> str:
    """The part of the job an event touches, by the name that hold points cover it with; "" where none."""
    if kind == "readings":
        return f"readings {body.get('set')}"
    named = {"bench": "beads", "set-up reading": "set-up"}
    known = ("job file", "plan", "check", "correction")
    return kind if kind in known else named.get(kind, "")
