"""Housings of known shape, measured by geometry alone: readings are worked out here without the package's own rows."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field, replace

import numpy as np

from axlewright.job.schema import Job
from axlewright.straightness.axis import PARAMETERS, Span, span_of
from axlewright.straightness.readings.reading import (
    Angle,
    Dot,
    FourPoint,
    Gap,
    Height,
    Origin,
    Reading,
    ReadingSet,
    Runout,
    ToeTape,
)

SQUARE, SEAT, FORM = math.radians(0.05), 0.05e-3, 0.05e-3
"""Flanges out of square, seats and skin as the theory page states them, written again and not imported."""

OUTWARD = {"top": (0.0, 1.0), "front": (1.0, 0.0), "bottom": (0.0, -1.0), "rear": (-1.0, 0.0)}
"""Which way a side faces: forward and up."""


@dataclass(frozen=True)
class Housing:
    """A housing of known shape.

    Args:
        job: the job.
        values: of the parameters, shape (11,).
    """

    job: Job
    values: np.ndarray

    def figure(self, name: str) -> float:
        """One of the parameters."""
        return float(self.values[PARAMETERS.index(name)])

    @property
    def span(self) -> Span:
        """Lengths only."""
        return span_of(self.job)

    def axis(self, at: float) -> np.ndarray:
        """Forward and up of the axis over the line between the flanges, at a distance from the left flange [m]."""
        return np.array([self._offset(at, way) for way in ("forward", "up")])

    def _offset(self, at: float, way: str) -> float:
        span = self.span
        x = span.half_length - at
        if abs(x) >= span.half_length:
            return 0.0
        end = "left" if x >= span.middle else "right"
        tube, bent = span.tubes[end == "right"], span.bent_to[end == "right"]
        share = abs(x - span.middle) / tube
        tent = self.figure(f"offset {way}") * (1.0 - share)
        # The bow by its curvature: even up to the truss's end, none beyond, nought at both ends, highest 1.
        start = bent - bent**2 / 2.0
        bow = start * share - 0.5 * share**2 + 0.5 * max(share - bent, 0.0) ** 2
        return tent + self.figure(f"{end} bow {way}") * bow / (0.5 * start**2)

    def normal(self, end: str) -> np.ndarray:
        """Forward and up of the outward normal of a flange's outer face, small angles [rad]."""
        flange = 0.0 if end == "left" else self.job.housing.length
        inward = 1e-7 if end == "left" else -1e-7
        tube = (self.axis(flange) - self.axis(flange + inward)) / 1e-7
        own = [self.figure(f"{end} flange {way}") for way in ("forward", "up")]
        return tube + np.array(own)

    def camber(self, end: str) -> float:
        """Top outward positive [rad]: the face looks down."""
        return -float(self.normal(end)[1])

    def toe(self, end: str) -> float:
        """Toe-in positive [rad]: the face looks ahead."""
        return float(self.normal(end)[0])


