"""From a report to plan.json; the records are in `plan_entries`."""

from __future__ import annotations

from typing import Any

from axlewright.plan.fixture_file import fixture_entry
from axlewright.plan.pieces import PlannedBead, PlannedTack
from axlewright.plan.plan_entries import (
    BandEntry,
    BeadEntry,
    BowEntry,
    FigureBandEntry,
    HowSureEntry,
    JobEntry,
    MatterEntry,
    ModelEntry,
    PlanEntry,
    PlanFile,
    PredictedEntry,
    ReachEntry,
    ShapeEntry,
    ShopEntry,
    ShopFactorEntry,
    SidesEntry,
    TackEntry,
    TotalsBandEntry,
    TotalsEntry,
    UncertainInputEntry,
)
from axlewright.plan.record import mm
from axlewright.plan.report import (
    Band,
    HowSure,
    Plan,
    PlanBands,
    PlanReport,
    Prediction,
    Shape,
    Sides,
    Totals,
)
from axlewright.plan.trade_file import trade_entry
from axlewright.shop.telling import factor_table


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
        tag=f"T{tack.number}",
        attachment=tack.attachment,
        seam=tack.seam,
        at_mm=mm(tack.at_x),
        at_s_mm=mm(tack.at_s),
        clock=_hours(tack.at_clock),
        start_s=round(tack.start_s, 1),
        wait_s=tack.wait_s,
        spot_c=round(tack.spot_c, 1),
        heat_kj=round(tack.heat_j / 1e3, 3),
        length_mm=mm(tack.length),
        enlarged=tack.enlarged,
    )


def _bead(bead: PlannedBead) -> BeadEntry:
    return BeadEntry(
        number=bead.number,
        tag=bead.tag,
        attachment=bead.attachment,
        seam=bead.seam,
        from_mm=mm(bead.from_x),
        to_mm=mm(bead.to_x),
        from_s_mm=mm(bead.from_s),
        to_s_mm=mm(bead.to_s),
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
        distortion_mm=mm(totals.distortion),
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
        shop=_shop(sure),
    )


def _shop(sure: HowSure) -> ShopEntry:
    shop = sure.shop
    return ShopEntry(
        source=shop.source,
        jobs=shop.jobs,
        trials=shop.trials,
        logs=shop.logs,
        narrowest=round(sure.narrowest, 3),
        factors=[
            ShopFactorEntry(words=line.words, before=_reach(line.before), now=_reach(line.after))
            for line in factor_table(shop)
        ],
    )


def _reach(edges: tuple[float, float, float]) -> ReachEntry:
    low, middle, high = (round(edge, 3) for edge in edges)
    return ReachEntry(low=low, middle=middle, high=high)


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
        "bow_mm": BowEntry(vertical=mm(shape.bow_vertical), fore_aft=mm(shape.bow_fore_aft)),
        "twist_deg": round(shape.twist_deg, 4),
    }


def _sides(sides: Sides) -> SidesEntry:
    return SidesEntry(left=round(sides.left, 4), right=round(sides.right, 4))


def _hours(clock: float | None) -> float | None:
    return None if clock is None else round(clock, 2)
