"""The kinds of readings a shop can take without a bar and pucks, each in SI.

Distances `at` count along the axle from the outer face of the left knuckle flange [m]. The clock on the tube is seen
from the driver's right end: 12 top, 3 front, 6 bottom, 9 rear; it is marked on the housing and turns with it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from axlewright.errors import Fault

Side = Literal["top", "front", "bottom", "rear"]
End = Literal["left", "right", "across"]
Sense = Literal["camber", "toe", "caster", "level", "level on side"]


@dataclass(frozen=True)
class Origin:
    """Where a reading stands and how sure it is.

    Args:
        line: line of the file, for messages; 0 where there is no file.
        setup: name of the set-up; readings of one set-up share one line, level or clamping.
        error: standard deviation of one reading in the unit of its kind: [m], for angles [rad].
    """

    line: int
    setup: str
    error: float


@dataclass(frozen=True)
class Gap:
    """Gap between a straightedge or string and the skin [m]; all of one set-up and side lie along one straight line."""

    origin: Origin
    at: float
    side: Side
    gap: float


@dataclass(frozen=True)
class Height:
    """Height of the skin's top or bottom over a flat surface, or over a line levelled beside it [m]."""

    origin: Origin
    at: float
    side: Literal["top", "bottom"]
    height: float


@dataclass(frozen=True)
class Runout:
    """Total indicator reading while the housing turns, and where the dial stands highest.

    Args:
        origin: where it stands.
        at: distance of the dial [m].
        total: highest less lowest reading [m].
        clock: clock mark under the dial at the highest reading [h].
        clock_error: standard deviation of that [h].
        blocks: distances of the two V-blocks [m], or None between centres in the flanges' bores.
    """

    origin: Origin
    at: float
    total: float
    clock: float
    clock_error: float
    blocks: tuple[float, float] | None


@dataclass(frozen=True)
class FourPoint:
    """Dial readings with clock marks 12, 3, 6 and 9 under the dial in turn, higher where the skin is farther out."""

    origin: Origin
    at: float
    readings: tuple[float, float, float, float]
    blocks: tuple[float, float] | None


@dataclass(frozen=True)
class Angle:
    """Reading of an angle finder [rad].

    Sense "camber": on the machined face of a knuckle flange as it lies on the vehicle, positive with the top outward.
    "toe": the same with the housing on its side, positive for toe-in. "caster": on the flange's fore-aft lean,
    positive with the top rearward. "level": on a straight bar from flange to flange, positive with the left end
    higher; "level on side": the same with the housing on its side, positive with the left end farther forward. End
    "across" goes with level.
    """

    origin: Origin
    end: End
    sense: Sense
    angle: float


@dataclass(frozen=True)
class ToeTape:
    """Tape from side to side in front of and behind the axle, at a diameter on discs or bars on both flanges [m]."""

    origin: Origin
    front: float
    rear: float
    diameter: float


@dataclass(frozen=True)
class Dot:
    """Dot of a laser that stands square on one flange, on a target centred on the axle line at a distance [m].

    The beam runs through the housing toward the other flange: a flange that leans up throws the dot down.

    Args:
        origin: where it stands.
        end: flange the laser stands on.
        distance: from that flange along the axle to the target [m].
        up: dot above the target's centre [m].
        forward: dot ahead of it [m].
    """

    origin: Origin
    end: Literal["left", "right"]
    distance: float
    up: float
    forward: float


Reading: TypeAlias = Gap | Height | Runout | FourPoint | Angle | ToeTape | Dot


@dataclass(frozen=True)
class ReadingSet:
    """All readings of one check of a housing.

    Args:
        name: what the shop calls it, e.g. "after welding", or the file's name.
        readings: in the order of the file.
        faults: lines that cannot be used, and why; they are left out.
    """

    name: str
    readings: tuple[Reading, ...]
    faults: tuple[Fault, ...] = ()