@dataclass(frozen=True)
class Shop:
    """Somebody who measures a housing, exactly or with the errors that the readings say.

    Args:
        housing: what is measured.
        random: draws errors; None to measure exactly.
        held: how set-ups lie, drawn when first asked for.
    """

    housing: Housing
    random: np.random.Generator | None = None
    held: dict[str, float] = field(default_factory=dict)

    def error(self, spread: float) -> float:
        """One error."""
        return 0.0 if self.random is None else float(self.random.normal(0.0, spread))

    def lie(self, setup: str, what: str, most: float) -> float:
        """How a set-up lies, the same whenever it is asked for."""
        random = self.random or np.random.default_rng(len(self.held))
        return self.held.setdefault(f"{setup}, {what}", float(random.uniform(-most, most)))

    def skin(self, at: float) -> np.ndarray:
        """Middle of the skin, forward and up, off the family by its form."""
        return self.housing.axis(at) + np.array([self.error(FORM), self.error(FORM)])

    def read(self, reading: Reading) -> Reading:
        """The reading as this housing gives it."""
        match reading:
            case Gap():
                return self._gap(reading)
            case Height():
                return self._height(reading)
            case Runout() | FourPoint():
                return self._dial(reading)
            case Angle():
                return self._angle(reading)
            case ToeTape():
                both = math.sin(self.housing.toe("left")) + math.sin(self.housing.toe("right"))
                front = 1.5 + self.error(reading.origin.error)
                rear = 1.5 + reading.diameter * both + self.error(reading.origin.error)
                return replace(reading, front=front, rear=rear)
            case Dot():
                return self._dot(reading)

    def radius(self, at: float) -> float:
        """Radius of the tube [m]."""
        left = at < self.housing.job.housing.length / 2.0 - self.housing.span.middle
        tube = self.housing.job.housing.left_tube if left else self.housing.job.housing.right_tube
        return tube.outside_diameter / 2.0

    def _gap(self, reading: Gap) -> Gap:
        setup = reading.origin.setup + reading.side
        line = 0.07 + self.lie(setup, "place", 0.02) + self.lie(setup, "slope", 0.02) * reading.at
        skin = float(np.dot(OUTWARD[reading.side], self.skin(reading.at))) + self.radius(reading.at)
        return replace(reading, gap=line - skin + self.error(reading.origin.error))

    def _height(self, reading: Height) -> Height:
        """The left end stands higher by the level of the set-up."""
        level = self.lie(reading.origin.setup, "level", 0.02)
        axle = 0.5 + self.lie(reading.origin.setup, "surface", 0.1) - level * reading.at
        skin = self.skin(reading.at)[1] + (1.0 if reading.side == "top" else -1.0) * self.radius(reading.at)
        return replace(reading, height=axle + skin + self.error(reading.origin.error))

    def _dial(self, reading: Runout | FourPoint) -> Runout | FourPoint:
        seats = reading.blocks or (0.0, self.housing.job.housing.length)
        held = [self.housing.axis(seat) + self._seat(reading.origin.setup, seat) for seat in seats]
        share = (reading.at - seats[0]) / (seats[1] - seats[0])
        forward, up = self.skin(reading.at) - held[0] - share * (held[1] - held[0])
        if isinstance(reading, FourPoint):
            marks = (up, forward, -up, -forward)
            return replace(
                reading, readings=tuple(0.3e-3 + mark + self.error(reading.origin.error) for mark in marks)
            )
        clock = math.degrees(math.atan2(forward, up)) / 30.0 + self.error(reading.clock_error)
        total = max(2.0 * math.hypot(forward, up) + self.error(reading.origin.error), 0.0)
        return replace(reading, total=total, clock=clock % 12.0)

    def _seat(self, setup: str, seat: float) -> np.ndarray:
        if self.random is None:
            return np.zeros(2)
        random, name = self.random, f"{setup}, seat at {seat:.4f}"
        return np.array([self.held.setdefault(name + way, float(random.normal(0.0, SEAT))) for way in "yz"])

    def _angle(self, reading: Angle) -> Angle:
        setup, left = reading.origin.setup, reading.end == "left"
        level, aside = self.lie(setup, "level", 0.02), self.lie(setup, "level on side", 0.02)
        roll = self.lie(setup, "roll", 0.3)
        end = "left" if left else "right"
        # A housing with its left end higher leans the left face up, which is less camber, and the right one down.
        value = {
            "camber": self.housing.camber(end) - (level if left else -level),
            "toe": self.housing.toe(end) + (aside if left else -aside),
            "caster": roll + (self.housing.figure("twist") if left else 0.0),
            "level": level,
            "level on side": aside,
        }[reading.sense]
        return replace(reading, angle=value + self.error(reading.origin.error))

    def _dot(self, reading: Dot) -> Dot:
        """The beam leaves the middle of the flange against its outward normal."""
        length = self.housing.job.housing.length
        at = reading.distance if reading.end == "left" else length - reading.distance
        forward, up = -self.housing.normal(reading.end) * reading.distance - self.housing.axis(at)
        error = reading.origin.error
        return replace(reading, up=float(up) + self.error(error), forward=float(forward) + self.error(error))


