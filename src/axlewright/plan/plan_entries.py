"""The records of plan.json: plain numbers in mm, degC, minutes and kJ.

Positions along the axle count from the outer face of the left knuckle flange.
"""

from __future__ import annotations

from pydantic import Field

from axlewright.plan.fixture_file import FixtureEntry
from axlewright.plan.record import Record
from axlewright.plan.trade_file import TradeOffEntry


class JobEntry(Record):
    """Which job was planned."""

    name: str
    reference: str
    units: str = Field(description='the job file\'s own units, "mm" or "inch"; this file is in mm regardless')
    datum: str = Field(
        default="outer face of the left knuckle flange", description="where distances count from"
    )


class ModelEntry(Record):
    """How large the model is and how long it took to build or load."""

    nodes: int
    unknowns: int
    modes: int
    build_s: float
    from_cache: bool


class TackEntry(Record):
    """One tack."""

    number: int
    tag: str = Field(description="its name at the bench and in a bead log: T and its number")
    attachment: str
    seam: str
    at_mm: float
    at_s_mm: float = Field(description="the same along the seam from its start")
    clock: float | None = Field(description="clock position, on a guard only")
    start_s: float
    wait_s: float
    spot_c: float
    heat_kj: float
    length_mm: float
    enlarged: bool = Field(description="whether it is longer than the job file's tacks because it must be")


class BeadEntry(Record):
    """One bead, in the order of the plan."""

    number: int
    tag: str = Field(
        description="its name at the bench and in a bead log: seam letter and number along the seam"
    )
    attachment: str
    seam: str
    from_mm: float = Field(description="where the arc starts")
    to_mm: float = Field(description="where it stops")
    from_s_mm: float = Field(description="the same along the seam from its start")
    to_s_mm: float
    from_clock: float | None = Field(description="clock position where the arc starts, on a guard only")
    to_clock: float | None
    direction: str
    start_s: float = Field(description="seconds from the first arc")
    wait_s: float = Field(description="planned cool-down before this bead")
    spot_c: float = Field(description="spot temperature expected where and when the arc starts")
    heat_kj: float
    turn_deg: float = Field(description="how the housing lies: 0 as on the vehicle, 90 front side up")
    position: str = Field(description="welding position there (ISO 6947), empty where it was not worked out")
    why: str = Field(description="why this bead is next, in a few words, or empty")


class FigureBandEntry(Record):
    """What a figure stays below in 10, 50 and 90 of a hundred cases."""

    low: float
    middle: float
    high: float


class TotalsBandEntry(Record):
    """Bands of the sums that are not certain."""

    hottest_spot_c: FigureBandEntry
    bearing_seat_c: FigureBandEntry
    seal_c: FigureBandEntry | None
    tack_utilisation: FigureBandEntry
    distortion_mm: FigureBandEntry


class TotalsEntry(Record):
    """Sums over a plan."""

    bench_min: float = Field(description="from the first arc (tacks included) to the last")
    arc_min: float
    wait_min: float
    hottest_spot_c: float
    ambient_c: float
    tack_utilisation: float = Field(description="greatest load over design strength of any tack, EN 1993-1-8")
    bearing_seat_c: float = Field(description="warmest a knuckle bearing seat gets")
    seal_c: float | None = Field(description="warmest a seal gets, where seals are given")
    distortion_mm: float = Field(description="bow, camber and toe as one measure")
    turns: int = Field(description="how often the housing is turned")
    turn_min: float = Field(description="time that takes, within the bench time")
    band: TotalsBandEntry | None = Field(description="how sure these are, where that was worked out")


class SidesEntry(Record):
    """A figure at each end."""

    left: float
    right: float


class BowEntry(Record):
    """Largest distance of the axis from the line between the flanges."""

    vertical: float = Field(description="positive above the line")
    fore_aft: float = Field(description="positive ahead of the line")


class ShapeEntry(Record):
    """The cold shape: ends up is negative camber, ends forward is toe-in (positive)."""

    camber_deg: SidesEntry
    toe_deg: SidesEntry
    bow_mm: BowEntry
    twist_deg: float


class BandEntry(Record):
    """What each figure of the shape stays below in 10, 50 and 90 of a hundred cases; see the manual."""

    low: ShapeEntry
    middle: ShapeEntry
    high: ShapeEntry


class PredictedEntry(ShapeEntry):
    """The cold shape with its band."""

    band: BandEntry


class PlanEntry(Record):
    """A whole plan."""

    tacks: list[TackEntry]
    beads: list[BeadEntry]
    totals: TotalsEntry
    predicted: PredictedEntry


class UncertainInputEntry(Record):
    """An input nobody knows exactly, as a factor on what is taken."""

    words: str
    low: float = Field(description="one case in ten lies below")
    high: float = Field(description="nine in ten lie below")
    source: str


class MatterEntry(Record):
    """What one figure of our plan depends on."""

    figure: str
    shares: dict[str, float] = Field(description="share of its variance that goes with each input")
    rest: float = Field(description="share that goes with no single input")


class ReachEntry(Record):
    """A factor over what formulas and settings say: one case in ten lies below low, nine in ten below high."""

    low: float
    middle: float
    high: float


class ShopFactorEntry(Record):
    """A factor that a shop learns from its own results."""

    words: str
    before: ReachEntry = Field(description="without results of the shop")
    now: ReachEntry = Field(description="with them, on this housing; figures are taken at its middle")


class ShopEntry(Record):
    """What stands behind the prediction of the shop's own results."""

    source: str = Field(description="the shop file, empty without one")
    jobs: int = Field(description="housings measured before and after")
    trials: int = Field(description="trials on scrap tube")
    logs: int = Field(description="bead logs with temperatures alone")
    narrowest: float = Field(
        description="share of a figure of the shape that the edges of its band are never closer to it than"
    )
    factors: list[ShopFactorEntry]


class HowSureEntry(Record):
    """Our plan and common practice walked with the same drawn inputs."""

    samples: int
    no_hotter: float = Field(description="share of the draws in which our plan is at most 2 K hotter")
    no_more_distorted: float
    tacks_no_more_loaded: float
    all_three: float = Field(description="share in which all three hold at once")
    tacks_hold: float = Field(description="share in which our plan loads no tack beyond its strength")
    inputs: list[UncertainInputEntry]
    matters: list[MatterEntry]
    shop: ShopEntry


class PlanFile(PlanEntry):
    """Our plan, with common practice on the same housing beside it."""

    job: JobEntry
    model: ModelEntry
    common_practice: PlanEntry
    how_sure: HowSureEntry | None
    fixture: FixtureEntry | None
    trade_off: TradeOffEntry | None
    cautions: list[str]
    left_out: list[str]
