"""How the job is welded: machine, stands, bench habits, limits, ambient air."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import (
    AfterValidator,
    BeforeValidator,
    Field,
    PlainSerializer,
    ValidationInfo,
    model_validator,
)

from axlewright.job.fields import (
    Amps,
    Name,
    Position,
    Quantity,
    Record,
    Share,
    Text,
    TravelSpeed,
    Volts,
    WireFeed,
    at_most,
    complaint,
    in_shop_units,
)
from axlewright.units import LENGTH, TEMPERATURE, TIME, show

Kind = Literal["truss", "guard", "spacer", "gusset", "bracket"]
KINDS: tuple[Kind, ...] = ("truss", "guard", "spacer", "gusset", "bracket")
"""Attachments in the order in which the trade welds them."""


_USUAL: Any = "usual"
USUAL_STEP = {False: 0.05, True: 0.0508}
"""Bead length and tack spacing of common practice [m], in mm jobs and in inch jobs."""


def _usual_step(value: Any, info: ValidationInfo) -> Any:
    """50 mm or 2 in where the file says nothing."""
    if value is not _USUAL:
        return value
    inch = isinstance(info.context, dict) and bool(info.context.get("inch"))
    return f"{USUAL_STEP[inch]} m"


def _once(order: tuple[Kind, ...]) -> tuple[Kind, ...]:
    """An order in which no kind stands twice."""
    for n, kind in enumerate(order):
        if kind in order[:n]:
            raise complaint(
                f'"{kind}" twice', "each kind of attachment may stand once", "Remove one of them."
            )
    return order


def _turn(value: Any) -> float:
    """Degrees from 0 to below 360."""
    good = isinstance(value, int | float) and not isinstance(value, bool)
    if not good or not 0.0 <= value < 360.0:
        raise complaint(
            show(value),
            "a turn is a number of degrees, 0 to less than 360",
            "0 is as on the vehicle, 90 front side up, 180 upside down, 270 rear side up.",
        )
    return abs(float(value))


def _written_turn(turn: float) -> float:
    """A turn as a person writes it: 90, not 90.0."""
    return int(turn) if turn.is_integer() else turn


Turn = Annotated[
    float, Field(strict=True, ge=0.0, lt=360.0), BeforeValidator(_turn), PlainSerializer(_written_turn)
]


def _each_once(turns: tuple[float, ...]) -> tuple[float, ...]:
    """Turns without one that stands twice."""
    for n, turn in enumerate(turns):
        if turn in turns[:n]:
            raise complaint(f"{turn:g} twice", "each turn may stand once", "Remove one of them.")
    return turns


class JobInfo(Record):
    """What the job is called."""

    name: Name
    """Name of the job, printed on every sheet."""
    reference: Text = ""
    """Your own job number."""
    notes: Text = ""
    """Anything to remember."""


class Welder(Record):
    """How the welding machine is set."""

    process: Literal[111, 121, 131, 135, 136, 138, 141] = 135
    """Process number of ISO 4063; left out: 135, MAG with solid wire."""
    volts: Volts
    """Arc voltage while welding."""
    amps: Amps
    """Current while welding."""
    travel_speed: TravelSpeed
    """Speed of the torch along the seam: length of a trial bead over its time."""
    wire_diameter: Annotated[float, Quantity(LENGTH, 0.5, 6.5)]
    """Diameter of wire, rod or electrode core."""
    wire_feed: WireFeed
    """Wire used up per minute: wire run out in ten seconds, times six. Rods: length burnt off per minute."""
    efficiency: Annotated[float, Share(0.3, 1.0)] | None = None
    """Share of the arc's power that enters the steel; left out: the process's own figure of EN 1011-1."""
    bead_length: Annotated[float, Quantity(LENGTH, 10.0, 500.0), BeforeValidator(_usual_step)] = Field(
        default=_USUAL, validate_default=True
    )
    """Longest bead; left out: 50 mm or 2 in."""
    tack_length: Annotated[float, Quantity(LENGTH, 3.0, 60.0)] = 0.01
    """Length of a tack; left out: 10 mm."""
    tack_spacing: Annotated[float, Quantity(LENGTH, 10.0, 500.0), BeforeValidator(_usual_step)] = Field(
        default=_USUAL, validate_default=True
    )
    """Distance from tack to tack; left out: 50 mm or 2 in."""

    @model_validator(mode="after")
    def _tacks_fit(self, info: ValidationInfo) -> Welder:
        if self.tack_length >= self.tack_spacing:
            raise complaint(
                in_shop_units(self.tack_length, info.context),
                f"must be less than tack_spacing, {in_shop_units(self.tack_spacing, info.context)}",
                "Shorten the tacks or space them wider.",
                key="tack_length",
            )
        return self


class Supports(Record):
    """Where the housing rests on its stands."""

    left: Position
    """Left stand, distance from the left flange; left out: 20 % of the length."""
    right: Position
    """Right stand, distance from the left flange; left out: 80 % of the length."""


class Bench(Record):
    """Habits at the bench."""

    between_beads: Annotated[float, Quantity(TIME, 0.0, 600.0)] = 25.0
    """Time from the end of one bead to the start of the next: moving, brushing, helmet; left out: 25 s."""
    tack_seconds: Annotated[float, Quantity(TIME, 0.0, 300.0)] = 8.0
    """Time per tack besides the arc; left out: 8 s."""
    cool_down: Annotated[float, Quantity(TIME, 60.0, 7200.0, text_unit="min")] = 900.0
    """Pause of common practice, as text with its unit; left out: 15 min."""
    beads_between_cool_downs: Annotated[int, Field(strict=True, ge=1, le=50)] = 5
    """Beads of common practice between two such pauses; 4 or 5 is usual; left out: 5."""
    turns: Annotated[
        tuple[Turn, ...], Field(min_length=1, max_length=12), AfterValidator(_each_once), at_most(12)
    ] = (
        0.0,
        90.0,
        180.0,
        270.0,
    )
    """Ways the housing may lie on its stands, in degrees: 0 as on the vehicle, 90 front side up, 180 upside down,
    270 rear side up; left out: these four."""
    turn_time: Annotated[float, Quantity(TIME, 30.0, 3600.0, text_unit="min")] = 120.0
    """Time to turn it and set it down safely, as text with its unit; left out: 2 min."""
    overhead: Annotated[bool, Field(strict=True)] = False
    """Whether beads may be planned overhead; left out: no."""
    order: Annotated[tuple[Kind, ...], Field(min_length=1, max_length=5), AfterValidator(_once)] = KINDS
    """Order in which the kinds of attachment are welded; kinds left out come last."""


class Limits(Record):
    """What must not get hotter than."""

    spot: Annotated[float, Quantity(TEMPERATURE, 30.0, 400.0)] | None = None
    """Spot temperature before a bead; left out: no hotter than common practice gets on the same housing."""
    bearing_seat: Annotated[float, Quantity(TEMPERATURE, 40.0, 300.0)] = 120.0
    """Knuckle bearing seat; left out: 120 degC."""
    seal: Annotated[float, Quantity(TEMPERATURE, 40.0, 300.0)] | None = None
    """Oil seals left in place; leave out where they have been removed."""


class Ambient(Record):
    """The air in the shop."""

    temperature: Annotated[float, Quantity(TEMPERATURE, -30.0, 60.0)] = 20.0
    """Air and housing temperature before the first arc; left out: 20 degC."""
