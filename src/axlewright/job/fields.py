"""Field types of the job file: each knows its unit, its plausible range and how to be written back.

Reading a file passes the context `{"inch": bool}`: bare numbers then are in the file's unit. Without a
context, as in Python code, bare numbers are SI. Either way the model holds SI.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    GetCoreSchemaHandler,
    GetJsonSchemaHandler,
    WithJsonSchema,
)
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from axlewright.errors import JobFileError
from axlewright.units import (
    CURRENT,
    LENGTH,
    SPEED,
    TEMPERATURE,
    VOLTAGE,
    WIRE_FEED,
    Kind,
    convert,
    from_si,
    parse_quantity,
    show,
)

_CLOCK_TEXT = re.compile(r"\s*(1[0-2]|0?[0-9])\s*:\s*([0-5][0-9])\s*")


def complaint(value: str, allowed: str, remedy: str, key: str = "") -> PydanticCustomError:
    """A validation error that carries what the user needs to read.

    `value` is spelled as it shall be shown; `key` is given where a whole table is checked and one of its
    keys is to blame: such errors are about dimensions that do not fit together.
    """
    parts = {"value": value, "allowed": allowed, "remedy": remedy, "key": key}
    return PydanticCustomError("misfit" if key else "job_file", "{value}: {allowed}. {remedy}", parts)


def in_shop_units(metres: float, context: Any) -> str:
    """A length for a message, in the unit of the file."""
    inch = bool(_inch(context))
    return f"{from_si(round(metres, LENGTH.digits), LENGTH, inch):.5g} {LENGTH.bare_unit(inch)}"


@dataclass(frozen=True)
class Quantity:
    """A number with a unit, kept in SI.

    `low` and `high` bound what is plausible, in the metric unit of the kind, both included;
    `text_unit` makes the writer spell the value out in that unit (cool-downs in minutes).
    """

    kind: Kind
    low: float
    high: float
    text_unit: str = ""

    def read(self, value: object, inch: bool | None) -> float:
        """SI value of what stands in the file (`inch` None: of an SI number)."""
        try:
            if inch is None and isinstance(value, int | float) and not isinstance(value, bool):
                si = round(float(value), self.kind.digits)
            else:
                si = parse_quantity(value, self.kind, bool(inch))
        except JobFileError as error:
            fault = error.faults[0]
            raise complaint(fault.value, fault.allowed, fault.remedy) from error
        except (OverflowError, ValueError) as error:
            allowed = f"a {self.kind.name} is a finite number"
            raise complaint(show(value), allowed, self._remedy(value, None)) from error
        low, high = self._bounds(self.kind.si)
        if not low - 1e-9 <= si <= high + 1e-9:
            raise complaint(self._shown(value, inch), self.allowed(), self._remedy(value, inch))
        return si

    def write(self, si: float, inch: bool | None) -> float | str:
        """What stands in a file of this unit for an SI value (SI number where there is no file)."""
        if inch is None:
            return si
        if self.text_unit:
            amount = convert(si, self.kind.si, self.text_unit)
            return f"{round(amount, 9):.12g} {self.text_unit}"
        number = from_si(si, self.kind, inch)
        return int(number) if number.is_integer() else number

    def allowed(self) -> str:
        """The plausible range in words, in both systems."""
        metric, other = self.text_unit or self.kind.metric, self.text_unit or self.kind.inch
        (low, high), (other_low, other_high) = self._bounds(metric), self._bounds(other)
        text = f"must be {low:.4g} to {high:.4g} {metric}"
        return text if other == metric else f"{text} ({other_low:.4g} to {other_high:.4g} {other})"

    def _bounds(self, unit: str) -> tuple[float, float]:
        return convert(self.low, self.kind.metric, unit), convert(self.high, self.kind.metric, unit)

    def _shown(self, value: object, inch: bool | None) -> str:
        if isinstance(value, str) or inch is None:
            return show(value)
        return f"{show(value)} {self.kind.bare_unit(inch)}"

    def _remedy(self, value: object, inch: bool | None) -> str:
        if self.text_unit and isinstance(value, int | float):
            return f'Write the unit with the number, e.g. "15 {self.text_unit}".'
        if isinstance(value, int | float) and inch is not None and value > 0 and self.kind is LENGTH:
            return (
                'Measure again, and check `units` at the top; one value may carry its own unit, e.g. "2 in".'
            )
        return "Check the number and its unit."

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        def read(value: object, info: core_schema.ValidationInfo) -> float:
            return self.read(value, _inch(info.context))

        def write(value: float, info: core_schema.SerializationInfo) -> float | str:
            return self.write(value, _inch(info.context))

        return core_schema.with_info_plain_validator_function(
            read, serialization=core_schema.plain_serializer_function_ser_schema(write, info_arg=True)
        )

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        number: dict[str, Any] = {"type": "number"}
        if self.low >= 0 and self.kind is not TEMPERATURE:
            number |= {"minimum": 0} if self.low == 0 else {"exclusiveMinimum": 0}
        unit = (
            self.kind.metric
            if self.kind.metric == self.kind.inch
            else f"{self.kind.metric} or {self.kind.inch}"
        )
        description = f"A bare number is in {unit}; {self.allowed()}."
        return {
            "anyOf": [number, {"type": "string", "minLength": 1, "maxLength": 60}],
            "description": description,
        }


def _inch(context: Any) -> bool | None:
    """Whether bare numbers are in inches; None where no file is being read or written."""
    return context.get("inch") if isinstance(context, dict) else None


@dataclass(frozen=True)
class ClockFace:
    """A position on the clock, above 0 to 12, written as a number of hours (5.5) or as "5:30"."""

    def read(self, value: object) -> float:
        """Hours of the position; 0 and 12:30 become 12 and 0.5."""
        hours = self._hours(value)
        if hours is None or not 0.0 <= hours < 13.0:
            raise complaint(
                show(value),
                "a clock position is 1 to 12",
                'Write hours as a number (5.5) or as text ("5:30").',
            )
        return round(hours % 12.0, 9) or 12.0

    def _hours(self, value: object) -> float | None:
        if isinstance(value, str):
            match = _CLOCK_TEXT.fullmatch(value)
            return int(match.group(1)) + int(match.group(2)) / 60.0 if match else None
        return value if isinstance(value, int | float) and not isinstance(value, bool) else None

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(
            self.read, serialization=core_schema.plain_serializer_function_ser_schema(lambda value: value)
        )

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        number = {"type": "number", "minimum": 0, "exclusiveMaximum": 13}
        text = {"type": "string", "pattern": r"^\s*(1[0-2]|0?[0-9])\s*:\s*[0-5][0-9]\s*$"}
        return {"anyOf": [number, text], "description": 'Hours on the clock face, 5.5 or "5:30".'}


@dataclass(frozen=True)
class Share:
    """A plain number without a unit."""

    low: float
    high: float

    def read(self, value: object) -> float:
        """The number itself, if it lies in its range."""
        good = isinstance(value, int | float) and not isinstance(value, bool)
        if not good or not self.low <= value <= self.high:  # type: ignore[operator]
            raise complaint(show(value), f"must be {self.low:g} to {self.high:g}", "Write a plain number.")
        return float(value)  # type: ignore[arg-type]

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(
            self.read, serialization=core_schema.plain_serializer_function_ser_schema(lambda value: value)
        )

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        return {"type": "number", "minimum": self.low, "maximum": self.high}


Clock = Annotated[float, ClockFace()]
Position = Annotated[float, Quantity(LENGTH, 0.0, 2600.0)]
Volts = Annotated[float, Quantity(VOLTAGE, 8.0, 50.0)]
Amps = Annotated[float, Quantity(CURRENT, 20.0, 500.0)]
TravelSpeed = Annotated[float, Quantity(SPEED, 40.0, 2000.0)]
WireFeed = Annotated[float, Quantity(WIRE_FEED, 0.05, 25.0)]


def _name(text: str) -> str:
    """A name that can stand on a screen and a sheet."""
    if not text or len(text) > 80 or not text.isprintable() or text != text.strip():
        raise complaint(
            show(text),
            "a name has 1 to 80 printable characters and no blank at either end",
            'Choose a short name, e.g. "front left gusset".',
        )
    return text


def _text(text: str) -> str:
    """Free text of at most a page."""
    if len(text) > 4000 or not text.replace("\n", "").replace("\t", "").isprintable():
        raise complaint(
            "this text", "must have at most 4000 printable characters", "Shorten it or retype it by hand."
        )
    return text


Name = Annotated[
    str, Field(strict=True), AfterValidator(_name), WithJsonSchema({"type": "string", "minLength": 1})
]
Text = Annotated[str, Field(strict=True), AfterValidator(_text), WithJsonSchema({"type": "string"})]


@dataclass(frozen=True)
class Pair:
    """Reads a list of two, [a, b], into a NamedTuple of two fields."""

    build: Callable[[Any], Any]
    first: Any
    second: Any

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        inner = core_schema.tuple_schema(
            [handler.generate_schema(self.first), handler.generate_schema(self.second)]
        )
        return core_schema.no_info_after_validator_function(self.build, inner)


def at_most(entries: int) -> BeforeValidator:
    """Refuses a longer list before any of its entries is looked at, so that noise costs no time."""

    def count(value: Any) -> Any:
        if isinstance(value, list) and len(value) > entries:
            raise complaint(f"a list of {len(value)}", f"must have at most {entries} entries", "Shorten it.")
        return value

    return BeforeValidator(count)


class Record(BaseModel):
    """Base of every table of the job file: frozen, and no key is let through unread."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", populate_by_name=True, use_attribute_docstrings=True
    )
