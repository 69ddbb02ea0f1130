"""How the axle lies on a page: left flange at left, its ruler below it, the bare housing as a light outline."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
from matplotlib.axes import Axes

from axlewright.housing.section import Section
from axlewright.job.schema import Housing
from axlewright.sheets import ink, wording
from axlewright.sheets.style import SOFT_INK, THIN
from axlewright.solid.mesh import Floats
from axlewright.straightness.axis import Plane

LIGHT = "#b9b4a6"
"""Outlines that stand back behind what is drawn on them."""
TITLES: dict[Plane, str] = {"vertical": "From behind, as the driver sits", "fore-aft": "From above"}
"""Left is left on every drawing, so the upright view is the one from behind."""
UPWARD: dict[Plane, str] = {"vertical": "up", "fore-aft": "forward"}

# Steps a tape can be read at without counting, and steps of a dial.
_TAPE_MM = (10.0, 20.0, 50.0, 100.0, 200.0, 500.0)
_TAPE_INCH = (1.0, 2.0, 4.0, 6.0, 12.0, 24.0)
_RULER_TEXT = 7.0
_LABEL_GAP = 15.0


@dataclass(frozen=True)
class AxleFrame:
    """Where distances along the axle lie on paper: the left flange at `left`, the axle `width` long [mm].

    Args:
        left: place of the left flange's outer face [mm].
        width: length of the axle on paper [mm].
        length: of the axle [m].
    """

    left: float
    width: float
    length: float

    @property
    def right(self) -> float:
        """Place of the right flange's outer face [mm]."""
        return self.left + self.width

    @property
    def per_metre(self) -> float:
        """Millimetres on paper for a metre of axle."""
        return self.width / self.length

    def paper(self, distance: float) -> float:
        """Place of a distance from the left flange [mm]."""
        return self.left + distance * self.per_metre


def draw_ruler(axes: Axes, frame: AxleFrame, y: float, inch: bool) -> None:
    """Distances from the left flange along the axle, hanging from height `y`; takes 6 mm below it."""
    unit = 0.0254 if inch else 0.001
    steps = _TAPE_INCH if inch else _TAPE_MM
    step = next((s for s in steps if s * unit * frame.per_metre >= _LABEL_GAP), steps[-1]) * unit
    ink.line(axes, (frame.left, frame.right), (y, y), color=SOFT_INK)
    small = step / (4.0 if inch else 5.0)
    ink.ruler_ticks(axes, [frame.paper(d) for d in _multiples(small, frame.length)], y, 0.9)
    places = _multiples(step, frame.length)
    ink.ruler_ticks(axes, [frame.paper(d) for d in places], y, 1.9)
    for distance in places:
        words = wording.length(distance, inch)
        ink.label(axes, frame.paper(distance), y - 3.9, words, _RULER_TEXT, color=SOFT_INK)


def _multiples(step: float, most: float) -> list[float]:
    """Multiples of a step from nought up to a length [m]."""
    return [k * step for k in range(math.floor(most / step + 1e-6) + 1)]


def draw_outline(
    axes: Axes, frame: AxleFrame, middle: float, housing: Housing, plane: Plane, color: str = LIGHT
) -> None:
    """Tubes, centre and flanges to scale about the axle line.

    Args:
        axes: page in millimetres.
        frame: how the axle lies on it.
        middle: height of the axle line [mm].
        housing: the bare housing.
        plane: seen from behind, or from above.
        color: of the lines.
    """
    distance, half = outline(housing, plane)
    x, reach = frame.left + distance * frame.per_metre, half * frame.per_metre
    style: dict[str, Any] = {"facecolor": "none", "edgecolor": color, "linewidth": 0.7 * THIN, "zorder": 0.6}
    axes.fill_between(x, middle - reach, middle + reach, gid="outline", **style)
    flange = housing.knuckle_flange
    size = (flange.thickness * frame.per_metre, flange.diameter * frame.per_metre)
    for corner in (frame.left, frame.right - size[0]):
        ink.box(axes, (corner, middle - size[1] / 2.0), size, **style)


def outline(housing: Housing, plane: Plane) -> tuple[Floats, Floats]:
    """Distances from the left flange [m] and half the height, or depth, of the bare housing there [m]."""
    section = Section(housing)
    centre = housing.centre
    swell = centre.offset + centre.width / 2.0 * np.cos(np.linspace(0.0, np.pi, 61))
    x = np.concatenate([[section.half_length], swell, [-section.half_length]])
    half = section.half_height(x) if plane == "vertical" else section.half_depth(x)
    return section.half_length - x, half
