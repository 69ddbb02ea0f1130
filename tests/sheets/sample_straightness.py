"""Invented checks of straightness, built by hand; no figure in them was measured or worked out by the package."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from axlewright.errors import Fault
from axlewright.straightness.readings.reading import (
    Angle,
    Dot,
    FourPoint,
    Gap,
    Height,
    Origin,
    ReadingSet,
    Runout,
    ToeTape,
)
from axlewright.straightness.report import (
    Advice,
    Bend,
    Doubt,
    Ends,
    Figure,
    LimitCheck,
    PlaneShape,
    ShapeReport,
    StraightnessReport,
    Verdict,
)

LENGTH = 1.3
UNTOLD = Figure(0.0, -1e6, 1e6, told=False)
ALONG = np.linspace(0.0, LENGTH, 61)
CAUTIONS = (
    "Stand the housing on rated stands and secure it before you lean over it.",
    "Measure when the whole housing has the temperature of the shop.",
)
LEFT_OUT = ("Sag of the housing between its stands.", "Wear of the knuckle pivots.")


def figure(value: float, half: float) -> Figure:
    """A figure with an even band."""
    return Figure(value, value - half, value + half)


def plane_shape(bow: float, half: float, *, points: int = 7, told: bool = True, seed: int = 1) -> PlaneShape:
    """An even arc of a given bow with its band, and readings scattered about it."""
    arc = 4.0 * ALONG / LENGTH * (1.0 - ALONG / LENGTH)
    at = np.linspace(0.06, LENGTH - 0.06, points)
    noise = half * np.random.default_rng(seed).uniform(-1.0, 1.0, points)
    offsets = bow * 4.0 * at / LENGTH * (1.0 - at / LENGTH) + noise
    bend = Bend(figure(bow / 4.0, half), figure(0.1, 0.05)) if told else Bend(UNTOLD, UNTOLD)
    return PlaneShape(
        bow=figure(bow, half) if told else UNTOLD,
        bow_at=LENGTH / 2.0,
        left=bend,
        right=bend,
        distances=ALONG,
        axis=bow * arc if told else 0.0 * arc,
        low=(bow - half) * arc if told else -1e6 * arc,
        high=(bow + half) * arc if told else 1e6 * arc,
        points=tuple((float(d), float(w), k + 2) for k, (d, w) in enumerate(zip(at, offsets, strict=True)))
        if told
        else (),
        told=told,
    )


def ends(left: float, right: float, half: float = 0.05, *, told: bool = True) -> Ends:
    """A figure at both flanges."""
    return Ends(figure(left, half), figure(right, half)) if told else Ends(UNTOLD, UNTOLD)


def shape(
    name: str, up: float, forward: float, *, untold: str = "", half: float = 0.0001, points: int = 7
) -> ShapeReport:
    """A set of readings of an evenly bent housing: camber and toe go with the bow.

    Args:
        name: of the set.
        up: bow [m].
        forward: bow [m].
        untold: plane that is not told, "vertical" or "fore-aft" or both.
        half: half the band of the bow [m].
        points: readings in each plane.
    """
    vertical, fore_aft = "vertical" not in untold, "fore-aft" not in untold
    lean = float(np.degrees(4.0 / LENGTH))
    words = tuple(f"Nothing was read in the {plane} plane." for plane in untold.split())
    advice = Advice("Read the gap to a straightedge on the front of both tubes.", "It settles toe.")
    return ShapeReport(
        name=name,
        readings=points * (vertical + fore_aft) + 2,
        camber=ends(-lean * up, -lean * up, told=vertical),
        toe=ends(lean * forward, lean * forward, told=fore_aft),
        twist=figure(0.06, 0.12),
        vertical=plane_shape(up, half, points=points, told=vertical),
        fore_aft=plane_shape(forward, half, points=points, told=fore_aft, seed=2),
        untold=words,
        advice=(advice,) if words else (),
    )


def verdict(latest: ShapeReport, bow: float | None) -> Verdict:
    """An invented verdict on camber, and on bow where a limit is given [m]."""
    checks = [
        LimitCheck(f"camber {end}", "deg", 0.0, 0.5, getattr(latest.camber, end), "inside")
        for end in ("left", "right")
    ]
    if bow is not None:
        checks += [
            LimitCheck("bow up", "m", 0.0, bow, latest.vertical.bow, "outside"),
            LimitCheck("bow forward", "m", 0.0, bow, latest.fore_aft.bow, "cannot be told"),
        ]
    words = "Too much: the middle lies 0.90 mm below the line between the flanges, and 0.50 mm is allowed."
    tyre = (figure(0.001, 0.0004), figure(0.001, 0.0004), figure(0.002, 0.0006))
    return Verdict("outside", words, "limits of the invented manual, page 12", tuple(checks), tyre, 0.8)


def sample_straightness(
    *,
    sets: str = "both",
    inch: bool = False,
    up: float = -0.0009,
    forward: float = 0.0002,
    bow: float | None = 0.0005,
    odd: tuple[int, ...] = (),
    untold: str = "",
    half: float = 0.0001,
    points: int = 7,
) -> StraightnessReport:
    """A check before and after welding.

    Args:
        sets: both, before or after.
        inch: whether the shop works in inches.
        up: bow after the work [m].
        forward: bow after the work [m].
        bow: limit on the bow [m], or None.
        odd: lines of the file that do not go with the rest.
        untold: planes that no set tells.
        half: half the band of the bow [m].
        points: readings in each plane.
    """
    before = shape("before.csv, as it came in", 0.0001, -0.0001, untold=untold, half=half, points=points)
    after = shape("after.csv, cold", up, forward, untold=untold, half=half, points=points)
    change = shape("change", up - 0.0001, forward + 0.0001, untold=untold, half=1.4 * half, points=0)
    doubts = [Doubt(line, "It lies 0.4 mm off the rest: read it again.", True) for line in odd]
    after = replace(after, doubts=tuple(doubts))
    return StraightnessReport(
        job_name="Mountain rescue support truck",
        job_reference="MR-0417",
        inch=inch,
        before=before if sets != "after" else None,
        after=after if sets != "before" else None,
        change=change if sets == "both" else None,
        verdict=verdict(before if sets == "before" else after, bow),
        cautions=CAUTIONS,
        left_out=LEFT_OUT,
    )


def sample_readings(at: tuple[float, ...]) -> ReadingSet:
    """One reading of every kind at each distance [m], line by line from 2, and what belongs to the flanges."""
    lines = iter(range(2, 1000))

    def origin(setup: str = "straightedge on left tube") -> Origin:
        return Origin(next(lines), setup, 0.00005)

    found: list[Gap | Runout | FourPoint | Height | Angle | ToeTape | Dot] = []
    for k, distance in enumerate(at):
        found.append(Gap(origin(), distance, "bottom", 0.0101 + 0.0001 * k))
        found.append(Gap(origin(), distance, "front", 0.0102))
        found.append(Runout(origin("between centres"), distance, 0.0003, 5.25, 0.25, None))
    found.append(Runout(origin("V-blocks"), at[0], 0.0004, 6.0, 0.25, (0.1, 1.2)))
    found.append(FourPoint(origin("between centres"), at[0], (0.0001, 0.0, -0.0001, 0.0), None))
    found.append(Height(origin("flat surface"), at[1], "bottom", 0.4123))
    found.append(Gap(origin("string"), at[1] + 0.03, "rear", 0.0234))
    for end in ("left", "right"):
        found.append(Angle(origin(), end, "camber", float(np.radians(-0.25))))
        found.append(Angle(origin(), end, "toe", float(np.radians(0.15))))
    found.append(ToeTape(origin("toe tape"), 1.5, 1.502, 0.8))
    found.append(Dot(origin("laser on left flange"), "left", 1.3, 0.002, -0.001))
    fault = Fault("after.csv line 40, at", '"1.4 m"', "is off the housing", "Measure again.")
    return ReadingSet("after.csv, cold", tuple(found), (fault,))
