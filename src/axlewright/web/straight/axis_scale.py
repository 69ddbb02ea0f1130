"""How offsets from the line between the flanges are drawn: one enlargement for both planes and both sets."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

PLANES = ("vertical", "fore_aft")
SETS = ("before", "after")
TITLES = {"vertical": "From behind, as the driver sits", "fore_aft": "From above"}
"""Left is left in every picture, so the upright view is the one from behind."""

_TINIEST = 2e-5
"""Offset [m] that fills the picture at the least; below it a picture would show nothing but reading errors."""
_EMPTY = 1e-3
_FAR_POINT = 2.0
_STEPS = (1.0, 2.0, 3.0, 5.0)


@dataclass(frozen=True)
class AxisFrame:
    """Where distances and offsets lie in a picture [px].

    Args:
        width: of the picture.
        margin: beside the axle.
        reach: farthest an offset is drawn.
        length: of the axle [m].
        factor: enlargement of offsets against the scale along the axle.
        middle: height of the line between the flanges.
    """

    width: float
    margin: float
    reach: float
    length: float
    factor: float = 1.0
    middle: float = 0.0

    @property
    def per_metre(self) -> float:
        """Pixels for a metre of axle."""
        return (self.width - 2.0 * self.margin) / self.length

    def x(self, distance: float) -> float:
        """Place of a distance from the left flange."""
        return self.margin + distance * self.per_metre

    def y(self, offset: float) -> float:
        """Height of an offset [m]; up and forward are up. What lies beyond the picture is held at its edge."""
        drawn = offset * self.per_metre * self.factor
        return self.middle - min(max(drawn, -self.reach), self.reach)

    def beyond(self, offset: float) -> bool:
        """Whether an offset [m] lies off the picture."""
        return abs(offset) * self.per_metre * self.factor > self.reach + 1e-9


def enlargement(report: Mapping[str, Any], frame: AxisFrame) -> float:
    """The largest enlargement, 1, 2, 3 or 5 times a power of ten, that keeps axes, bands and all but far-off points
    on the picture in both planes."""
    shapes = [report[name][plane] for name in SETS if report[name] for plane in PLANES]
    told = [shape for shape in shapes if shape["told"]]
    edges = [abs(edge) for shape in told for key in ("axis", "low", "high") for edge in shape[key]]
    limits = [check["limit"] for check in report["verdict"]["checks"] if check["unit"] == "m"]
    reach = max([_TINIEST, *edges]) if told else max([_EMPTY, *limits])
    points = [abs(offset) for shape in told for _, offset, _ in shape["points"]]
    reach = max([reach, *(offset for offset in points if offset <= _FAR_POINT * reach)])
    most = frame.reach / (reach * frame.per_metre)
    power = 10.0 ** math.floor(math.log10(most))
    return max(step * power for step in _STEPS if step * power <= most * (1.0 + 1e-9))


def bow_limits(report: Mapping[str, Any], plane: str) -> list[Mapping[str, Any]]:
    """Limits on how far the axis may leave the line between the flanges that hold in a plane."""
    other = "forward" if plane == "vertical" else " up"
    checks = report["verdict"]["checks"]
    return [check for check in checks if check["unit"] == "m" and other not in check["name"]]
