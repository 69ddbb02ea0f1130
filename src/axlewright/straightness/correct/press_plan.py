"""Where to support and push each tube, how far, and when a press is the wrong tool."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from axlewright.job.outline import Outline
from axlewright.job.schema import Job
from axlewright.straightness.axis import PARAMETERS, PLANES, AxisFit, Plane
from axlewright.straightness.correct.press_limits import USUAL_PRESS
from axlewright.straightness.correct.press_place import Tube, place_for
from axlewright.straightness.correct.press_set import Pressing, clock_of, press_set, pressing
from axlewright.straightness.correct.press_wanted import (
    Aims,
    Reached,
    aims_of,
    outcomes_of,
    wanted_kinks,
)
from axlewright.straightness.correct.report import Outcome, PressPlan, PressSet
from axlewright.straightness.fit.figures import angles
from axlewright.units import format_angle, format_deflection, format_force

TUBES: tuple[Tube, ...] = ("left", "right")
TWIST = 0.3
"""Twist from which on it is said that pressing does not take it out [deg]; a judgement."""

HELPS = 0.8
"""Share of the worst figure that a push on one tube alone must leave at most to be worth it; a judgement."""

HOW = (
    "Push, release, measure, push again: start with the first push. Then push deeper by about what is still "
    "missing.",
    "Measure with a dial under the tube, opposite the ram, against the line of the two supports, and let the load "
    "off fully before you read.",
    "A saddle shaped to the tube, a third of the way round, edges rounded; two shaped supports. A flat block or "
    "a bare "
    "ram dents the wall first.",
)
HARDENED = (
    "Not for hardened or heat-treated tube: it springs back almost all the way, then cracks. If in doubt, try a "
    "file on the skin.",
)
CAST_TUBES = (
    "The tubes are pressed into the casting: a push that reaches the joint loosens or cracks it. Both supports "
    "stand on "
    "the same tube; mark tube and casting across the joint first, and stop if the marks part.",
)
CRACKED_WELDS = (
    "Look at every old weld within the span, before and after each push. A cracked one: do not press.",
)


def press_plan(job: Job, fit: AxisFit, old_welds: bool = True) -> PressPlan:
    """Pushes that bring a housing back, one for each tube and direction that needs it.

    Args:
        job: the job.
        fit: the shape.
        old_welds: whether what the job welds on is already there.
    """
    sets: list[PressSet] = []
    outcomes: list[Outcome] = []
    untold: list[Plane] = []
    for plane in PLANES:
        aims = aims_of(job, fit, plane)
        if not aims.told:
            untold.append(plane)
        pressings = _pressings(job, aims, old_welds) if aims.told else ()
        made = [press_set(job, one, old_welds) for one in pressings]
        if any(one.refused for one in made):
            pressings, made = _the_rest(job, aims, pressings, made, old_welds)
        sets += made
        can_be = tuple(one for one, found in zip(pressings, made, strict=True) if not found.refused)
        outcomes += outcomes_of(aims, tuple(one.kink for one in can_be), _first(can_be))
    return PressPlan(tuple(sets), tuple(outcomes), _words(job, fit, sets, untold))


def _the_rest(
    job: Job, aims: Aims, pressings: tuple[Pressing, ...], made: list[PressSet], old_welds: bool
) -> tuple[tuple[Pressing, ...], list[PressSet]]:
    """Where one of two pushes cannot be: the other alone, if that helps; one half of a pair can make it worse."""
    places = {
        one.kink.tube: one.place for one, found in zip(pressings, made, strict=True) if not found.refused
    }
    alone = wanted_kinks(aims, {tube: place.at for tube, place in places.items()})
    if alone and aims.worst(alone) < HELPS * aims.worst(()):
        again = {kink.tube: pressing(job, kink, places[kink.tube]) for kink in alone}
        pressings = tuple(again.get(one.kink.tube, one) for one in pressings)
        return pressings, [press_set(job, one, old_welds) for one in pressings]
    only = ("The other tube would have to be pressed as well, and cannot be: this push alone does not help.",)
    return pressings, [replace(one, refused=one.refused or only) for one in made]


def _pressings(job: Job, aims: Aims, old_welds: bool) -> tuple[Pressing, ...]:
    """Kinks with their places: in tubes that have room for a press if that is enough, else wherever they are needed."""
    # Both a kink at the centre and the middle of a bow lie nearer to the centre than there is room for a ram.
    toward = dict(zip(TUBES, Outline(job).centre_span, strict=True))
    clocks = {kink.tube: clock_of(kink) for kink in wanted_kinks(aims, toward, allowed=0.0)}
    places = {tube: place_for(job, tube, clock, toward[tube], old_welds) for tube, clock in clocks.items()}
    free = {tube: place.at for tube, place in places.items() if not place.in_the_way}
    kinks = wanted_kinks(aims, free)
    if aims.worst(kinks) > 1.0:
        kinks = wanted_kinks(aims, {tube: place.at for tube, place in places.items()})
    made = []
    for kink in kinks:
        place = places[kink.tube]
        if clock_of(kink) != clocks[kink.tube]:
            # It came out the other way where there is room: what stands there on the other side counts.
            other = place_for(job, kink.tube, clock_of(kink), place.at, old_welds)
            place = replace(place, in_the_way=other.in_the_way)
        made.append(pressing(job, kink, place))
    return tuple(made)


def _kink_and_bow(fit: AxisFit, plane: Plane, tube: Tube) -> tuple[float, float]:
    """How far the axis turns at the centre, and between centre and flange of a tube [rad]."""
    number, sign = TUBES.index(tube), 1.0 if tube == "left" else -1.0
    x = fit.span.middle + sign * np.array([1e-9, fit.span.tubes[number]])
    slopes = fit.read(fit.span.slopes(x, plane))[0]
    return float(np.sum(fit.read(fit.span.kinks(plane))[0])), float(slopes[0] - slopes[1])


def _first(pressings: tuple[Pressing, ...]) -> Reached:
    """What the first pushes leave of a plane's kinks, the least and the most of all."""
    each = [one.reached() for one in pressings] or [Reached(0.0, 0.0, 0.0)]
    return Reached(
        min(one.low for one in each), min(one.middle for one in each), max(one.high for one in each)
    )


