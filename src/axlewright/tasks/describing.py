"""Describing a job by form: what the job file's tables and keys are, whether a description holds, the skin to draw.

The pages make their forms from this, so that a key that is added to the job file cannot be missing from them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import ValidationError, WithJsonSchema
from pydantic.fields import FieldInfo
from pydantic_core import PydanticCustomError

from axlewright.errors import Fault, JobFileError
from axlewright.job.bare_housing import Centre, Housing, KnuckleFlange, Tube
from axlewright.job.faults import Misfit, place, refusals
from axlewright.job.fields import ClockFace, Pair, Quantity, Record, Share
from axlewright.job.fit import misfits
from axlewright.job.lines import Path
from axlewright.job.outline import Outline
from axlewright.job.procedure import forbidden_welds
from axlewright.job.schema import Job
from axlewright.units import LENGTH, Kind, convert

FormKind = Literal[
    "quantity",
    "clock",
    "number",
    "whole number",
    "choice",
    "choices",
    "yes or no",
    "name",
    "text",
    "numbers",
    "pairs",
]
"""What stands in a key: decides which control a form shows for it."""


@dataclass(frozen=True)
class FieldSpec:
    """A key of the job file.

    Args:
        key: as in the file.
        what: what stands in it.
        needed: whether it may not be left out.
        meaning: what it is and where to measure it.
        reader: knows the plausible range; None where there is none.
        choices: the words or numbers to choose from.
        columns: the two columns of a list of pairs.
        most: entries a list may have.
    """

    key: str
    what: FormKind
    needed: bool
    meaning: str
    reader: Quantity | ClockFace | Share | None = None
    choices: tuple[str | int, ...] = ()
    columns: tuple[FieldSpec, ...] = ()
    most: int = 1

    @property
    def quantity(self) -> Kind | None:
        """What is measured; None where it carries no unit."""
        return self.reader.kind if isinstance(self.reader, Quantity) else None

    @property
    def is_length(self) -> bool:
        """Whether a drawing can show it."""
        return self.quantity is LENGTH

    @property
    def own_unit(self) -> str:
        """The unit it is always written with, e.g. "min"; "" where the system's unit goes."""
        return self.reader.text_unit if isinstance(self.reader, Quantity) else ""

    def range_in(self, inch: bool) -> str:
        """The plausible range in the system's unit, e.g. "40 to 200 mm"; "" where there is none."""
        if isinstance(self.reader, Share):
            return f"{self.reader.low:g} to {self.reader.high:g}"
        if not isinstance(self.reader, Quantity):
            return ""
        unit = self.own_unit or self.reader.kind.bare_unit(inch)
        low, high = (
            convert(bound, self.reader.kind.metric, unit) for bound in (self.reader.low, self.reader.high)
        )
        return f"{low:.4g} to {high:.4g} {unit}"

    def read(self, value: object, inch: bool) -> float | None:
        """The value in SI (a clock position in hours), None where it cannot be read or is not plausible."""
        return _read(self.reader, value, inch)


@lru_cache(maxsize=4096)
def _read(reader: Quantity | ClockFace | Share | None, value: object, inch: bool) -> float | None:
    # While one field is typed all others are read again and again.
    try:
        if isinstance(reader, Quantity):
            return reader.read(value, inch)
        return None if reader is None else reader.read(value)
    except PydanticCustomError:
        return None


@dataclass(frozen=True)
class TableSpec:
    """A table of the job file; `many` where it may stand several times, up to `most`."""

    key: str
    meaning: str
    needed: bool
    many: bool
    most: int
    parts: tuple[FieldSpec | TableSpec, ...]

    @property
    def fields(self) -> tuple[FieldSpec, ...]:
        """Its own keys."""
        return tuple(part for part in self.parts if isinstance(part, FieldSpec))

    @property
    def tables(self) -> tuple[TableSpec, ...]:
        """The tables in it."""
        return tuple(part for part in self.parts if isinstance(part, TableSpec))

    def part(self, key: str) -> FieldSpec | TableSpec:
        """The key or table of that name.

        Raises:
            KeyError: there is none.
        """
        found = next((part for part in self.parts if part.key == key), None)
        if found is None:
            raise KeyError(key)
        return found


@lru_cache(maxsize=1)
def described_job() -> TableSpec:
    """The whole job file as tables and keys."""
    return TableSpec("", "", True, False, 1, _parts(Job))


@dataclass(frozen=True)
class Refusal:
    """Something wrong at one place of a description: `path` as in the file, list entries counted from 0."""

    path: Path
    fault: Fault


def refused(tree: Mapping[str, Any]) -> tuple[Refusal, ...]:
    """Everything that keeps a description from being a job, in the words of the job file; empty where it is one.

    Args:
        tree: tables as a job file has them, with its `units`.
    """
    context = {"inch": tree.get("units") == "inch"}
    try:
        job = Job.model_validate(tree, context=context, by_alias=True, by_name=False)
    except ValidationError as error:
        return tuple(_refusals(refusals(error)))
    return tuple(_refusals(tuple(forbidden_welds(job)) or tuple(misfits(job))))


