"""From row readings to the figures a shop measures: camber, toe, bow, twist.

Sign rules (rigid-body geometry): ends up is negative camber on both sides, ends forward is toe-in on both.
All are taken from the line between the middles of the two knuckle flanges.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axlewright.solid.mesh import Floats


@dataclass(frozen=True)
class ColdShape:
    """The shape of the housing's axis.

    Args:
        stations: x of the sections, left to right flange, shape (R,) [m].
        vertical: height of the axis over the line between the flanges, shape (R,) [m].
        fore_aft: the same forward, shape (R,) [m].
        camber: left and right, positive with the top outward [rad].
        toe: left and right, positive for toe-in [rad].
        twist: left flange turned past the right one, top going rearward on the left is positive [rad].
    """

    stations: Floats
    vertical: Floats
    fore_aft: Floats
    camber: tuple[float, float]
    toe: tuple[float, float]
    twist: float

    @property
    def bow_vertical(self) -> float:
        """Largest distance of the axis above (+) or below (-) the line between the flanges [m]."""
        return float(self.vertical[np.argmax(np.abs(self.vertical))])

    @property
    def bow_fore_aft(self) -> float:
        """Largest distance of the axis ahead of (+) or behind (-) that line [m]."""
        return float(self.fore_aft[np.argmax(np.abs(self.fore_aft))])


def cold_shape(stations: Floats, reading: Floats) -> ColdShape:
    """Shape from the readings of the axis and the flanges.

    Args:
        stations: x of the sections, shape (R,) [m].
        reading: y and z of the sections, then six rotations, shape (2 R + 6,).
    """
    count = len(stations)
    forward, lean_forward = _off_chord(stations, reading[:count])
    upward, lean_up = _off_chord(stations, reading[count : 2 * count])
    left, right = reading[2 * count : 2 * count + 3], reading[2 * count + 3 :]
    # A rotation about y turns the axis down (dz/dx = -rotation), one about z turns it forward.
    rise_left, rise_right = -left[1] - lean_up, -right[1] - lean_up
    ahead_left, ahead_right = left[2] - lean_forward, right[2] - lean_forward
    return ColdShape(
        stations, upward, forward, (-rise_left, rise_right), (ahead_left, -ahead_right), left[0] - right[0]
    )


def _off_chord(stations: Floats, offsets: Floats) -> tuple[Floats, float]:
    """Offsets from the line through the first and the last station, and the slope of that line."""
    slope = (offsets[0] - offsets[-1]) / (stations[0] - stations[-1])
    return offsets - offsets[-1] - slope * (stations - stations[-1]), float(slope)
