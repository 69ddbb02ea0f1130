"""A trial on scrap tube as the shop writes it down: the tube, the welder, the beads laid and what was read.

Distances count from the tube's left end, as one stands before it with the beads on top. Times count from the moment the
first arc starts. Lengths are in metres, times in seconds, temperatures in degC, as in a job.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, GetCoreSchemaHandler, ValidationInfo, model_validator
from pydantic_core import CoreSchema, core_schema

from axlewright.job.fields import Name, Position, Quantity, Record, Text, complaint, in_shop_units
from axlewright.job.settings import Welder
from axlewright.units import LENGTH, TEMPERATURE, TIME, show

Way = Literal["dial", "straightedge"]

READING_ERROR: dict[Way, float] = {"dial": 0.02e-3, "straightedge": 0.05e-3}
"""Standard deviation of one reading [m]: a dial of 0.01 mm, feeler gauges of 0.05 mm (common practice)."""

USUAL_SUPPORT = {False: 0.03, True: 0.0254}
"""Distance of the supports from the tube's ends where nothing else is said [m], in mm and in inch files."""

LONGEST_TRIAL = 6 * 3600.0
"""A stopwatch that shows more than this belongs to another day [s]."""

_STOPWATCH = re.compile(r"\s*(?:([0-9]{1,2}):)?([0-9]{1,3}):([0-5][0-9])\s*")


@dataclass(frozen=True)
class Stopwatch:
    """A time since the first arc, written "6:30" for 6 min 30 s, or as a number of minutes; kept in seconds."""

    def read(self, value: object, info: core_schema.ValidationInfo) -> float:
        """Seconds of what stands in a file, or of the number of seconds itself where there is no file."""
        in_file = isinstance(info.context, dict)
        seconds = self._seconds(value, 60.0 if in_file else 1.0)
        if seconds is None or not 0.0 <= seconds <= LONGEST_TRIAL:
            found = "empty" if value == "" else show(value)
            allowed = "a time is minutes and seconds since the first arc, up to 6 hours"
            raise complaint(found, allowed, 'Write it as on the stopwatch, e.g. "6:30".')
        return seconds

    def write(self, seconds: float, info: core_schema.SerializationInfo) -> float | str:
        """As on the stopwatch in a file, seconds elsewhere."""
        return on_the_watch(seconds) if isinstance(info.context, dict) else seconds

    def _seconds(self, value: object, unit: float) -> float | None:
        if isinstance(value, str):
            match = _STOPWATCH.fullmatch(value)
            hours, minutes, seconds = (int(part or 0) for part in match.groups()) if match else (0, 0, 0)
            return 3600.0 * hours + 60.0 * minutes + seconds if match else None
        number = isinstance(value, int | float) and not isinstance(value, bool)
        return float(value) * unit if number else None  # type: ignore[arg-type]

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.with_info_plain_validator_function(
            self.read,
            serialization=core_schema.plain_serializer_function_ser_schema(self.write, info_arg=True),
        )


def on_the_watch(seconds: float) -> str:
    """A time as a stopwatch shows it: "6:30", "62:05"."""
    minutes, rest = divmod(round(seconds), 60)
    return f"{minutes}:{rest:02d}"


# A box of the sheet that was left empty says nothing.
_if_written = BeforeValidator(lambda value: None if value == "" else value)


def _day(value: Any) -> Any:
    """A day that TOML has read as such, as it was written."""
    return value.isoformat() if isinstance(value, date) else value


Bend = Annotated[float, Quantity(LENGTH, -50.0, 50.0)]
Mark = Annotated[float, Quantity(LENGTH, -400.0, 2600.0)]


class TrialInfo(Record):
    """What the trial is called."""

    name: Name = "trial on scrap tube"
    """Name of the trial, e.g. the wire and gas it was made with."""
    date: Annotated[Text, BeforeValidator(_day)] = ""
    """Day it was laid, e.g. "2025-03-01"."""
    notes: Text = ""
    """Anything to remember."""


class TrialTube(Record):
    """The scrap tube on its two supports."""

    outside_diameter: Annotated[float, Quantity(LENGTH, 30.0, 200.0)]
    """Outside diameter, by caliper on bare metal."""
    wall: Annotated[float, Quantity(LENGTH, 1.5, 25.0)]
    """Wall thickness, by caliper at an end."""
    length: Annotated[float, Quantity(LENGTH, 500.0, 2500.0)]
    """Length of the tube."""
    steel: Literal["S235", "S275", "S355"] = "S355"
    """Grade (EN 10025-2); left out: S355."""
    left_support: Position = 0.0
    """Left support, distance from the left end; left out: 30 mm or 1 in from it."""
    right_support: Position = 0.0
    """Right support, distance from the left end; left out: 30 mm or 1 in from the right end."""
    dial: Position = 0.0
    """Where the bend is read, distance from the left end; left out: midway between the supports."""
    air: Annotated[float, Quantity(TEMPERATURE, -30.0, 60.0)] = 20.0
    """Air and tube before the first arc; left out: 20 degC."""

    @model_validator(mode="before")
    @classmethod
    def _usual_supports(cls, data: Any, info: ValidationInfo) -> Any:
        """Supports near the ends and the dial midway where the file does not place them."""
        if not isinstance(data, dict) or "length" not in data:
            return data
        try:
            length = Quantity(LENGTH, 0.0, 1e5).read(data["length"], _inch(info.context))
            usual = USUAL_SUPPORT[bool(_inch(info.context))]
            ends = [
                Quantity(LENGTH, 0.0, 1e5).read(data[key], _inch(info.context)) if key in data else mark
                for key, mark in (("left_support", usual), ("right_support", length - usual))
            ]
        except ValueError:
            return data
        usual_marks = dict(
            zip(("left_support", "right_support", "dial"), (*ends, sum(ends) / 2), strict=True)
        )
        return {key: f"{metres:.9f} m" for key, metres in usual_marks.items()} | data

    @model_validator(mode="after")
    def _stands(self, info: ValidationInfo) -> TrialTube:
        thinnest = self.outside_diameter / 2.0
        if self.wall >= thinnest:
            allowed = f"must be thinner than the tube's radius, {in_shop_units(thinnest, info.context)}"
            remedy = "Measure wall and outside diameter again; the wall is one side only."
            raise complaint(in_shop_units(self.wall, info.context), allowed, remedy, key="wall")
        marks = (0.0, self.left_support, self.dial, self.right_support, self.length)
        room = 4.0 * self.outside_diameter
        if not (list(marks) == sorted(marks) and self.right_support - self.left_support >= room):
            allowed = (
                "from the left end come left support, dial, right support, right end, with at least "
                f"{in_shop_units(room, info.context)} (four diameters) between the supports"
            )
            found = in_shop_units(self.right_support, info.context)
            raise complaint(
                found, allowed, "Move the supports apart, or take a longer tube.", key="right_support"
            )
        return self

    @property
    def span(self) -> float:
        """Distance between the supports [m]."""
        return self.right_support - self.left_support