@dataclass(frozen=True)
class BareMeasures:
    """What the skin of a bare housing is drawn from; lengths in metres, `offset` toward the driver's left."""

    length: float
    left_diameter: float
    right_diameter: float
    centre_offset: float
    centre_height: float
    centre_depth: float
    centre_width: float


@lru_cache(maxsize=256)
def skin(bare: BareMeasures, at: tuple[float, ...]) -> tuple[tuple[float, float], ...]:
    """Half-height and half-depth [m] of a housing's skin at distances from the left flange [m]."""
    outline = _outline(bare)
    return tuple((outline.half_height(place), outline.half_depth(place)) for place in at)


@lru_cache(maxsize=8)
def _outline(bare: BareMeasures) -> Outline:
    """The outline of a housing of which nothing else is known."""
    centre = Centre.model_construct(
        offset=bare.centre_offset, height=bare.centre_height, depth=bare.centre_depth, width=bare.centre_width
    )
    housing = Housing.model_construct(
        length=bare.length,
        left_tube=Tube.model_construct(outside_diameter=bare.left_diameter),
        right_tube=Tube.model_construct(outside_diameter=bare.right_diameter),
        centre=centre,
        knuckle_flange=KnuckleFlange.model_construct(),
    )
    return Outline(Job.model_construct(units="mm", housing=housing))


def _refusals(found: Any) -> Iterator[Refusal]:
    for one in found:
        assert isinstance(one, Misfit)
        yield Refusal(one.path, Fault(place(one.path), one.value, one.allowed, one.remedy))


def _parts(record: type[Record]) -> tuple[FieldSpec | TableSpec, ...]:
    return tuple(_part(name, info) for name, info in record.model_fields.items())


def _part(name: str, info: FieldInfo) -> FieldSpec | TableSpec:
    key = str(info.validation_alias or name)
    annotation, details = _unwrapped(info.annotation)
    details = (*info.metadata, *details)
    meaning = " ".join((info.description or "").split())
    # Stands are required of the model, which places them itself where a file does not.
    needed = info.is_required() and "left out:" not in meaning
    most = next((detail.max_length for detail in details if hasattr(detail, "max_length")), 1)
    many = get_origin(annotation) is tuple
    inner, inner_details = _unwrapped(get_args(annotation)[0]) if many else (annotation, details)
    if isinstance(inner, type) and issubclass(inner, Record):
        own = " ".join((inner.__doc__ or "").split())
        return TableSpec(key, own, needed, many, most, _parts(inner))
    if many:
        return _list(key, needed, meaning, inner, inner_details, most)
    return _plain(key, needed, meaning, annotation, details)


def _unwrapped(annotation: Any) -> tuple[Any, tuple[Any, ...]]:
    """A type without None and without Annotated, and what Annotated said."""
    if get_origin(annotation) in (Union, UnionType):
        annotation = next(one for one in get_args(annotation) if one is not type(None))
    if get_origin(annotation) is Annotated:
        inner, details = _unwrapped(get_args(annotation)[0])
        return inner, (*get_args(annotation)[1:], *details)
    return annotation, ()


def _list(key: str, needed: bool, meaning: str, inner: Any, details: tuple[Any, ...], most: int) -> FieldSpec:
    pair = next((detail for detail in details if isinstance(detail, Pair)), None)
    if pair is not None:
        columns = tuple(
            _plain(name, True, "", *_unwrapped(column))
            for name, column in zip(inner._fields, (pair.first, pair.second), strict=True)
        )
        return FieldSpec(key, "pairs", needed, meaning, columns=columns, most=most)
    if get_origin(inner) is Literal:
        return FieldSpec(key, "choices", needed, meaning, choices=get_args(inner), most=most)
    return FieldSpec(key, "numbers", needed, meaning, most=most)


def _plain(key: str, needed: bool, meaning: str, annotation: Any, details: tuple[Any, ...]) -> FieldSpec:
    reader = next((one for one in details if isinstance(one, Quantity | ClockFace | Share)), None)
    if get_origin(annotation) is Literal:
        return FieldSpec(key, "choice", needed, meaning, choices=get_args(annotation))
    return FieldSpec(key, _form_kind(annotation, reader, details), needed, meaning, reader)


def _form_kind(annotation: Any, reader: object, details: tuple[Any, ...]) -> FormKind:
    readers: dict[type, FormKind] = {Quantity: "quantity", ClockFace: "clock", Share: "number"}
    if reader is not None:
        return readers[type(reader)]
    if annotation is str:
        schemas = [one.json_schema or {} for one in details if isinstance(one, WithJsonSchema)]
        return "name" if any("minLength" in schema for schema in schemas) else "text"
    plain: dict[type, FormKind] = {bool: "yes or no", int: "whole number"}
    if annotation not in plain:
        raise JobFileError(Fault("form", str(annotation), "no control is known for this type", "Add one."))
    return plain[annotation]
