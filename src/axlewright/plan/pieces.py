"""Seams, tacks and beads as a plan tells them.

Lengths are in metres and temperatures in degC. Positions along the axle are distances from the outer
face of the left knuckle flange, the datum a tape hooks onto.
"""

from __future__ import annotations

from dataclasses import dataclass

from axlewright.solid.mesh import Floats


@dataclass(frozen=True)
class SeamLine:
    """A seam unrolled for drawing.

    Args:
        attachment: name of what is welded on, as in the job file.
        seam: name of the seam, e.g. "front seam".
        length: arc length [m].
        path_s: arc length at sample points, shape (P,) [m].
        path_x: distance from the left flange at those points, shape (P,) [m].
        path_clock: clock position at those points, shape (P,), or None where the seam is no clock face.
        openings: stretches left unwelded, as (from, to) arc lengths [m].
        closed: True where the end of the seam is its start.
    """

    attachment: str
    seam: str
    length: float
    path_s: Floats
    path_x: Floats
    path_clock: Floats | None
    openings: tuple[tuple[float, float], ...]
    closed: bool


@dataclass(frozen=True)
class PlannedTack:
    """One tack of the plan; `at_s` is arc length along its seam [m], `at_x` is from the left flange [m].

    `length` is its length [m]; `enlarged` tells that the plan asks for more than the job file's length there.
    """

    number: int
    attachment: str
    seam: str
    at_s: float
    at_x: float
    at_clock: float | None
    start_s: float
    wait_s: float
    spot_c: float
    heat_j: float
    length: float
    enlarged: bool = False


@dataclass(frozen=True)
class PlannedBead:
    """One bead of the plan, welded from `from_*` to `to_*`.

    `number` is its place in the order, `tag` the name it has whatever the order, e.g. "C7".
    `from_s`, `to_s` are arc lengths along the seam [m]; `from_x`, `to_x` distances from the left flange [m];
    `from_clock`, `to_clock` are set on clock-face seams only. `start_s` counts from the first arc [s];
    `wait_s` is the cool-down planned before it [s]; `spot_c` the spot temperature expected at its start [degC].
    `turn_deg` is how the housing lies, 0 as on the vehicle, 90 front side up [deg]; `position` the welding position
    there (ISO 6947); `why` says in a few words why this bead is next.
    """

    number: int
    tag: str
    attachment: str
    seam: str
    from_s: float
    to_s: float
    from_x: float
    to_x: float
    from_clock: float | None
    to_clock: float | None
    direction: str
    start_s: float
    arc_s: float
    wait_s: float
    spot_c: float
    heat_j: float
    turn_deg: float = 0.0
    position: str = ""
    why: str = ""
