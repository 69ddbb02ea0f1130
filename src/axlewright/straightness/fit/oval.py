"""Oval tubes and V-blocks that do not hold still: what a dial shows that is no bend."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
from scipy.special import chdtri

from axlewright.straightness.fit.equations import Ground
from axlewright.straightness.fit.priors import FORM, SEAT
from axlewright.straightness.fit.turning import closure, four_point_offset
from axlewright.straightness.readings.reading import FourPoint, Reading, Runout
from axlewright.straightness.report import Doubt
from axlewright.units import format_deflection, format_length

CLOSES = 0.0508e-3
"""Closure of four readings that is nothing to mind, 0.002 in [m] (turbine maintenance worksheet)."""

SAME_PLACE = 0.01
"""Dials nearer to each other than this stand at the same place [m]."""

_RARE = 0.001


def oval_doubts(ground: Ground, readings: Sequence[Reading]) -> list[tuple[Doubt, Reading]]:
    """Four-point readings of an oval tube, and dial totals that its shape has a share in."""
    found: list[tuple[Doubt, Reading]] = []
    fours = [reading for reading in readings if isinstance(reading, FourPoint)]
    for four in fours:
        if not _is_oval(four):
            continue
        found.append((_oval(ground, four), four))
        found += [
            (_share(ground, total, four), total)
            for total in readings
            if isinstance(total, Runout) and _beside(total, four) and _more_than_bend(total, four)
        ]
    return found


def _is_oval(reading: FourPoint) -> bool:
    """Whether four readings do not close: four errors of the dial add up."""
    limit = float(np.sqrt(chdtri(1, _RARE))) * 2.0 * reading.origin.error
    return abs(closure(reading)) > max(limit, CLOSES)


def _beside(total: Runout, four: FourPoint) -> bool:
    return abs(total.at - four.at) < SAME_PLACE and total.blocks == four.blocks


def _more_than_bend(total: Runout, four: FourPoint) -> bool:
    """Whether a total is clearly more than twice the offset that four readings tell."""
    offset, covariance = four_point_offset(four)
    error = np.hypot(total.origin.error, 2.0 * np.sqrt(covariance[0, 0]))
    return bool(total.total - 2.0 * np.linalg.norm(offset) > np.sqrt(chdtri(1, _RARE)) * error)


def _oval(ground: Ground, four: FourPoint) -> Doubt:
    by = closure(four)
    size = format_deflection(abs(by), ground.job.inch)
    words = (
        f"Top and bottom against front and rear do not close by {size}: the tube is {'taller' if by > 0 else 'wider'} "
        f"than {'wide' if by > 0 else 'tall'} there, or the dial was moved. Bend and oval are told apart all the same; "
        "if the dial may have moved, read it again."
    )
    return Doubt(four.origin.line, words, False)


def _share(ground: Ground, total: Runout, four: FourPoint) -> Doubt:
    offset, _ = four_point_offset(four)
    bend = 2.0 * float(np.linalg.norm(offset))
    shown = [format_deflection(size, ground.job.inch) for size in (total.total, bend, total.total - bend)]
    words = (
        f"Of the total of {shown[0]} the four readings there (line {four.origin.line}) say that {shown[1]} is bend; "
        f"{shown[2]} is the tube out of round."
    )
    return Doubt(total.origin.line, words, True)


def block_doubts(ground: Ground, readings: Iterable[Reading]) -> list[tuple[Doubt, Reading, float]]:
    """Dials beside a V-block that do not stand still, each with how far its tube moves [m]."""
    found: list[tuple[Doubt, Reading, float]] = []
    for reading in readings:
        if not isinstance(reading, Runout | FourPoint) or reading.blocks is None:
            continue
        block = min(reading.blocks, key=lambda place: abs(place - reading.at))
        if abs(block - reading.at) > SAME_PLACE:
            continue
        moved = reading.total / 2.0 if isinstance(reading, Runout) else _offset_of(reading)
        dial = reading.origin.error / (2.0 if isinstance(reading, Runout) else np.sqrt(2.0))
        if moved > np.sqrt(chdtri(2, _RARE)) * np.sqrt(dial**2 + SEAT**2 + FORM**2):
            found.append((_rocking(ground, reading, block, moved), reading, moved))
    return found


def _offset_of(reading: FourPoint) -> float:
    return float(np.linalg.norm(four_point_offset(reading)[0]))


def _rocking(ground: Ground, reading: Runout | FourPoint, block: float, moved: float) -> Doubt:
    inch = ground.job.inch
    words = (
        f"Beside the V-block at {format_length(block, inch)} the dial should stand still, and it moves by "
        f"{format_deflection(2.0 * moved, inch)}: the tube is oval or dirty there, or the block rocks. Clean the place "
        f'or move the block. Until then all of "{reading.origin.setup}" counts as less sure.'
    )
    return Doubt(reading.origin.line, words, True)
