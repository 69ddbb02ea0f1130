"""Seams, marks and the hand of travel as the shop has them: tape from the left flange, clock position, words."""

from __future__ import annotations

import numpy as np

from axlewright.housing.seam import Seam
from axlewright.plan.pieces import SeamLine
from axlewright.solid.mesh import Floats

DIRECTIONS = (("to the right", "to the left"), ("rearward", "forward"), ("down", "up"))
"""Words for the hand of travel along x, y and z, backward and forward."""

_LEAST_SLOPE = 0.5
"""A tape hooked on the flange tells places apart where its reading grows at least this fast against the seam."""


def seam_line(seam: Seam, half_length: float) -> SeamLine:
    """A seam unrolled.

    Args:
        seam: the seam.
        half_length: half of the housing's length [m].
    """
    distances = half_length - seam.path[:, 0]
    return SeamLine(
        seam.attachment, seam.name, seam.length, seam.arc, distances, seam.clock, seam.openings, seam.closed
    )


def runs_along_axle(line: SeamLine) -> bool:
    """Whether a tape hooked onto the left flange tells every place to be welded on a seam apart.

    Its reading must only grow, or only fall, and fast enough wherever a bead may lie. Over an opening it may stand
    still, as where a truss climbs over the centre: no bead is to be found there.
    """
    if line.path_clock is not None or line.closed:
        return False
    step_s, step_x = np.diff(line.path_s), np.diff(line.path_x)
    middle = (line.path_s[:-1] + line.path_s[1:]) / 2.0
    inside = [(middle > start) & (middle < end) for start, end in line.openings]
    least = np.where(np.any(inside, axis=0) if inside else False, 0.0, _LEAST_SLOPE * step_s)
    return bool(np.all(step_x >= least) or np.all(-step_x >= least))


def distance_from_flange(seam: Seam, half_length: float, s: float) -> float:
    """Distance from the left flange of a place on a seam [m].

    Args:
        seam: the seam.
        half_length: half of the housing's length [m].
        s: arc length; on a closed seam it may count on past the joint [m].
    """
    return half_length - float(_at(seam, seam.path, s)[0])


def clock_position(seam: Seam, s: float) -> float | None:
    """Clock position of a place on a seam, above 0 and up to 12; None where the seam is no clock face."""
    if seam.clock is None:
        return None
    return float(_at(seam, seam.clock, s)) % 12.0 or 12.0


def hand_of_travel(seam: Seam, begin: float, end: float) -> str:
    """Which way an arc goes from one arc length to another, in words."""
    if seam.clock is not None:
        return "clockwise" if end > begin else "anticlockwise"
    travel = _at(seam, seam.path, end) - _at(seam, seam.path, begin)
    # Along the axle wins unless it hardly counts: a bead up the centre's flank still goes to the left or right.
    axis = int(np.argmax(np.abs(travel) * np.array([3.0, 1.0, 1.0])))
    return DIRECTIONS[axis][int(travel[axis] > 0)]


def _at(seam: Seam, values: Floats, s: float) -> Floats:
    inside = s % seam.length if seam.closed and not 0.0 <= s <= seam.length else s
    return seam.at(values, np.array(inside))
