"""Lines on the bare tube, away from any seam: counter-beads and heat lines that bring a housing back.

A line runs along the axle on the housing's own skin. It is a seam whose two sides are the same part, so whatever is
known of seams - heat put in, shrinkage, positions - holds for it as it is, and nothing is held together by it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from axlewright.housing.part import HOUSING
from axlewright.housing.seam import Seam
from axlewright.housing.section import Section

POINTS = 21
"""Points a line is drawn with."""

LineKind = Literal["counter-bead", "heat line"]


@dataclass(frozen=True)
class Line:
    """A line along the axle on the bare tube.

    Args:
        kind: laid as a bead, or only heated.
        start: x where it begins [m].
        end: x where it ends [m].
        angle: round the tube from the top toward the front [rad].
        name: what it is called on screen and sheet, e.g. "counter-bead 3".
    """

    kind: LineKind
    start: float
    end: float
    angle: float
    name: str


def line_seam(section: Section, line: Line) -> Seam:
    """The line as a seam of the housing with itself."""
    x = np.linspace(line.start, line.end, POINTS)
    path = section.point(x, np.array(line.angle))
    normal = section.outward(path)
    around = np.array([0.0, np.cos(line.angle), -np.sin(line.angle)])
    side = around - normal * (normal @ around)[:, None]
    side /= np.linalg.norm(side, axis=1, keepdims=True)
    return Seam(line.name, line.kind, "line", HOUSING, HOUSING, path, normal, side)
