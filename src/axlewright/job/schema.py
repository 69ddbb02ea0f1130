"""The whole job as one frozen model, in SI, and its JSON Schema."""

from __future__ import annotations

from typing import Annotated, Any, Literal, TypeAlias

from pydantic import Field, ValidationInfo, model_validator

from axlewright.errors import JobFileError
from axlewright.job.attachments import (
    Bracket,
    Guard,
    GuardOpening,
    Gusset,
    Spacer,
    TopPoint,
    Truss,
    TrussOpening,
)
from axlewright.job.bare_housing import Centre, Housing, KnuckleFlange, Perch, Seal, Tube
from axlewright.job.fields import Record
from axlewright.job.fixture import Fixture, FixtureSupport
from axlewright.job.settings import Ambient, Bench, JobInfo, Limits, Supports, Welder
from axlewright.job.straightness import Straightness
from axlewright.units import LENGTH, parse_quantity

__all__ = [
    "Ambient",
    "Attachment",
    "Bench",
    "Bracket",
    "Centre",
    "Fixture",
    "FixtureSupport",
    "Guard",
    "GuardOpening",
    "Gusset",
    "Housing",
    "Job",
    "JobInfo",
    "KnuckleFlange",
    "Limits",
    "Perch",
    "Seal",
    "Spacer",
    "Straightness",
    "Supports",
    "TopPoint",
    "Truss",
    "TrussOpening",
    "Tube",
    "Welder",
    "job_schema",
]

Attachment: TypeAlias = Truss | Guard | Spacer | Gusset | Bracket


def _several(key: str) -> Any:
    """A table that may stand several times, as [[key]]."""
    return Field(validation_alias=key, serialization_alias=key, max_length=40)


class Job(Record):
    """Everything a shop knows about one job.

    Lengths are in metres, speeds in m/s, temperatures in degC, times in seconds. Distances along the
    axle count from the outer face of the left knuckle flange; `x_at` turns them into x.
    """

    units: Literal["mm", "inch"]
    """System of the file's bare numbers."""
    job: JobInfo
    """What the job is called."""
    housing: Housing
    """The bare housing."""
    trusses: Annotated[tuple[Truss, ...], _several("truss")] = ()
    """Trusses, one [[truss]] each."""
    guards: Annotated[tuple[Guard, ...], _several("guard")] = ()
    """Guards, one [[guard]] each."""
    spacers: Annotated[tuple[Spacer, ...], _several("spacer")] = ()
    """Perch spacers, one [[spacer]] each."""
    gussets: Annotated[tuple[Gusset, ...], _several("gusset")] = ()
    """Knuckle gussets, one [[gusset]] each."""
    brackets: Annotated[tuple[Bracket, ...], _several("bracket")] = ()
    """Plain brackets, one [[bracket]] each."""
    welder: Welder
    """How the welding machine is set."""
    supports: Supports
    """Where the housing rests; left out: 20 % and 80 % of its length."""
    fixture: Fixture | None = None
    """The fixture it is welded in; left out: none, the housing lies free on its stands."""
    bench: Bench = Bench()
    """Habits at the bench."""
    limits: Limits = Limits()
    """Temperatures not to be exceeded."""
    straightness: Straightness = Straightness()
    """How straight it has to be; left out: class E of ISO 13920."""
    ambient: Ambient = Ambient()
    """The air in the shop."""

    @model_validator(mode="before")
    @classmethod
    def _usual_stands(cls, data: Any, info: ValidationInfo) -> Any:
        """Put the stands at 20 % and 80 % of the length where the file does not place them."""
        if not isinstance(data, dict) or not isinstance(data.get("supports", {}), dict):
            return data
        length = _length_of(data.get("housing"), info.context)
        usual = {"left": f"{0.2 * length:.9f} m", "right": f"{0.8 * length:.9f} m"}
        return data | {"supports": usual | data.get("supports", {})}

    @property
    def inch(self) -> bool:
        """Whether the shop works in inches."""
        return self.units == "inch"

    @property
    def attachments(self) -> tuple[Attachment, ...]:
        """Everything that is welded on, kind by kind."""
        return (*self.trusses, *self.guards, *self.spacers, *self.gussets, *self.brackets)

    @property
    def bare(self) -> Job:
        """The same housing before anything is welded on."""
        nothing = dict.fromkeys(("trusses", "guards", "spacers", "gussets", "brackets"), ())
        return self.model_copy(update=nothing)

    def x_at(self, distance: float) -> float:
        """Position x [m], positive to the driver's left, of a distance from the left flange [m]."""
        return self.housing.length / 2.0 - distance

    def distance_at(self, x: float) -> float:
        """Distance from the left flange [m] of a position x [m]."""
        return self.housing.length / 2.0 - x


def _length_of(housing: Any, context: Any) -> float:
    """Length [m] of a housing that is still to be checked; a plain 1 m where it cannot be read."""
    if isinstance(housing, Housing):
        return housing.length
    length = housing.get("length") if isinstance(housing, dict) else None
    inch = context.get("inch") if isinstance(context, dict) else None
    if inch is None and isinstance(length, float):
        return length
    try:
        metres = parse_quantity(length, LENGTH, bool(inch))
    except JobFileError:
        return 1.0
    return metres if 0.6 <= metres <= 2.6 else 1.0


def job_schema() -> dict[str, Any]:
    """JSON Schema of the job file as TOML data, for editors that complete and check while typing."""
    schema = Job.model_json_schema(by_alias=True, mode="validation")
    schema |= {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "axlewright job file"}
    schema["required"] = [key for key in schema["required"] if key != "supports"]
    parts = schema["$defs"]
    parts["Supports"].pop("required")
    for record in (schema, *parts.values()):
        for field in record["properties"].values():
            field.pop(
                "default", None
            )  # The model's defaults are SI; the file's are told in the descriptions.
    return schema
