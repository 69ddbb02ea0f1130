"""When to stop: cracked, corrected too often, bent too far, or nothing that brings it back."""

from __future__ import annotations

import numpy as np

from axlewright.straightness.axis import PLANES, AxisFit, Plane
from axlewright.straightness.correct.report import LinesPlan, PressPlan
from axlewright.straightness.report import Figure, Verdict

MOST_CYCLES = 2
"""Damage and repair cycles a member may go through: Avent, use of heat straightening for damaged steel, abstract: at
most two; after a full repair yield strength up to a fifth higher, elongation down by a third."""
TOO_FAR = 2.0
"""Angle off what is wanted at one flange, or in one tube, from which on a housing is sent out [deg]; a judgement: bent
sharply, over one diameter of tube, that strains its skin by 1.7 per cent, and bending it back by as much again."""
MOST_LINES = 16
"""Most counter-beads or heat lines in one correction before it is sent out; a judgement: each leaves its stress."""

CRACKED = (
    "A crack was found: straightening opens it. The crack is dealt with first by someone who may repair such a "
    "part, "
    "or the housing is scrapped."
)


def bent_too_far(fit: AxisFit, verdict: Verdict) -> tuple[str, ...]:
    """What is bent beyond what a shop should bring back, in words."""
    said = [
        f"{_capital(check.name)} is {abs(check.figure.value - check.wanted):.1f} deg off, more than "
        f"{TOO_FAR:.0f}: the steel "
        "has been bent so far that bending it back uses up what it can still bear."
        for check in verdict.checks
        if check.unit == "deg" and check.figure.told and _nearer(check.figure, check.wanted) > TOO_FAR
    ]
    for plane in PLANES:
        for tube, (angle, spread) in zip(("left", "right"), _bends(fit, plane), strict=True):
            if abs(angle) - 1.645 * spread > TOO_FAR:
                said.append(
                    f"The {tube} tube is bent by {abs(angle):.1f} deg {_ways(plane)}, more than {TOO_FAR:.0f}."
                )
    return tuple(said)


def worn_out(cycle: int) -> tuple[str, ...]:
    """Why no further correction is made, by how many there have been."""
    if cycle <= MOST_CYCLES:
        return ()
    return (
        f"This would be correction number {cycle}. After {MOST_CYCLES} the steel is harder and more brittle than "
        "it was: "
        "yield strength up to a fifth higher, elongation down by a third (Avent). No more than that is good "
        "practice.",
    )


def no_way_back(lines: tuple[LinesPlan, ...], press: PressPlan | None) -> tuple[str, ...]:
    """Why none of the ways that were looked at does; empty where one does, or where some were not looked at."""
    usable_press = press is not None and press.sets and not any(push.refused for push in press.sets)
    looked_at = {plan.way for plan in lines} | ({"press"} if press is not None else set())
    few_enough = any(0 < len(plan.lines) <= MOST_LINES for plan in lines)
    if usable_press or few_enough or len(looked_at) < 3:
        return ()
    said = ["None of the three ways brings this housing back."]
    for plan in lines:
        if plan.lines:
            said.append(
                f"{plan.way.capitalize()}: {len(plan.lines)} would be needed, more than {MOST_LINES}."
            )
        elif plan.remedy:
            said.append(f"{plan.way.capitalize()}: {plan.remedy}")
    refused = [reason for push in (press.sets if press else ()) for reason in push.refused]
    said += [f"Press: {reason}" for reason in dict.fromkeys(refused)]
    return tuple(said)


def second_time(cycle: int) -> tuple[str, ...]:
    """What to mind from the second correction on."""
    if cycle < MOST_CYCLES:
        return ()
    return (
        "This is the second correction, and the last: the steel is by now up to a fifth stronger and a third less "
        "ductile than it was (Avent). Correct less than the whole error, look for cracks after each step.",
    )


def _bends(fit: AxisFit, plane: Plane) -> tuple[tuple[float, float], ...]:
    """How far each tube is bent from centre to flange in a plane, with its standard deviation [deg]."""
    ends = np.array(
        [fit.span.half_length, fit.span.middle + 1e-9, fit.span.middle - 1e-9, -fit.span.half_length]
    )
    slopes = fit.span.slopes(ends, plane)
    values, spreads = fit.read(np.stack([slopes[0] - slopes[1], slopes[2] - slopes[3]]))
    return tuple(
        (float(np.degrees(value)), float(np.degrees(spread)))
        for value, spread in zip(values, spreads, strict=True)
    )


def _nearer(figure: Figure, wanted: float) -> float:
    """How far the nearer end of a figure's band lies off what is wanted; 0 where the band holds it."""
    return max(figure.low - wanted, wanted - figure.high, 0.0)


def _ways(plane: Plane) -> str:
    return "up or down" if plane == "vertical" else "fore and aft"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
