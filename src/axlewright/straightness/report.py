"""What a check of straightness tells, as data: angles in degrees, lengths in metres, distances from the left flange."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any, Literal

import numpy as np
from pydantic import GetPydanticSchema
from pydantic_core import core_schema

from axlewright.solid.mesh import Floats

Answer = Literal["inside", "outside", "cannot be told"]
"""Of a limit: kept or broken by the whole band, or neither."""


def _as_numbers(source: Any, handler: Any) -> core_schema.CoreSchema:
    """An array as a list of numbers in a file."""
    numbers = core_schema.list_schema(core_schema.float_schema())
    written = core_schema.plain_serializer_function_ser_schema(lambda array: [float(x) for x in array])
    return core_schema.no_info_after_validator_function(np.array, numbers, serialization=written)


Along = Annotated[Floats, GetPydanticSchema(_as_numbers)]
"""Figures along the axle, shape (n,); a list of numbers in a file."""


@dataclass(frozen=True)
class Figure:
    """A figure with its 90 % band.

    Args:
        value: the figure itself, in degrees or metres.
        low: one case in twenty lies below.
        high: one case in twenty lies above.
        told: whether the readings tell it at all; where they do not, the numbers mean nothing.
    """

    value: float
    low: float
    high: float
    told: bool = True


@dataclass(frozen=True)
class Ends:
    """A figure at the left and at the right flange."""

    left: Figure
    right: Figure


@dataclass(frozen=True)
class Bend:
    """How a tube lies in one plane: its bow between centre and flange [m], and how far it points up or forward of the
    line between the flanges where it leaves the centre [deg]."""

    bow: Figure
    kink: Figure


@dataclass(frozen=True)
class PlaneShape:
    """The axis in one plane.

    Args:
        bow: where it lies farthest from the line between the flanges [m].
        bow_at: distance of that place [m].
        left: the left tube.
        right: the right tube.
        distances: along the axle, shape (n,) [m].
        axis: axis over that line, shape (n,) [m].
        low: one case in twenty lies below, shape (n,) [m].
        high: one case in twenty lies above, shape (n,) [m].
        points: what single readings say of the axis once the set-up is known, as (distance, offset) [m], with the
            number of the line in the file.
        told: whether the readings tell this plane at all.
    """

    bow: Figure
    bow_at: float
    left: Bend
    right: Bend
    distances: Along
    axis: Along
    low: Along
    high: Along
    points: tuple[tuple[float, float, int], ...]
    told: bool


@dataclass(frozen=True)
class Doubt:
    """A reading that does not go with the rest, or a set-up that looks wrong.

    Args:
        line: line of the file; 0 for a whole set-up.
        words: what is odd, and what to do.
        left_out: whether the figures are without it.
    """

    line: int
    words: str
    left_out: bool


@dataclass(frozen=True)
class Advice:
    """The reading to take next.

    Args:
        words: what to read, where and how, as an instruction.
        why: what it settles.
    """

    words: str
    why: str


@dataclass(frozen=True)
class ShapeReport:
    """The shape of the housing as one set of readings tells it, or as it changed between two.

    Args:
        name: of the set.
        readings: how many readings were used.
        camber: [deg].
        toe: [deg].
        twist: [deg].
        vertical: the axis from the front.
        fore_aft: the axis from above.
        doubts: what does not go together.
        untold: what the readings cannot tell, in words.
        advice: which reading to take next; empty where nothing is missing.
    """

    name: str
    readings: int
    camber: Ends
    toe: Ends
    twist: Figure
    vertical: PlaneShape
    fore_aft: PlaneShape
    doubts: tuple[Doubt, ...] = ()
    untold: tuple[str, ...] = ()
    advice: tuple[Advice, ...] = ()


@dataclass(frozen=True)
class LimitCheck:
    """A figure held against its limit.

    Args:
        name: what is judged, e.g. "camber left".
        unit: "deg" or "m".
        wanted: what it shall be.
        limit: how far it may lie from that.
        figure: what it is.
        answer: inside, outside or cannot be told.
    """

    name: str
    unit: Literal["deg", "m"]
    wanted: float
    limit: float
    figure: Figure
    answer: Answer


@dataclass(frozen=True)
class Verdict:
    """Whether the housing is straight enough.

    Args:
        answer: inside where every limit is kept for sure, outside where one is broken for sure.
        words: the verdict as one sentence.
        tolerance: what it is judged by, with its source.
        checks: limit by limit.
        tyre: toe-in in front of the axle against behind it at the tyre's diameter, left, right and both together [m];
            None without a diameter.
        tyre_diameter: [m], or None.
    """

    answer: Answer
    words: str
    tolerance: str
    checks: tuple[LimitCheck, ...]
    tyre: tuple[Figure, Figure, Figure] | None
    tyre_diameter: float | None


@dataclass(frozen=True)
class StraightnessReport:
    """A check of straightness: before, after, or both.

    Args:
        job_name: name of the job.
        job_reference: the shop's number.
        inch: whether the shop works in inches.
        before: before the work, if read.
        after: after it, if read; at least one of both is there.
        change: what changed, where both were read.
        verdict: on the latest set.
        cautions: to be shown with it.
        left_out: what the figures leave out.
    """

    job_name: str
    job_reference: str
    inch: bool
    before: ShapeReport | None
    after: ShapeReport | None
    change: ShapeReport | None
    verdict: Verdict
    cautions: tuple[str, ...]
    left_out: tuple[str, ...]

    @property
    def latest(self) -> ShapeReport:
        """The set the verdict is on."""
        found = self.after or self.before
        assert found is not None, "a report stands on at least one set"
        return found
