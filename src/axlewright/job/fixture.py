"""The fixture a housing may be welded in: supports with clamps on a stiff bench, and its pre-bend."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, ValidationInfo, model_validator

from axlewright.job.fields import Position, Quantity, Record, complaint
from axlewright.units import LENGTH, STIFFNESS

USUAL_STIFFNESS = 5e7
"""Stiffness of a support with its clamp on a heavy bench [N/m].

Three springs in a row, by hand (none measured): a steel beam 200 mm deep with wide flanges, 1 m between its feet, gives
some 570 kN/mm at its middle; a pair of M16 rods of 200 mm grip some 330 kN/mm; block, shims and the skin of the tube
they touch some 70 kN/mm (judgement). Together 52 kN/mm. The joints count most, so a better beam changes little.
"""

_USUAL: Any = "usual"
USUAL_SHIM_STEP = {False: 0.0005, True: 0.0254 / 64}
"""Thinnest step of the shims [m], in mm jobs and in inch jobs."""

Shim = Annotated[float, Quantity(LENGTH, 0.0, 30.0)]


def _usual_step(value: Any, info: ValidationInfo) -> Any:
    """0.5 mm or 1/64 in where the file says nothing."""
    if value is not _USUAL:
        return value
    inch = isinstance(info.context, dict) and bool(info.context.get("inch"))
    return f"{USUAL_SHIM_STEP[inch]:.9f} m"


class FixtureSupport(Record):
    """A support with its clamp, which holds the housing's axis at one place."""

    at: Position
    """Distance of its middle from the outer face of the left knuckle flange."""
    plane: Literal["vertical", "fore-aft", "both"] = "vertical"
    """Which way it holds: "vertical", up and down; "fore-aft", forward and back; left out: vertical."""
    stiffness: Annotated[float, Quantity(STIFFNESS, 0.5, 1000.0)] = USUAL_STIFFNESS
    """Force for each unit it gives way, bench, block and clamp together; left out: 50 kN/mm, a heavy bench."""
    shim_under: Shim | None = None
    """Shim between block and housing, which raises it here; only with prebend = "given"."""
    shim_behind: Shim | None = None
    """Shim behind the housing, which pushes it forward here; only with prebend = "given"."""

    @model_validator(mode="after")
    def _shim_where_it_holds(self) -> FixtureSupport:
        for key, shim, plane in (
            ("shim_under", self.shim_under, "vertical"),
            ("shim_behind", self.shim_behind, "fore-aft"),
        ):
            if shim is not None and self.plane not in (plane, "both"):
                raise complaint(
                    "given",
                    f'this support does not hold the housing that way, its plane is "{self.plane}"',
                    f'Leave it out, or write plane = "{plane}" or "both".',
                    key=key,
                )
        return self

    def holds(self, plane: str) -> bool:
        """Whether it holds the axis in a plane, "vertical" or "fore-aft"."""
        return self.plane in (plane, "both")

    def given_shim(self, plane: str) -> float:
        """The shim given for a plane, 0 where there is none [m]."""
        return (self.shim_under if plane == "vertical" else self.shim_behind) or 0.0


class Fixture(Record):
    """Supports the housing is clamped to while it is welded, and let go from when it is cold."""

    prebend: Literal["best", "none", "given"] = "best"
    """"best": the plan finds the shims; "none": clamped straight; "given": the shims of this file; left out: best."""
    shim_step: Annotated[float, Quantity(LENGTH, 0.01, 5.0), BeforeValidator(_usual_step)] = Field(
        default=_USUAL, validate_default=True
    )
    """Thinnest step your shims allow; left out: 0.5 mm or 1/64 in."""
    supports: Annotated[
        tuple[FixtureSupport, ...],
        Field(validation_alias="support", serialization_alias="support", min_length=1, max_length=12),
    ]
    """Supports with their clamps, one [[fixture.support]] each."""

    @model_validator(mode="after")
    def _shims_if_given(self) -> Fixture:
        shims = [
            shim for one in self.supports for shim in (one.shim_under, one.shim_behind) if shim is not None
        ]
        if shims and self.prebend != "given":
            raise complaint(
                f'"{self.prebend}"',
                "the supports of this file have shims, which only a given pre-bend uses",
                'Write prebend = "given", or leave the shims out.',
                key="prebend",
            )
        if self.prebend == "given" and not shims:
            raise complaint(
                '"given"',
                "no support of this file has a shim",
                'Write shim_under or shim_behind at a support, or prebend = "best" or "none".',
                key="prebend",
            )
        return self

    def holding(self, plane: str) -> tuple[FixtureSupport, ...]:
        """The supports that hold a plane, from left to right."""
        return tuple(sorted((one for one in self.supports if one.holds(plane)), key=lambda one: one.at))