def random_values(random: np.random.Generator, span: Span) -> np.ndarray:
    """A shape of the family as welding or a bend may leave it: offsets of 1.5 mm, bows of 0.7 mm, twist of 0.5 deg."""
    values = np.zeros(len(PARAMETERS))
    for number, name in enumerate(PARAMETERS):
        spread = 1.5e-3 if "offset" in name else 0.7e-3 if "bow" in name else SQUARE
        values[number] = random.normal(0.0, math.radians(0.5) if name == "twist" else spread)
    return values


Plan = Callable[[Job], list[Reading]]
"""Readings to take of a job, with their errors; what they read is of no account."""


def places(job: Job, on_each: int) -> list[float]:
    """Distances spread evenly over both tubes [m]."""
    thickness = job.housing.knuckle_flange.thickness
    half, middle = job.housing.centre.width / 2.0, job.distance_at(job.housing.centre.offset)
    left = np.linspace(thickness + 0.03, middle - half - 0.03, on_each)
    right = np.linspace(middle + half + 0.03, job.housing.length - thickness - 0.03, on_each)
    return [round(float(at), 4) for at in (*left, *right)]


def measured(shop: Shop, plan: list[Reading], name: str = "set") -> ReadingSet:
    """A set of readings of a shop's housing, lines numbered from 2."""
    read = [shop.read(replace(one, origin=replace(one.origin, line=n))) for n, one in enumerate(plan, 2)]
    return ReadingSet(name, tuple(read))


def origin(setup: str, error: float) -> Origin:
    """An origin whose line is given later."""
    return Origin(0, setup, error)


def string(
    job: Job, side: str, on_each: int = 5, error: float = 0.2e-3, setup: str = "string"
) -> list[Reading]:
    """A string along a side, read on both tubes."""
    return [Gap(origin(setup, error), at, side, 0.0) for at in places(job, on_each)]  # type: ignore[arg-type]


def heights(job: Job, side: str = "top", on_each: int = 5, error: float = 0.3e-3) -> list[Reading]:
    """Heights over a bench."""
    return [Height(origin("bench", error), at, side, 0.0) for at in places(job, on_each)]  # type: ignore[arg-type]


def totals(job: Job, on_each: int = 4, error: float = 0.02e-3, blocks: bool = False) -> list[Reading]:
    """Dial totals between centres, or in V-blocks near the flanges."""
    at = places(job, on_each)
    seats = (at[0] - 0.02, at[-1] + 0.02) if blocks else None
    return [Runout(origin("turning", error), one, 0.0, 0.0, 0.25, seats) for one in at]


def four_points(job: Job, on_each: int = 3, error: float = 0.02e-3, blocks: bool = False) -> list[Reading]:
    """Four-point readings between centres, or in V-blocks near the flanges."""
    at = places(job, on_each)
    seats = (at[0] - 0.02, at[-1] + 0.02) if blocks else None
    return [FourPoint(origin("turning", error), one, (0.0, 0.0, 0.0, 0.0), seats) for one in at]


def angles(sense: str, error: float = math.radians(0.07), level: bool = True) -> list[Reading]:
    """An angle finder on both flanges, with the level across where it is wanted."""
    setup = "on its side" if sense == "toe" else "as on the vehicle"
    found = [Angle(origin(setup, error), end, sense, 0.0) for end in ("left", "right")]  # type: ignore[arg-type]
    across = {"camber": "level", "toe": "level on side"}.get(sense)
    return found + ([Angle(origin(setup, error), "across", across, 0.0)] if level and across else [])  # type: ignore[arg-type]


def tape(error: float = 0.5e-3, diameter: float = 0.7) -> list[Reading]:
    """A toe tape."""
    return [ToeTape(origin("toe tape", error), 0.0, 0.0, diameter)]


def dots(job: Job, error: float = 1.2e-3) -> list[Reading]:
    """Laser dots from both flanges onto a target in the other."""
    length = job.housing.length
    return [Dot(origin(f"laser {end}", error), end, length, 0.0, 0.0) for end in ("left", "right")]  # type: ignore[arg-type]
