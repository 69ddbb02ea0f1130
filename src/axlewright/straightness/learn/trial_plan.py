"""A planned trial: everything its sheet and its file need."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axlewright.job.settings import Welder
from axlewright.straightness.learn.trial import TrialTube, Way

BAND_REACH = 1.6448536269514722
"""Standard deviations from the middle of a normal figure to the edges of its 5-95 % band."""


@dataclass(frozen=True)
class Expected:
    """A figure that is expected, with its 5-95 % band before the trial."""

    low: float
    middle: float
    high: float

    @classmethod
    def about(cls, middle: float, spread: float) -> Expected:
        """The band of a normal figure with a standard deviation."""
        return cls(middle - BAND_REACH * spread, middle, middle + BAND_REACH * spread)


@dataclass(frozen=True)
class PlannedBead:
    """A bead to lay, and the bend to read after it.

    Args:
        number: counted from 1 in the order of laying.
        at: of a bead round the tube, its distance from the left end; None: it runs along the top [m].
        start: where it begins: from the left end; round the tube, along the skin from the top, to the front plus [m].
        end: where it ends, counted in the same way [m].
        arc_start: when its arc starts, since the first arc [s].
        arc_seconds: how long it burns at the welder's travel speed [s].
        wait: from the end of its arc until the bend is read [s].
        bend: what the dial or gap is expected to show then, since before the first arc [m].
        warmth_left: what of it is warmth that is still uneven [m].
    """

    number: int
    at: float | None
    start: float
    end: float
    arc_start: float
    arc_seconds: float
    wait: float
    bend: Expected
    warmth_left: float

    @property
    def read_at(self) -> float:
        """When the bend is read, since the first arc [s]."""
        return self.arc_start + self.arc_seconds + self.wait

    @property
    def length(self) -> float:
        """Length of the bead [m]."""
        return abs(self.end - self.start)


@dataclass(frozen=True)
class PlannedSpot:
    """Where the thermometer reads.

    Args:
        at: distance from the left end [m].
        around: along the skin from the top, to the front plus [m].
        beside: True beside the middle of bead 1, False off its outer end.
        distance: from the middle line of bead 1, or from its end [m].
    """

    at: float
    around: float
    beside: bool
    distance: float


@dataclass(frozen=True)
class PlannedTemperature:
    """When the thermometer is read, since the first arc [s], and what it is expected to show [degC]."""

    time: float
    expected: Expected


@dataclass(frozen=True)
class FactorOutlook:
    """What is known of a factor before and, expected, after the trial.

    Args:
        name: as in `shop.factors.NAMES`.
        before: standard deviation of its logarithm before, for the next job [1].
        here: the same after, for the trial itself: its day, its hand, its steel [1].
        after: the same after, for the next job, which differs from the trial as jobs do [1].
    """

    name: str
    before: float
    here: float
    after: float

    @property
    def band_before(self) -> tuple[float, float]:
        """5-95 % band of the factor about 1 before the trial [1]."""
        return _band(self.before)

    @property
    def band_after(self) -> tuple[float, float]:
        """5-95 % band of the next job about whatever the trial finds, as factors of it [1]."""
        return _band(self.after)

    @property
    def told(self) -> float:
        """Share of what was open that the trial settles for itself, 1 - here / before [1]."""
        return 1.0 - self.here / self.before


@dataclass(frozen=True)
class LookedAt:
    """The best layout of a number of beads: how many of them round the tube, minutes it takes, what it tells [bit]."""

    beads: int
    round_the_tube: int
    minutes: float
    bits: float


@dataclass(frozen=True)
class TrialPlan:
    """A trial planned for one tube and one welder.

    Args:
        inch: whether the shop works in inches.
        tube: the tube.
        welder: the welder's settings.
        way: how the bend is read.
        reading_error: usual error of one such reading [m].
        beads: the beads in order.
        spot: where the thermometer reads.
        temperatures: when.
        set_up: time to mark out, set up and zero before the first arc [s].
        factors: what is known before and after, in the order of `shop.factors.NAMES`.
        bits: what the trial tells of all factors of the shop together [bit].
        looked_at: best layout of each number of beads.
        layouts: how many layouts were looked at.
        remarks: what the trial cannot tell, and what is out of the usual, in words.
        cautions: in words.
    """

    inch: bool
    tube: TrialTube
    welder: Welder
    way: Way
    reading_error: float
    beads: tuple[PlannedBead, ...]
    spot: PlannedSpot
    temperatures: tuple[PlannedTemperature, ...]
    set_up: float
    factors: tuple[FactorOutlook, ...]
    bits: float
    looked_at: tuple[LookedAt, ...]
    layouts: int
    remarks: tuple[str, ...]
    cautions: tuple[str, ...]

    @property
    def minutes(self) -> float:
        """The whole, from marking out to the last reading [min]."""
        return (self.set_up + self.beads[-1].read_at) / 60.0


def _band(spread: float) -> tuple[float, float]:
    return float(np.exp(-BAND_REACH * spread)), float(np.exp(BAND_REACH * spread))


CAUTIONS = (
    "Both ends of the tube open. A closed tube can burst when it gets hot.",
    "Clean, dry scrap only: no oil, grease, fuel residue or solvent inside or out; chlorinated solvent near an arc "
    "makes poison gas. Zinc and paint ground off 50 mm (2 in) either side; draw the fumes away.",
    "Nothing that burns within reach of spatter; extinguisher at hand; fire watch for an hour after the last arc.",
    "Helmet, gloves, covered skin; warn others of the arc. The tube stays hot enough to burn between beads.",
    "Earth clamp on the tube's end, on bare metal, never through supports, dial or its magnetic foot. Shield a dial "
    "from spatter, and let nobody touch tube, supports or dial from its first reading to its last.",
    "Supports that cannot roll or tip; the tube is not clamped, or it cannot bend freely.",
)
"""What must be said every time."""
