"""What a finished plan says: the data that screens, files and sheets are made from.

Lengths are in metres and temperatures in degC. Positions along the axle are distances from the outer
face of the left knuckle flange, the datum a tape hooks onto.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from axlewright.plan.fixture_report import FixtureReport
from axlewright.plan.pieces import PlannedBead, PlannedTack, SeamLine
from axlewright.shop.factors import ShopFactors, without_results
from axlewright.solid.mesh import Floats


@dataclass(frozen=True)
class Totals:
    """Sums over a plan.

    `tack_utilisation` is the greatest force over strength of any tack at any step; `turns` counts how often
    the housing is turned, `turn_s` the time that takes [s]; `distortion` is bow, camber and toe as one measure [m].
    """

    bench_s: float
    arc_s: float
    wait_s: float
    hottest_spot_c: float
    ambient_c: float
    tack_utilisation: float
    bearing_seat_c: float
    seal_c: float | None
    turns: int = 0
    turn_s: float = 0.0
    distortion: float = 0.0


@dataclass(frozen=True)
class Sides:
    """A figure at the left and at the right end of the axle."""

    left: float
    right: float


@dataclass(frozen=True)
class Shape:
    """The cold shape: camber, toe and twist [deg], bow of the axis from the line between the flanges [m].

    Camber is positive with the top of the flange outwards; ends up is negative camber on both sides.
    Toe is positive for toe-in; ends forward is toe-in on both sides. Bow is positive where the
    middle lies above (vertical) or ahead of (fore-aft) the line between the knuckle flanges.
    """

    camber_deg: Sides
    toe_deg: Sides
    bow_vertical: float
    bow_fore_aft: float
    twist_deg: float


@dataclass(frozen=True)
class AxisLine:
    """The predicted axis for drawing: distance from the left flange and offsets, each shape (P,) [m]."""

    along: Floats
    vertical: Floats
    fore_aft: Floats


@dataclass(frozen=True)
class Prediction:
    """Shape with its band and the axis to draw.

    Of a hundred cases each figure lies below `low` in ten, below `middle` in fifty and below `high` in ninety; the
    edges are moved out to a share of the figure (`HowSure.narrowest`) where they would be closer.
    """

    shape: Shape
    low: Shape
    high: Shape
    axis: AxisLine
    middle: Shape


@dataclass(frozen=True)
class Band:
    """What a figure stays below in 10, 50 and 90 of a hundred cases."""

    low: float
    middle: float
    high: float


@dataclass(frozen=True)
class PlanBands:
    """Bands of the figures in `Totals` that are not certain, with the same units."""

    hottest_spot_c: Band
    bearing_seat_c: Band
    seal_c: Band | None
    tack_utilisation: Band
    distortion: Band


@dataclass(frozen=True)
class Trace:
    """Temperature against time at one named place: shapes (P,) [s] and (P,) [degC]."""

    place: str
    time_s: Floats
    temperature_c: Floats


@dataclass(frozen=True)
class Plan:
    """An order of work with what is expected of it."""

    name: str
    tacks: tuple[PlannedTack, ...]
    beads: tuple[PlannedBead, ...]
    totals: Totals
    prediction: Prediction
    traces: tuple[Trace, ...]
    how_sure: PlanBands | None = None


@dataclass(frozen=True)
class UncertainInput:
    """An input nobody knows exactly; one case in ten lies below `low`, nine in ten below `high` times what is taken."""

    words: str
    low: float
    high: float
    source: str


@dataclass(frozen=True)
class Matter:
    """Share of the variance of a figure that goes with each input, in the order of `HowSure.inputs` [1]."""

    figure: str
    shares: tuple[float, ...]

    @property
    def rest(self) -> float:
        """What goes with no single input."""
        return max(0.0, 1.0 - sum(self.shares))


@dataclass(frozen=True)
class HowSure:
    """Our plan and common practice walked with the same drawn inputs.

    Args:
        samples: number of draws.
        no_hotter: share of the draws in which our hottest spot is at most 2 K above that of common practice.
        no_more_distorted: share in which ours distorts no more.
        tacks_no_more_loaded: share in which ours loads no tack more than common practice loads its worst.
        all_three: share in which all of these hold at once.
        tacks_hold: share in which ours loads no tack beyond its design strength.
        inputs: what was drawn.
        matters: which input each figure of our plan depends on.
        shop: what the shop's own results say of the inputs it can learn.
        narrowest: how close the edges of the shape's bands may come to their figures, as a share of these [1].
    """

    samples: int
    no_hotter: float
    no_more_distorted: float
    tacks_no_more_loaded: float
    all_three: float
    tacks_hold: float
    inputs: tuple[UncertainInput, ...]
    matters: tuple[Matter, ...]
    shop: ShopFactors = field(default_factory=without_results)
    narrowest: float = 0.25


@dataclass(frozen=True)
class TradePoint:
    """One plan among those that no other beats on all of bench time, hottest spot, distortion and tack load.

    Args:
        number: what it is called by on the picture and on the command line, from 1.
        bench_s: bench time [s].
        hottest_spot_c: hottest spot before a bead [degC].
        distortion: bow, camber and toe as one measure [m].
        tack_utilisation: greatest load over strength of a tack.
        turns: how often the housing is turned.
        within: whether it keeps every limit and overloads no tack.
        merit: what it is best at, e.g. "quickest", or "".
    """

    number: int
    bench_s: float
    hottest_spot_c: float
    distortion: float
    tack_utilisation: float
    turns: int
    within: bool
    merit: str = ""


@dataclass(frozen=True)
class TradeOff:
    """What can be had for what.

    Args:
        points: plans none of which beats another, by bench time.
        common: common practice on the same housing (its number is 0).
        chosen: number of the plan this report is about.
        recommended: number of the one we recommend, or None where every plan overloads a tack.
        why: why that one, in a sentence or two.
        tried: how many plans were tried.
        stopped: whether the search was stopped early.
    """

    points: tuple[TradePoint, ...]
    common: TradePoint
    chosen: int
    recommended: int | None
    why: str
    tried: int
    stopped: bool


@dataclass(frozen=True)
class ModelSize:
    """How large the model is and how long it took to make or load [s]."""

    nodes: int
    unknowns: int
    modes: int
    build_s: float
    from_cache: bool


@dataclass(frozen=True)
class WelderNotes:
    """How the welder is set and what follows from it, for the cover of the sheet (SI, lengths in m)."""

    process: str
    volts: float
    amps: float
    travel_speed: float
    efficiency: float
    heat_input_j_per_m: float
    throat: float
    leg: float
    cooling_time_800_500_s: float


@dataclass(frozen=True)
class PlanReport:
    """Everything a user gets from planning one job."""

    job_name: str
    job_reference: str
    inch: bool
    length: float
    model: ModelSize
    welder: WelderNotes
    seams: tuple[SeamLine, ...]
    ours: Plan
    common_practice: Plan
    cautions: tuple[str, ...]
    left_out: tuple[str, ...]
    trade_off: TradeOff | None = None
    how_sure: HowSure | None = None
    fixture: FixtureReport | None = None
