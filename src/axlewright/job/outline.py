"""The housing's outline in closed form, as far as the fit of attachments needs it.

Half-height near the centre: the ellipse hz(u) = H/2 sqrt(1 - u^2), u = (x - xc)/(W/2), joined with the
tube's radius R by the power mean (R^6 + hz^6)^(1/6), which rounds the corner between them; half-depth
likewise with D/2. Each section is an ellipse.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

from axlewright.job.fields import in_shop_units
from axlewright.job.schema import Job, Truss

CORNER_POWER = 6.0
"""Power of the mean that joins tube and centre: high enough that neither figure is changed by more than 1 % away
from the corner, low enough to leave the generous radius of a pressed or cast corner."""

BRIDGE_RAMP = 0.03
"""Length beside the centre over which a bridging lower edge rises from the tube, not welded [m]."""


@dataclass(frozen=True)
class Outline:
    """Outline of a job's housing; distances count from the left flange [m]."""

    job: Job

    @property
    def centre_at(self) -> float:
        """Distance of the centre's middle [m]."""
        return self.job.distance_at(self.job.housing.centre.offset)

    @property
    def centre_span(self) -> tuple[float, float]:
        """Where the centre begins and ends [m]."""
        half = self.job.housing.centre.width / 2.0
        return self.centre_at - half, self.centre_at + half

    @property
    def tube_span(self) -> tuple[float, float]:
        """Where the housing begins and ends between the inner faces of the knuckle flanges [m]."""
        thickness = self.job.housing.knuckle_flange.thickness
        return thickness, self.job.housing.length - thickness

    def on_a_tube(self, begin: float, end: float) -> bool:
        """Whether a stretch lies on one tube, clear of flange and centre."""
        (first, last), (left, right) = self.tube_span, self.centre_span
        return first <= begin and end <= last and (end <= left or begin >= right)

    def tubes_in_words(self) -> str:
        """Where the tubes lie, for messages."""
        (first, last), (left, right) = self.tube_span, self.centre_span
        return f"{self.shop(first)} to {self.shop(left)} or {self.shop(right)} to {self.shop(last)}"

    def shop(self, metres: float) -> str:
        """A length in the unit of the job, for messages."""
        return in_shop_units(metres, {"inch": self.job.inch})

    def tube_radius(self, at: float) -> float:
        """Radius of the tube at a distance, passing evenly from left to right across the centre [m]."""
        begin, end = self.centre_span
        share = min(max((at - begin) / (end - begin), 0.0), 1.0)
        left, right = self.job.housing.left_tube, self.job.housing.right_tube
        return (left.outside_diameter * (1.0 - share) + right.outside_diameter * share) / 2.0

    def half_height(self, at: float) -> float:
        """Half-height of the section [m]."""
        return self._joined(at, self.job.housing.centre.height / 2.0)

    def half_depth(self, at: float) -> float:
        """Half-depth of the section [m]."""
        return self._joined(at, self.job.housing.centre.depth / 2.0)

    def _joined(self, at: float, half: float) -> float:
        u = (at - self.centre_at) / (self.job.housing.centre.width / 2.0)
        swell = half * math.sqrt(max(1.0 - u * u, 0.0))
        powers = self.tube_radius(at) ** CORNER_POWER + swell**CORNER_POWER
        return float(powers ** (1.0 / CORNER_POWER))

    def skin_height(self, at: float, aside: float) -> float:
        """Height of the upper skin at a fore-aft distance from the axle line [m]."""
        ratio = min(abs(aside) / self.half_depth(at), 1.0)
        return self.half_height(at) * math.sqrt(1.0 - ratio * ratio)

    def lowest_top(self, truss: Truss, at: float) -> float:
        """Height of what lies under a truss: the housing's crown, or the edge that bridges the centre [m]."""
        if truss.clear_of_centre is None:
            return self.half_height(at)
        beside = abs(at - self.centre_at) - self.job.housing.centre.width / 2.0
        rise = min(max(1.0 - beside / BRIDGE_RAMP, 0.0), 1.0)
        bridge = self.job.housing.centre.height / 2.0 + truss.clear_of_centre
        return max(self.tube_radius(at) * (1.0 - rise) + bridge * rise, self.half_height(at))

    def welded_spans(self, truss: Truss, seam: str) -> list[tuple[float, float]]:
        """Stretches of a truss seam ("front" or "rear") that are welded, between openings [m]."""
        gaps = [(opening.start, opening.end) for opening in truss.openings if opening.seam in (seam, "both")]
        if truss.clear_of_centre is not None:
            begin, end = self.centre_span
            gaps.append((begin - BRIDGE_RAMP, end + BRIDGE_RAMP))
        spans, at = [], truss.start
        for begin, end in sorted(gaps):
            if min(begin, truss.end) > at:
                spans.append((at, min(begin, truss.end)))
            at = max(at, end)
        return [*spans, (at, truss.end)] if at < truss.end else spans

    def skin_length(self, begin: float, end: float, aside: float) -> float:
        """Length along the upper skin between two distances, `aside` of the axle line [m]."""
        pieces = max(8, math.ceil((end - begin) / 0.002))
        at = [begin + (end - begin) * n / pieces for n in range(pieces + 1)]
        heights = [self.skin_height(distance, aside) for distance in at]
        steps = itertools.pairwise(heights)
        return sum(math.hypot((end - begin) / pieces, low - high) for low, high in steps)
