"""What is welded on: truss, guard, spacer, gusset, bracket."""

from __future__ import annotations

from typing import Annotated, Literal, NamedTuple

from pydantic import Field, model_validator

from axlewright.job.fields import Clock, ClockFace, Name, Pair, Position, Quantity, Record, at_most, complaint
from axlewright.units import LENGTH

PlateThickness = Annotated[float, Quantity(LENGTH, 2.0, 25.0)]
_HEIGHT = Quantity(LENGTH, 20.0, 600.0)
_ALONG = Quantity(LENGTH, 0.0, 2600.0)


class TopPoint(NamedTuple):
    """A point of a truss's top: distance from the left flange and height above the axle line [m]."""

    at: float
    height: float


class GuardOpening(NamedTuple):
    """A drain opening in a guard's rim, clockwise from `from_clock` to `to_clock` [h]."""

    from_clock: float
    to_clock: float


class TrussOpening(Record):
    """A drain opening: a stretch of truss seam left unwelded so that water can leave."""

    seam: Literal["front", "rear", "both"] = "both"
    """Which seam is left open; left out: both."""
    start: Annotated[float, _ALONG, Field(validation_alias="from", serialization_alias="from")]
    """Where it begins, distance from the left flange."""
    end: Annotated[float, _ALONG, Field(validation_alias="to", serialization_alias="to")]
    """Where it ends, distance from the left flange."""


class Truss(Record):
    """A truss on top of the housing."""

    name: Name
    """Name of your choice."""
    form: Literal["box", "single web"]
    """"box": two webs and a top plate; "single web": one upright plate welded on both faces."""
    start: Annotated[float, _ALONG, Field(validation_alias="from", serialization_alias="from")]
    """Where its lower edge begins, distance from the left flange."""
    end: Annotated[float, _ALONG, Field(validation_alias="to", serialization_alias="to")]
    """Where its lower edge ends, distance from the left flange."""
    width: Annotated[float, Quantity(LENGTH, 20.0, 180.0)] | None = None
    """Outside width of a box, front to rear; leave out for a single web."""
    thickness: PlateThickness
    """Plate thickness."""
    top: Annotated[
        tuple[
            Annotated[TopPoint, Pair(TopPoint._make, Annotated[float, _ALONG], Annotated[float, _HEIGHT])],
            ...,
        ],
        Field(min_length=2, max_length=60),
        at_most(60),
    ]
    """Its top edge, outside: corners as [distance from the left flange, height above the axle line]."""
    openings: Annotated[tuple[TrussOpening, ...], Field(max_length=60), at_most(60)] = ()
    """Drain openings."""
    clear_of_centre: Annotated[float, Quantity(LENGTH, 1.0, 150.0)] | None = None
    """Clearance above the centre where the truss bridges it without a weld; leave out where it is welded."""

    @model_validator(mode="after")
    def _width_suits_form(self) -> Truss:
        if self.form == "box" and self.width is None:
            allowed, remedy = "a box truss needs its outside width", "Measure it, or change form."
            raise complaint("missing", allowed, remedy, key="width")
        if self.form == "single web" and self.width is not None:
            allowed, remedy = "a single web has no width", 'Leave it out, or write form = "box".'
            raise complaint("given", allowed, remedy, key="width")
        return self


class Guard(Record):
    """A dished plate over the front or rear of the centre, welded round its rim."""

    name: Name
    """Name of your choice."""
    side: Literal["front", "rear"]
    """Side of the centre it covers."""
    from_clock: Clock
    """Where its rim begins, clockwise as seen when facing the guard from outside."""
    to_clock: Clock
    """Where its rim ends; the same as from_clock for a full circle."""
    diameter: Annotated[float, Quantity(LENGTH, 60.0, 650.0)]
    """Diameter of the welded rim."""
    thickness: PlateThickness
    """Plate thickness."""
    dish: Annotated[float, Quantity(LENGTH, 0.0, 200.0)]
    """How far its middle stands proud of the plane of its rim."""
    openings: Annotated[
        tuple[
            Annotated[
                GuardOpening,
                Pair(GuardOpening._make, Annotated[float, ClockFace()], Annotated[float, ClockFace()]),
            ],
            ...,
        ],
        Field(max_length=30),
        at_most(30),
    ] = ()
    """Drain openings as [from, to], clockwise."""


class Spacer(Record):
    """A plate welded all round onto a spring perch."""

    name: Name
    """Name of your choice."""
    perch: Name
    """Name of the perch it sits on."""
    length: Annotated[float, Quantity(LENGTH, 20.0, 500.0)]
    """Length along the axle."""
    width: Annotated[float, Quantity(LENGTH, 20.0, 300.0)]
    """Width front to rear."""
    thickness: Annotated[float, Quantity(LENGTH, 2.0, 120.0)]
    """Thickness."""


class Gusset(Record):
    """A three-cornered plate between tube and knuckle flange, welded on both faces."""

    name: Name
    """Name of your choice."""
    end: Literal["left", "right"]
    """Which end of the axle, the driver's left or right."""
    clock: Clock
    """Position round the tube, looking along the axle from the driver's right end: 12 top, 3 front."""
    length: Annotated[float, Quantity(LENGTH, 15.0, 400.0)]
    """Length along the tube, from the inner face of the flange."""
    height: Annotated[float, Quantity(LENGTH, 10.0, 200.0)]
    """Height along the flange, from the skin of the tube."""
    thickness: PlateThickness
    """Plate thickness."""


class Bracket(Record):
    """A plain upright plate on a tube, welded on both faces."""

    name: Name
    """Name of your choice."""
    at: Position
    """Distance of its middle from the left flange."""
    clock: Clock
    """Position round the tube, looking along the axle from the driver's right end: 12 top, 3 front."""
    length: Annotated[float, Quantity(LENGTH, 15.0, 500.0)]
    """Length of its foot: along the axle, or measured round the tube's skin."""
    height: Annotated[float, Quantity(LENGTH, 10.0, 400.0)]
    """How far it stands out from the tube."""
    thickness: PlateThickness
    """Plate thickness."""
    lies: Literal["along", "across"]
    """"along" the axle, or "across" it."""