class TrialBead(Record):
    """One bead as it was laid, and the bend read after it."""

    at: Annotated[Position | None, _if_written] = None
    """Of a bead round the tube: its distance from the left end; left out: the bead runs along the top."""
    start_mark: Annotated[Mark, Field(validation_alias="from", serialization_alias="from")]
    """Where it begins: distance from the left end; round the tube: along the skin from the top, to the front plus."""
    end_mark: Annotated[Mark, Field(validation_alias="to", serialization_alias="to")]
    """Where it ends, counted in the same way."""
    start: Annotated[float, Stopwatch()]
    """When its arc starts, since the first arc: "6:30"."""
    arc_seconds: Annotated[Annotated[float, Quantity(TIME, 1.0, 600.0)] | None, _if_written] = None
    """How long its arc burns [s]; left out: by the welder's travel speed."""
    read_at: Annotated[Annotated[float, Stopwatch()] | None, _if_written] = None
    """When the bend was read, since the first arc; left out: just before the next arc, or when all was cold."""
    reading: Annotated[Bend | None, _if_written] = None
    """What the dial or the gap showed then."""

    @property
    def length(self) -> float:
        """Length of the bead [m]."""
        return abs(self.end_mark - self.start_mark)

    @property
    def round_the_tube(self) -> bool:
        """Whether it runs round the tube instead of along it."""
        return self.at is not None


class BendGauge(Record):
    """How the bend is read."""

    by: Way = "dial"
    """"dial": indicator under the tube, counting up when the tube goes down; "straightedge": gap between the tube,
    turned over, and a straightedge on two equal blocks at the supports' marks."""
    error: Annotated[float, Quantity(LENGTH, 0.001, 2.0)] | None = None
    """Usual error of one reading; left out: 0.02 mm for a dial, 0.05 mm for a straightedge."""
    before: Bend = 0.0
    """What it showed before the first arc; a dial set to nought: 0."""

    @property
    def spread(self) -> float:
        """Standard deviation of one reading [m]."""
        return READING_ERROR[self.by] if self.error is None else self.error

    def bend(self, reading: float) -> float:
        """How far the middle has moved away from the beads when it shows a reading [m].

        The middle comes down on a dial under the tube; turned over, it rises toward the straightedge.
        """
        return reading - self.before if self.by == "dial" else self.before - reading


class Spot(Record):
    """The spot the thermometer reads."""

    at: Position
    """Distance from the left end."""
    around: Annotated[Mark, Field(validation_alias="round", serialization_alias="round")] = 0.0
    """Along the skin from the top, to the front plus; left out: on top."""


class SpotReading(Record):
    """What the thermometer showed."""

    time: Annotated[float, Stopwatch()]
    """When, since the first arc: "2:00"."""
    reading: Annotated[Annotated[float, Quantity(TEMPERATURE, -30.0, 900.0)] | None, _if_written] = None
    """What it showed."""


class Trial(Record):
    """A trial on scrap tube."""

    units: Literal["mm", "inch"]
    """System of the file's bare numbers."""
    trial: TrialInfo = TrialInfo()
    """What the trial is called."""
    tube: TrialTube
    """The tube."""
    welder: Welder
    """How the welding machine is set, as in a job file."""
    bend: BendGauge = BendGauge()
    """How the bend is read."""
    beads: Annotated[
        tuple[TrialBead, ...],
        Field(validation_alias="bead", serialization_alias="bead", min_length=1, max_length=12),
    ]
    """The beads in the order they were laid, one [[bead]] each."""
    thermometer: Spot | None = None
    """Where the thermometer reads."""
    temperatures: Annotated[
        tuple[SpotReading, ...],
        Field(validation_alias="temperature", serialization_alias="temperature", max_length=60),
    ] = ()
    """What it showed, one [[temperature]] each."""

    @property
    def inch(self) -> bool:
        """Whether the shop works in inches."""
        return self.units == "inch"

    def arc_time(self, bead: TrialBead) -> float:
        """Time a bead's arc burns [s]."""
        return bead.length / self.welder.travel_speed if bead.arc_seconds is None else bead.arc_seconds


def _inch(context: Any) -> bool | None:
    return context.get("inch") if isinstance(context, dict) else None
