"""Settings, sums and shape of a plan in words and numbers, ours beside common practice."""

from __future__ import annotations

from collections.abc import Callable

from axlewright import units
from axlewright.plan.report import Band, Plan, PlanReport, Prediction, Shape
from axlewright.sheets import wording
from axlewright.sheets.plain_text import breakable

_ABSENT = {"turns of the housing": "none", "of which turning": "none"}
"""What stands for a plan without such a sum where the other has it."""

OVERLOADED = "overloaded"
"""Said of a tack loaded beyond its strength."""


def settings(report: PlanReport) -> list[list[str]]:
    """How the welder is set."""
    welder = report.welder
    return [
        ["process", breakable(welder.process)],
        ["arc voltage", f"{welder.volts:.1f} V"],
        ["current", f"{welder.amps:.0f} A"],
        ["travel speed", units.format_travel_speed(welder.travel_speed, report.inch)],
        ["arc efficiency", f"{welder.efficiency:.2f}"],
    ]


def follows(report: PlanReport) -> list[list[str]]:
    """What follows from the settings."""
    welder = report.welder
    return [
        ["heat input", units.format_heat_input(welder.heat_input_j_per_m, report.inch)],
        ["fillet leg", wording.weld_size(welder.leg, report.inch)],
        ["fillet throat", wording.weld_size(welder.throat, report.inch)],
        ["cooling 800 to 500 °C (t8/5)", f"{welder.cooling_time_800_500_s:.1f} s"],
        ["shop air taken as", wording.temperature(report.ours.totals.ambient_c, report.inch)],
    ]


def summary(report: PlanReport) -> list[list[str]]:
    """Rows of (what, ours, its band, common practice, its band)."""
    plans = (report.ours, report.common_practice)
    sums = [_sums(plan, report.inch) for plan in plans]
    bands = [_sum_bands(plan, report.inch) for plan in plans]
    plain = [
        [name, *_cells(name, sums[0], bands[0]), *_cells(name, sums[1], bands[1])]
        for name in sums[0] | sums[1]
    ]
    shapes = [_shape_rows(plan.prediction, report.inch) for plan in plans]
    return plain + [[name, *values, *shapes[1][name]] for name, values in shapes[0].items()]


def _cells(name: str, sums: dict[str, str], bands: dict[str, str]) -> tuple[str, str]:
    """A sum and its band; neither where the plan has no such sum."""
    return (sums[name], bands.get(name, "")) if name in sums else (_ABSENT.get(name, ""), "")


def _sums(plan: Plan, inch: bool) -> dict[str, str]:
    """Times, temperatures and tack load of one plan."""
    totals = plan.totals
    load = wording.tack_load(totals.tack_utilisation)
    rows = {
        "bench time": units.format_duration(totals.bench_s),
        "of which arc": units.format_duration(totals.arc_s),
        "of which cool-downs": units.format_duration(totals.wait_s),
        "hottest spot before a bead": wording.temperature(totals.hottest_spot_c, inch),
        "bearing seat, at most": wording.temperature(totals.bearing_seat_c, inch),
        "tack load, of its strength": load + (f", {OVERLOADED}" if totals.tack_utilisation > 1.0 else ""),
    }
    if totals.turns:
        rows["turns of the housing"] = str(totals.turns)
        rows["of which turning"] = units.format_duration(totals.turn_s)
    if totals.distortion:
        rows[wording.DISTORTION] = wording.distortion(totals.distortion, inch)
    if totals.seal_c is not None:
        rows["seal, at most"] = wording.temperature(totals.seal_c, inch)
    return rows


def _sum_bands(plan: Plan, inch: bool) -> dict[str, str]:
    """Bands of temperatures, tack load and distortion, where they were worked out."""
    bands = plan.how_sure
    if bands is None:
        return {}

    def words(band: Band | None, shown: Callable[[float], str]) -> str:
        return "" if band is None else wording.band(shown(band.low), shown(band.high))

    def degrees(celsius: float) -> str:
        return wording.temperature(celsius, inch)

    return {
        "hottest spot before a bead": words(bands.hottest_spot_c, degrees),
        "bearing seat, at most": words(bands.bearing_seat_c, degrees),
        "tack load, of its strength": words(bands.tack_utilisation, wording.tack_load),
        "seal, at most": words(bands.seal_c, degrees),
        wording.DISTORTION: words(bands.distortion, lambda length: wording.distortion(length, inch)),
    }


def _shape_rows(prediction: Prediction, inch: bool) -> dict[str, list[str]]:
    """Value with its meaning, and band, of every number of the cold shape."""
    low, high = _figures(prediction.low, inch), _figures(prediction.high, inch)
    rows = {}
    for name, (_value, shown, meaning) in _figures(prediction.shape, inch).items():
        edges = sorted((low[name], high[name]), key=lambda figure: figure[0])
        words = f"{shown}, {meaning}" if meaning else shown
        rows[name] = [words, wording.band(edges[0][1], edges[1][1])]
    return rows


def _figures(shape: Shape, inch: bool) -> dict[str, tuple[float, str, str]]:
    """Each number of a shape: value, text, meaning of its sign."""
    camber, toe = shape.camber_deg, shape.toe_deg
    rows = {
        "camber, left": (camber.left, wording.angle(camber.left), wording.camber_meaning(camber.left)),
        "camber, right": (camber.right, wording.angle(camber.right), wording.camber_meaning(camber.right)),
        "toe, left": (toe.left, wording.angle(toe.left), wording.toe_word(toe.left)),
        "toe, right": (toe.right, wording.angle(toe.right), wording.toe_word(toe.right)),
    }
    bows = (("bow, up and down", shape.bow_vertical, True), ("bow, fore and aft", shape.bow_fore_aft, False))
    for name, bow, vertical in bows:
        rows[name] = (bow, wording.deflection(bow, inch), wording.bow_meaning(bow, vertical))
    rows["twist, end to end"] = (shape.twist_deg, wording.angle(shape.twist_deg), "")
    return rows


def record(report: PlanReport) -> list[list[str]]:
    """Rows of the straightness record: what, predicted, band."""
    return [[name, *values] for name, values in _shape_rows(report.ours.prediction, report.inch).items()]
