"""Settings, sums and shape of a plan in words and numbers, ours beside common practice."""

from __future__ import annotations

from axlewright import units
from axlewright.plan.report import Plan, PlanReport, Prediction, Shape
from axlewright.sheets import wording
from axlewright.sheets.text import breakable


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
    plain = [
        [name, *(cell for rows in sums for cell in (rows.get(name, ""), ""))] for name in sums[0] | sums[1]
    ]
    shapes = [_shape_rows(plan.prediction, report.inch) for plan in plans]
    return plain + [[name, *values, *shapes[1][name]] for name, values in shapes[0].items()]


def _sums(plan: Plan, inch: bool) -> dict[str, str]:
    """Times, temperatures and tack load of one plan."""
    totals = plan.totals
    load = f"{100.0 * totals.tack_utilisation:.0f} %"
    rows = {
        "bench time": units.format_duration(totals.bench_s),
        "of which arc": units.format_duration(totals.arc_s),
        "of which cool-downs": units.format_duration(totals.wait_s),
        "hottest spot before a bead": wording.temperature(totals.hottest_spot_c, inch),
        "bearing seat, at most": wording.temperature(totals.bearing_seat_c, inch),
        "tack load, of its strength": load + (", overloaded" if totals.tack_utilisation > 1.0 else ""),
    }
    if totals.seal_c is not None:
        rows["seal, at most"] = wording.temperature(totals.seal_c, inch)
    return rows


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
