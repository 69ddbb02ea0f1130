"""The contents of plan.json, for other programs: plain numbers in mm, degC, minutes and kJ.

Positions along the axle count from the outer face of the left knuckle flange.
"""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, ConfigDict, Field

from axlewright.plan.fixture_file import FixtureEntry, fixture_entry
from axlewright.plan.report import (
    Band,
    HowSure,
    Plan,
    PlanBands,
    PlannedBead,
    PlannedTack,
    PlanReport,
    Prediction,
    Shape,
    Sides,
    Totals,
)
from axlewright.plan.trade_file import TradeOffEntry, trade_entry


class _Record(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class JobEntry(_Record):
    """Which job was planned."""

    name: str
    reference: str
    units: str = Field(description='the job file\'s own units, "mm" or "inch"; this file is in mm regardless')
    datum: str = Field(
        default="outer face of the left knuckle flange", description="where distances count from"
    )


class ModelEntry(_Record):
    """How large the model is and how long it took to build or load."""

    nodes: int
    unknowns: int
    modes: int
    build_s: float
    from_cache: bool


class TackEntry(_Record):
    """One tack."""

    number: int
    attachment: str
    seam: str
    at_mm: float
    clock: float | None = Field(description="clock position, on a guard only")
    start_s: float
    wait_s: float
    spot_c: float
    heat_kj: float
    length_mm: float
    enlarged: bool = Field(description="whether it is longer than the job file's tacks because it must be")


class BeadEntry(_Record):
    """One bead, in the order of the plan."""

    number: int
    attachment: str
    seam: str
    from_mm: float = Field(description="where the arc starts")
    to_mm: float = Field(description="where it stops")
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


class FigureBandEntry(_Record):
    """What a figure stays below in 10, 50 and 90 of a hundred cases."""

    low: float
    middle: float
    high: float


class TotalsBandEntry(_Record):
    """Bands of the sums that are not certain."""

    hottest_spot_c: FigureBandEntry
    bearing_seat_c: FigureBandEntry
    seal_c: FigureBandEntry | None
    tack_utilisation: FigureBandEntry
    distortion_mm: FigureBandEntry


class TotalsEntry(_Record):
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


class SidesEntry(_Record):
    """A figure at each end."""

    left: float
    right: float


class BowEntry(_Record):
    """Largest distance of the axis from the line between the flanges."""

    vertical: float = Field(description="positive above the line")
    fore_aft: float = Field(description="positive ahead of the line")


class ShapeEntry(_Record):
    """The cold shape: ends up is negative camber, ends forward is toe-in (positive)."""

    camber_deg: SidesEntry
    toe_deg: SidesEntry
    bow_mm: BowEntry
    twist_deg: float


class BandEntry(_Record):
    """What each figure of the shape stays below in 10, 50 and 90 of a hundred cases; see the manual."""

    low: ShapeEntry
    middle: ShapeEntry
    high: ShapeEntry


class PredictedEntry(ShapeEntry):
    """The cold shape with its band."""

    band: BandEntry


class PlanEntry(_Record):
    """A whole plan."""

    tacks: list[TackEntry]
    beads: list[BeadEntry]
    totals: TotalsEntry
    predicted: PredictedEntry


class UncertainInputEntry(_Record):
    """An input nobody knows exactly, as a factor on what is taken."""

    words: str
    low: float = Field(description="one case in ten lies below")
    high: float = Field(description="nine in ten lie below")
    source: str


class MatterEntry(_Record):
    """What one figure of our plan depends on."""

    figure: str
    shares: dict[str, float] = Field(description="share of its variance that goes with each input")
    rest: float = Field(description="share that goes with no single input")


class HowSureEntry(_Record):
    """Our plan and common practice walked with the same drawn inputs."""

    samples: int
    no_hotter: float = Field(description="share of the draws in which our plan is at most 0.5 K hotter")
    no_more_distorted: float
    tacks_no_more_loaded: float
    all_three: float = Field(description="share in which all three hold at once")
    tacks_hold: float = Field(description="share in which our plan loads no tack beyond its strength")
    inputs: list[UncertainInputEntry]
    matters: list[MatterEntry]


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


def plan_file(report: PlanReport) -> PlanFile:
    """The report as plan.json has it."""
    size = report.model
    job = JobEntry(
        name=report.job_name, reference=report.job_reference, units="inch" if report.inch else "mm"
    )
    model = ModelEntry(
        nodes=size.nodes,
        unknowns=size.unknowns,
        modes=size.modes,
        build_s=round(size.build_s, 3),
        from_cache=size.from_cache,
    )
    return PlanFile(
        job=job,
        model=model,
        **_plan(report.ours),
        common_practice=PlanEntry(**_plan(report.common_practice)),
        how_sure=None if report.how_sure is None else _how_sure(report.how_sure),
        fixture=fixture_entry(report.fixture),
        trade_off=trade_entry(report.trade_off),
        cautions=list(report.cautions),
        left_out=list(report.left_out),
    )


def plan_schema() -> dict[str, Any]:
    """JSON Schema of plan.json."""
    return PlanFile.model_json_schema()


def _plan(plan: Plan) -> dict[str, Any]:
    return {
        "tacks": [_tack(tack) for tack in plan.tacks],
        "beads": [_bead(bead) for bead in plan.beads],
        "totals": _totals(plan.totals, plan.how_sure),
        "predicted": _predicted(plan.prediction),
    }


def _tack(tack: PlannedTack) -> TackEntry:
    return TackEntry(
        number=tack.number,
        attachment=tack.attachment,
        seam=tack.seam,
        at_mm=_mm(tack.at_x),
        clock=_hours(tack.at_clock),
        start_s=round(tack.start_s, 1),
        wait_s=tack.wait_s,
        spot_c=round(tack.spot_c, 1),
        heat_kj=round(tack.heat_j / 1e3, 3),
        length_mm=_mm(tack.length),
        enlarged=tack.enlarged,
    )


def _bead(bead: PlannedBead) -> BeadEntry:
    return BeadEntry(
        number=bead.number,
        attachment=bead.attachment,
        seam=bead.seam,
        from_mm=_mm(bead.from_x),
        to_mm=_mm(bead.to_x),
        from_clock=_hours(bead.from_clock),
        to_clock=_hours(bead.to_clock),
        direction=bead.direction,
        start_s=round(bead.start_s, 1),
        wait_s=round(bead.wait_s, 1),
        spot_c=round(bead.spot_c, 1),
        heat_kj=round(bead.heat_j / 1e3, 3),
        turn_deg=round(bead.turn_deg, 1),
        position=bead.position,
        why=bead.why,
    )


def _totals(totals: Totals, bands: PlanBands | None) -> TotalsEntry:
    return TotalsEntry(
        bench_min=round(totals.bench_s / 60, 2),
        arc_min=round(totals.arc_s / 60, 2),
        wait_min=round(totals.wait_s / 60, 2),
        hottest_spot_c=round(totals.hottest_spot_c, 1),
        ambient_c=totals.ambient_c,
        tack_utilisation=round(totals.tack_utilisation, 3),
        bearing_seat_c=round(totals.bearing_seat_c, 1),
        seal_c=None if totals.seal_c is None else round(totals.seal_c, 1),
        distortion_mm=_mm(totals.distortion),
        turns=totals.turns,
        turn_min=round(totals.turn_s / 60, 2),
        band=None if bands is None else _totals_band(bands),
    )


def _totals_band(bands: PlanBands) -> TotalsBandEntry:
    return TotalsBandEntry(
        hottest_spot_c=_figure_band(bands.hottest_spot_c, 1),
        bearing_seat_c=_figure_band(bands.bearing_seat_c, 1),
        seal_c=None if bands.seal_c is None else _figure_band(bands.seal_c, 1),
        tack_utilisation=_figure_band(bands.tack_utilisation, 3),
        distortion_mm=_figure_band(bands.distortion, 3, 1e3),
    )


def _figure_band(band: Band, digits: int, scale: float = 1.0) -> FigureBandEntry:
    low, middle, high = (round(scale * value, digits) for value in (band.low, band.middle, band.high))
    return FigureBandEntry(low=low, middle=middle, high=high)


def _how_sure(sure: HowSure) -> HowSureEntry:
    words = [known.words for known in sure.inputs]
    return HowSureEntry(
        samples=sure.samples,
        no_hotter=round(sure.no_hotter, 3),
        no_more_distorted=round(sure.no_more_distorted, 3),
        tacks_no_more_loaded=round(sure.tacks_no_more_loaded, 3),
        all_three=round(sure.all_three, 3),
        tacks_hold=round(sure.tacks_hold, 3),
        inputs=[
            UncertainInputEntry(words=i.words, low=round(i.low, 3), high=round(i.high, 3), source=i.source)
            for i in sure.inputs
        ],
        matters=[
            MatterEntry(
                figure=matter.figure,
                shares={word: round(share, 3) for word, share in zip(words, matter.shares, strict=True)},
                rest=round(matter.rest, 3),
            )
            for matter in sure.matters
        ],
    )


def _predicted(prediction: Prediction) -> PredictedEntry:
    low, middle, high = (
        ShapeEntry(**_shape(edge)) for edge in (prediction.low, prediction.middle, prediction.high)
    )
    band = BandEntry(low=low, middle=middle, high=high)
    return PredictedEntry(**_shape(prediction.shape), band=band)


def _shape(shape: Shape) -> dict[str, Any]:
    return {
        "camber_deg": _sides(shape.camber_deg),
        "toe_deg": _sides(shape.toe_deg),
        "bow_mm": BowEntry(vertical=_mm(shape.bow_vertical), fore_aft=_mm(shape.bow_fore_aft)),
        "twist_deg": round(shape.twist_deg, 4),
    }


def _sides(sides: Sides) -> SidesEntry:
    return SidesEntry(left=round(sides.left, 4), right=round(sides.right, 4))


def _mm(metres: float) -> float:
    return round(1e3 * metres, 3)


def _hours(clock: float | None) -> float | None:
    return None if clock is None else round(clock, 2)