def _words(job: Job, fit: AxisFit, sets: list[PressSet], untold: list[Plane]) -> tuple[str, ...]:
    """How to press, and where a press is the wrong tool."""
    said = [
        f"The readings do not tell the {plane} plane: nothing is planned there. Measure it first."
        for plane in untold
    ]
    if not sets:
        return (*said, "Nothing to press: no figure the readings tell lies outside its limit.")
    for one in sets:
        said += _spread(job, fit, one)
    twist = angles(fit)[-1]
    if twist.told and abs(twist.value) > TWIST:
        said.append(f"A press does not take out twist ({format_angle(twist.value)} here).")
    if all(one.refused for one in sets):
        return (*said, "A press is the wrong tool here.")
    pressed = [one for one in sets if not one.refused]
    if len(pressed) < len(sets):
        said.append(
            "One of the pushes cannot be done: what is expected is without it, and is not enough by itself."
        )
    ratios = sorted(one.push[1] / one.wanted for one in pressed)
    said.append(
        f"Expect to push {ratios[0]:.0f} to {ratios[-1] + 0.5:.0f} times the set that is wanted; the trade "
        "reckons with about five."
    )
    strongest = max(one.load[2] for one in pressed)
    if strongest > USUAL_PRESS:
        said.append(
            f"Strong steel under a stiff saddle takes up to {format_force(strongest, job.inch)}; a 20 t press gives "
            f"{format_force(USUAL_PRESS, job.inch)}. Watch its gauge and stop there."
        )
    said += [*HOW, *HARDENED]
    if job.housing.centre.casting is not None:
        said += CAST_TUBES
    return (*said, *CRACKED_WELDS)


def is_spread(fit: AxisFit, one: PressSet) -> bool:
    """Whether the tube of a push is bent all along more than it is at the centre, in the plane that is pressed."""
    kink, bow = _kink_and_bow(fit, _plane_of(one), "left" if one.tube == "left" else "right")
    return abs(bow) >= abs(kink)


def _plane_of(one: PressSet) -> Plane:
    return "vertical" if one.clock in (6.0, 12.0) else "fore-aft"


def _spread(job: Job, fit: AxisFit, one: PressSet) -> list[str]:
    """A bow along the tube is not undone by one sharp bend."""
    if not is_spread(fit, one):
        return []
    side = "left" if one.tube == "left" else "right"
    way = "up" if _plane_of(one) == "vertical" else "forward"
    height = format_deflection(abs(float(fit.values[PARAMETERS.index(f"{side} bow {way}")])), job.inch)
    where = "along the truss" if job.trusses else "along the tube"
    return [
        f"The {one.tube} tube's bend is a bow of {height} spread {where}, not a kink: one push leaves an S. "
        "Heat lines or counter-beads undo it where it is."
    ]
