"""How straight the housing has to be, and the tyre at which toe is told."""

from __future__ import annotations

from typing import Annotated, Literal

from axlewright.job.fields import Quantity, Record, Text
from axlewright.units import ANGLE, LENGTH

_Limit = Annotated[float, Quantity(ANGLE, 0.01, 3.0)]
_Wanted = Annotated[float, Quantity(ANGLE, -5.0, 5.0)]


class Straightness(Record):
    """How straight the housing has to be; every limit that is given has to be kept."""

    iso_13920: Literal["E", "F", "G", "H"] | None = None
    """Straightness class of ISO 13920 for the axis between the flanges; left out: E where no other limit is given."""
    bow: Annotated[float, Quantity(LENGTH, 0.05, 30.0)] | None = None
    """Farthest the axis may lie from the line between the flanges, in either plane."""
    camber: _Limit | None = None
    """Farthest the camber of a knuckle flange may lie from camber_wanted, either way."""
    camber_wanted: _Wanted = 0.0
    """Camber the flanges shall have, positive with the top outward; left out: 0."""
    toe: _Limit | None = None
    """Farthest the toe of a knuckle flange may lie from toe_wanted, either way."""
    toe_wanted: _Wanted = 0.0
    """Toe each flange shall have, positive for toe-in; left out: 0."""
    source: Text = ""
    """Where these figures come from, such as the maker's manual with its page."""
    tyre_diameter: Annotated[float, Quantity(LENGTH, 300.0, 1600.0)] | None = None
    """Outside diameter of the tyre, at which toe is told in mm and inches."""
