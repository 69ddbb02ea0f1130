"""Where a stretch of seam is: the seam it belongs to, its ruler, its marks in words."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from axlewright.plan.bead_words import runs_along_axle
from axlewright.plan.pieces import PlannedBead, PlannedTack, SeamLine
from axlewright.plan.report import PlanReport
from axlewright.sheets import wording


@dataclass(frozen=True)
class SeamWork:
    """A seam with the tacks and beads laid on it."""

    line: SeamLine
    beads: tuple[PlannedBead, ...]
    tacks: tuple[PlannedTack, ...]

    @cached_property
    def along_axle(self) -> bool:
        """Whether a tape hooked onto the left flange tells every place on this seam apart."""
        return runs_along_axle(self.line)

    def ruler(self, s: float) -> float:
        """Reading at arc length `s` on the ruler this seam is drawn with [m]."""
        return distance_at(self.line, s) if self.along_axle else s


def distance_at(line: SeamLine, s: float) -> float:
    """Distance from the left flange at arc length `s` [m]."""
    return float(np.interp(s, line.path_s, line.path_x))


def clock_at(line: SeamLine, s: float) -> float:
    """Clock position at arc length `s` of a clock-face seam, running on past twelve.

    Raises:
        ValueError: the seam is no clock face.
    """
    if line.path_clock is None:
        raise ValueError(f"seam {line.seam!r} of {line.attachment!r} is no clock face")
    path = np.unwrap(np.asarray(line.path_clock, dtype=np.float64), period=12.0)
    # A bead laid across the joint of a closed seam may count on past its length.
    turns = math.floor(s / line.length) if line.closed and s > line.length else 0
    return float(np.interp(s - turns * line.length, line.path_s, path)) + 12.0 * turns


def seam_works(report: PlanReport) -> tuple[SeamWork, ...]:
    """Every seam with its part of our plan; seams of one attachment stand together, in the report's order."""
    names = list(dict.fromkeys(line.attachment for line in report.seams))
    lines = sorted(report.seams, key=lambda line: names.index(line.attachment))
    return tuple(
        SeamWork(
            line,
            tuple(bead for bead in report.ours.beads if _is_on(bead, line)),
            tuple(tack for tack in report.ours.tacks if _is_on(tack, line)),
        )
        for line in lines
    )


def _is_on(piece: PlannedBead | PlannedTack, line: SeamLine) -> bool:
    """Whether a bead or tack lies on this seam."""
    return (piece.attachment, piece.seam) == (line.attachment, line.seam)


def mark(line: SeamLine, at_s: float, inch: bool) -> str:
    """A mark as the welder measures it: clock position on a guard, else distance from the left flange."""
    if line.path_clock is not None:
        return wording.clock(clock_at(line, at_s))
    return wording.length(distance_at(line, at_s), inch)


def mark_along(line: SeamLine, at_s: float, inch: bool) -> str:
    """Distance from the seam's own start where a tape on the flange would not tell; else empty."""
    if line.path_clock is not None or runs_along_axle(line):
        return ""
    return f"seam {wording.length(at_s, inch)}"
