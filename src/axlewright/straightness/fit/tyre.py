"""Toe as a tape shows it at the tyre."""

from __future__ import annotations

import math

from axlewright.straightness.report import Figure


def toe_at_tyre(toe: float, diameter: float) -> float:
    """How much nearer to the vehicle's middle a wheel stands in front of the axle than behind it, x = D sin(toe) [m].

    Source: geometry; a garage page on toe prints 0.062832 in for 24 in and 0.15 deg.

    Args:
        toe: of one wheel, positive for toe-in [rad].
        diameter: across which it is told, of the tyre or its rim [m].
    """
    return diameter * math.sin(toe)


def figure_at_tyre(toe: Figure, diameter: float) -> Figure:
    """The same of a figure in degrees, with its band [m]."""
    low, value, high = (
        toe_at_tyre(math.radians(degrees), diameter) for degrees in (toe.low, toe.value, toe.high)
    )
    return Figure(value, low, high, toe.told)
