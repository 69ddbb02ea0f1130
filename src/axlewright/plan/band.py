"""How sure a prediction is: the same plan walked with stronger and weaker shrinkage and arc heat.

The spreads are those of the formulas' sources: shrinkage +-30 % (a simple model that claims better is not
credible, as full elasto-plastic computation reaches 5-10 %: Biswas et al., Proc. IMechE B, 2009), arc heat +-10 %
(calorimetry of gas metal arcs gives 0.84 +-0.04 against the standard's 0.8: DuPont and Marder, Welding Journal, 1995;
plus the reading of volts and amps). Deviations are added as independent ones, in quadrature. What the model leaves
out is not in the band.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from axlewright.distortion.shape import ColdShape
from axlewright.plan.bench import OnTheBench
from axlewright.plan.report import Shape, Sides
from axlewright.plan.timeline import Step
from axlewright.solid.mesh import Floats

SHRINKAGE_SPREAD = 0.30
"""Spread of the shrinkage formulas, as a share [1]."""

HEAT_SPREAD = 0.10
"""Spread of the heat that reaches the steel, as a share [1]."""

NARROWEST = 0.25
"""No band is narrower than this share of its figure before the shop has measured its own results [1]."""


@dataclass(frozen=True)
class Benches:
    """The job on the bench with shrinkage or heat moved to the edge of its spread."""

    varied: tuple[tuple[OnTheBench, OnTheBench], ...]


def varied_benches(bench: OnTheBench) -> Benches:
    """Low and high variants for each uncertain input."""
    shrink = tuple(replace(bench, shrink_factor=1 + sign * SHRINKAGE_SPREAD) for sign in (-1, 1))
    heat = tuple(replace(bench, heat_factor=1 + sign * HEAT_SPREAD) for sign in (-1, 1))
    return Benches(((shrink[0], shrink[1]), (heat[0], heat[1])))


def figures(shape: ColdShape) -> Floats:
    """The figures of a shape in a row: camber, toe (left, right) [deg], bow (two planes) [m], twist [deg]."""
    angles = np.rad2deg([*shape.camber, *shape.toe])
    return np.array([*angles, shape.bow_vertical, shape.bow_fore_aft, np.rad2deg(shape.twist)])


def as_shape(row: Floats) -> Shape:
    """A row of figures as a shape."""
    left_camber, right_camber, left_toe, right_toe, vertical, fore_aft, twist = (
        float(value) for value in row
    )
    return Shape(Sides(left_camber, right_camber), Sides(left_toe, right_toe), vertical, fore_aft, twist)


def band(benches: Benches, steps: tuple[Step, ...], middle: Floats) -> tuple[Shape, Shape]:
    """Low and high edge of the band about a plan's figures.

    Args:
        benches: the variants.
        steps: the plan.
        middle: its figures, as `figures` gives them.
    """

    def walked(bench: OnTheBench) -> Floats:
        return figures(bench.shape(bench.walk(bench.in_time(steps))))

    halves = [_half_width(walked, low, high, middle) for low, high in benches.varied]
    width = np.maximum(np.sqrt(np.sum(np.square(halves), axis=0)), NARROWEST * np.abs(middle))
    return as_shape(middle - width), as_shape(middle + width)


def _half_width(
    walked: Callable[[OnTheBench], Floats], low: OnTheBench, high: OnTheBench, middle: Floats
) -> Floats:
    return np.maximum(np.abs(walked(low) - middle), np.abs(walked(high) - middle))
