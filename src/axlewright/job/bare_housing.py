"""The bare housing as a tape and a caliper see it."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, ValidationInfo, model_validator

from axlewright.job.fields import Name, Position, Quantity, Record, complaint, in_shop_units
from axlewright.units import LENGTH


class Tube(Record):
    """One axle tube."""

    outside_diameter: Annotated[float, Quantity(LENGTH, 40.0, 200.0)]
    """Outside diameter, by caliper on bare metal."""
    wall: Annotated[float, Quantity(LENGTH, 2.0, 25.0)]
    """Wall thickness after cleaning, by thickness gauge or through the vent hole."""

    @model_validator(mode="after")
    def _wall_fits(self, info: ValidationInfo) -> Tube:
        if self.wall >= self.outside_diameter / 2.0:
            radius = in_shop_units(self.outside_diameter / 2.0, info.context)
            raise complaint(
                in_shop_units(self.wall, info.context),
                f"must be thinner than the tube's radius, {radius}",
                "Measure wall and outside diameter again; the wall is one side only.",
                key="wall",
            )
        return self


class Centre(Record):
    """The part of the housing that holds the ring gear: a pressed ring or a casting."""

    offset: Annotated[float, Quantity(LENGTH, -900.0, 900.0)] = 0.0
    """Centre's middle from the middle of the axle, toward the driver's left; negative: right; left out: 0."""
    height: Annotated[float, Quantity(LENGTH, 80.0, 700.0)]
    """Outside height, top to bottom."""
    depth: Annotated[float, Quantity(LENGTH, 60.0, 600.0)]
    """Outside depth, front to rear, without cover or carrier."""
    width: Annotated[float, Quantity(LENGTH, 80.0, 800.0)]
    """Outside width along the axle, from tube to tube."""
    wall: Annotated[float, Quantity(LENGTH, 3.0, 40.0)]
    """Wall thickness."""
    opening_diameter: Annotated[float, Quantity(LENGTH, 40.0, 650.0)] | None = None
    """Diameter of the hole for carrier or cover; leave out where there is none."""
    opening_side: Literal["front", "rear"] = "rear"
    """Side of that hole; left out: rear."""
    casting: Literal["steel", "nodular iron", "unknown"] | None = None
    """What the casting is made of: needed for a cast housing only; "unknown" until it has been identified."""


class KnuckleFlange(Record):
    """The flange at each end that carries the knuckle; both ends alike."""

    diameter: Annotated[float, Quantity(LENGTH, 60.0, 400.0)]
    """Outside diameter."""
    thickness: Annotated[float, Quantity(LENGTH, 5.0, 80.0)]
    """Thickness along the axle."""


class Perch(Record):
    """A spring perch that belongs to the housing."""

    name: Name
    """Name of your choice, e.g. "left perch"; spacers refer to it."""
    at: Position
    """Distance of its middle from the outer face of the left knuckle flange."""
    length: Annotated[float, Quantity(LENGTH, 20.0, 500.0)]
    """Length along the axle."""
    width: Annotated[float, Quantity(LENGTH, 20.0, 300.0)]
    """Width front to rear."""
    height: Annotated[float, Quantity(LENGTH, 20.0, 300.0)]
    """Height of its top face above the axle line (the middle of the tube)."""


class Seal(Record):
    """An oil seal in the housing whose temperature is to be watched."""

    name: Name
    """Name of your choice, e.g. "left axle seal"."""
    at: Position
    """Distance from the outer face of the left knuckle flange."""


class Housing(Record):
    """The bare housing."""

    family: Literal["pressed", "cast"]
    """"pressed": pressed steel with a removable carrier; "cast": cast centre with pressed-in tubes."""
    length: Annotated[float, Quantity(LENGTH, 600.0, 2600.0)]
    """Length between the outer faces of the two knuckle flanges."""
    steel: Literal["S235", "S275", "S355"] = "S355"
    """Grade of tubes and pressings (EN 10025-2); left out: S355."""
    left_tube: Tube
    """Tube on the driver's left."""
    right_tube: Tube
    """Tube on the driver's right."""
    centre: Centre
    """The centre."""
    knuckle_flange: KnuckleFlange
    """Both knuckle flanges."""
    perches: Annotated[
        tuple[Perch, ...], Field(validation_alias="perch", serialization_alias="perch", max_length=20)
    ] = ()
    """Spring perches, one [[housing.perch]] each."""
    seals: Annotated[
        tuple[Seal, ...], Field(validation_alias="seal", serialization_alias="seal", max_length=20)
    ] = ()
    """Oil seals, one [[housing.seal]] each."""

    @model_validator(mode="after")
    def _casting_named(self) -> Housing:
        casting = self.centre.casting
        if self.family == "cast" and casting is None:
            raise complaint(
                "missing",
                'a cast housing needs casting = "steel", "nodular iron" or "unknown"',
                'Write "unknown" until a spark test or chemistry has told.',
                key="centre.casting",
            )
        if self.family == "pressed" and casting is not None:
            raise complaint(
                f'"{casting}"',
                "a pressed housing has no casting",
                'Leave casting out, or write family = "cast".',
                key="centre.casting",
            )
        return self
