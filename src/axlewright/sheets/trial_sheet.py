"""The trial sheet: one page to lay a trial on scrap tube by, with boxes to write in."""

from __future__ import annotations

from os import PathLike
from pathlib import Path

from axlewright import units
from axlewright.sheets import wording
from axlewright.sheets.setting import Fields, Paper, set_sheet, sheet_head, write_sheet
from axlewright.sheets.style import PAPER, svg_bytes
from axlewright.sheets.trial_drawing import draw_trial
from axlewright.straightness.learn.trial import on_the_watch
from axlewright.straightness.learn.trial_plan import Expected, FactorOutlook, PlannedBead, TrialPlan

_FACTORS = {
    "tendon": "Pull along a bead",
    "across": "Shrinkage across a bead",
    "heat": "Arc heat that enters the steel",
    "loss": "Loss to the air",
}
_GAUGE = {
    "dial": "Dial indicator under the tube at its mark, plunger up against it, set to nought. If it counts down when "
    "the tube goes down, write its numbers with the other sign.",
    "straightedge": "To read the bend: turn the tube over, straightedge on two equal blocks at the supports' marks, "
    "gap at the middle mark by feeler gauges or drill shanks; back again. Do it once before the first arc.",
}


def write_trial_sheet(plan: TrialPlan, path: str | PathLike[str], paper: Paper = "a4") -> Path:
    """Write the trial sheet as PDF.

    Args:
        plan: the planned trial.
        path: file to write; it is replaced where it exists.
        paper: "a4" or "us-letter".

    Returns:
        The file written.

    Raises:
        OutputError: the paper is unknown, or the file cannot be written.
    """
    return write_sheet(path, paper, lambda: trial_sheet_pdf(plan, paper))


def trial_sheet_pdf(plan: TrialPlan, paper: Paper = "a4") -> bytes:
    """The trial sheet as the bytes of a PDF; the same plan gives the same bytes.

    Raises:
        OutputError: the page could not be set.
    """
    return set_sheet("trial_sheet.typ", _fields(plan), paper)


def _fields(plan: TrialPlan) -> Fields:
    tube, inch = plan.tube, plan.inch
    name = (
        f"⌀ {_gauge_length(tube.outside_diameter, inch)}, wall {_gauge_length(tube.wall, inch)}, {tube.steel}"
    )
    settings = f"{plan.welder.volts:g} V, {plan.welder.amps:g} A"
    return sheet_head("Trial on scrap tube", name, settings) | {
        "drawing": svg_bytes(draw_trial(plan), PAPER).decode("utf-8"),
        "lead": f"{len(plan.beads)} beads, about {plan.minutes:.0f} minutes with marking out. Fed back, it tells what "
        "this welder at these settings does to a housing, before the first customer's.",
        "settings": _settings(plan),
        "bend": "Dial" if plan.way == "dial" else "Gap",
        "expected": "Expected (5-95 %)" if plan.way == "dial" else "Smaller by (5-95 %)",
        "unit": units.LENGTH.bare_unit(inch),
        "degree": "°F" if inch else "°C",
        "steps": _steps(plan),
        "beads": [_bead(plan, bead) for bead in plan.beads],
        "spot": _spot(plan),
        "temperatures": [
            {"time": on_the_watch(one.time), "expected": _temperature(one.expected, inch)}
            for one in plan.temperatures
        ],
        "factors": [_factor(one) for one in plan.factors],
        "remarks": [wording.sentence(remark) for remark in plan.remarks],
        "cautions": list(plan.cautions),
    }


def _settings(plan: TrialPlan) -> list[tuple[str, str]]:
    welder, inch = plan.welder, plan.inch
    return [
        ("Volts", f"{welder.volts:g} V"),
        ("Amps", f"{welder.amps:g} A"),
        ("Travel speed", wording.typeset(units.format_travel_speed(welder.travel_speed, inch))),
        ("Wire", _gauge_length(welder.wire_diameter, inch)),
        ("Wire feed", wording.typeset(units.format_wire_feed(welder.wire_feed, inch))),
        ("Air", wording.typeset(units.format_temperature(plan.tube.air, inch))),
    ]


def _steps(plan: TrialPlan) -> list[str]:
    first = plan.beads[0]
    last = on_the_watch(plan.beads[-1].read_at)
    return [
        "Grind the top bright where the beads go; draw the top line and all marks with a paint pen. A patch of matt "
        "black paint on the thermometer's spot, dry: bright steel makes an infrared thermometer read low.",
        "Tube on its two supports, not clamped, beads' side up, nothing else touching. Earth clamp on an end.",
        _GAUGE[plan.way],
        f"Start the stopwatch with arc 1. Lay each bead in one go along its arrow, "
        f"{wording.length(first.length, plan.inch)} in about {first.arc_seconds:.0f} s; write down when the arc "
        "starts and how long it burns.",
        "Read the thermometer square on the spot at its times, then the bend when its time has come. No water, no air "
        f"jet: it must cool by itself. Last reading at {last}.",
        "Write what was, not what was planned; leave empty what was not read. Type it into the trial file.",
    ]


def _bead(plan: TrialPlan, bead: PlannedBead) -> Fields:
    inch = plan.inch
    if bead.at is None:
        place = f"along the top, {_short(bead.start, inch)} to {wording.length(bead.end, inch)}"
    else:
        reach = wording.length(bead.end, inch)
        place = f"round the tube at {wording.length(bead.at, inch)}, {reach} to either side of the top"
    return {
        "number": str(bead.number),
        "place": place,
        "start": on_the_watch(bead.arc_start),
        "seconds": f"{bead.arc_seconds:.0f} s",
        "read": on_the_watch(bead.read_at),
        "expected": _bend(bead.bend, inch),
    }


def _bend(expected: Expected, inch: bool) -> str:
    scale, digits = (39.3700787, 3) if inch else (1e3, 2)
    low, middle, high = (
        f"{scale * edge:+.{digits}f}" for edge in (expected.low, expected.middle, expected.high)
    )
    return wording.typeset(f"{middle} ({low} to {high})")


def _temperature(expected: Expected, inch: bool) -> str:
    low, middle, high = (
        f"{edge * 1.8 + 32.0 if inch else edge:.0f}"
        for edge in (expected.low, expected.middle, expected.high)
    )
    return f"{middle} ({low} to {high})"


def _spot(plan: TrialPlan) -> str:
    away = wording.length(plan.spot.distance, plan.inch)
    if plan.spot.beside:
        return f"{away} from the middle line of bead 1, beside its middle, measured along the skin"
    return f"{away} off the outer end of bead 1, on the top line"


def _factor(one: FactorOutlook) -> tuple[str, str, str]:
    before, after = (f"{low:.2f} to {high:.2f}" for low, high in (one.band_before, one.band_after))
    return _FACTORS[one.name], before, after


def _short(metres: float, inch: bool) -> str:
    """A length without its unit where another with a unit follows, as "360 to 460 mm"; whole in inch."""
    return wording.length(metres, inch) if inch else f"{metres * 1e3:.0f}"


def _gauge_length(metres: float, inch: bool) -> str:
    """A diameter or wall as a caliper shows it."""
    return f"{metres / 0.0254:.3f} in" if inch else f"{metres * 1e3:.3g} mm"
