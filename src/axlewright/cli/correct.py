"""What the terminal shows of a correction."""

from __future__ import annotations

from rich.console import Console
from rich.table import Table

from axlewright.cli.lines import listed, output, put, put_table, table
from axlewright.cli.straightness import band, show_verdict, value
from axlewright.sheets import wording
from axlewright.straightness.correct.report import CorrectionReport, LinesPlan, Outcome, PressPlan, PressSet
from axlewright.units import format_angle, format_clock, format_duration, format_force

TURNS = (
    "Clock: as seen from the driver's right end, 3 is the front. Turn: how the housing lies, 0° as on the vehicle, "
    "90° front side up, 180° upside down, 270° rear side up."
)


def show_correction(report: CorrectionReport) -> None:
    """Print the decision, the recommended way first, and what to expect."""
    console = output()
    console.print()
    put(console, " · ".join(filter(None, (report.job_name, report.job_reference))), style="bold")
    console.print()
    show_verdict(console, report.verdict, report.inch)
    console.print()
    put(console, f"Decision: {report.decision}.", style="bold")
    for sentence in report.why:
        put(console, sentence)
    if report.decision == "correct":
        _ways(console, report)
    listed(console, "Mind", report.cautions)
    listed(console, "What these figures leave out", report.left_out)


def _ways(console: Console, report: CorrectionReport) -> None:
    """Every way looked at, the recommended one first; nothing to work by where the housing is not to be corrected."""
    for plan in sorted(report.lines, key=lambda plan: plan.way != report.recommended):
        _lines(console, plan, report)
    if report.press is not None:
        _press(console, report.press, report)


def _heading(console: Console, way: str, report: CorrectionReport) -> None:
    console.print()
    put(console, way.capitalize() + (" (recommended)" if way == report.recommended else ""), style="bold")


def _lines(console: Console, plan: LinesPlan, report: CorrectionReport) -> None:
    """Where each line goes, in order, and what each stage is expected to do."""
    _heading(console, plan.way, report)
    if plan.remedy:
        put(console, plan.remedy)
    if not plan.lines:
        return
    put_table(console, _line_table(plan, report.inch))
    console.print()
    time = format_duration(plan.bench_time)
    put(console, f"{len(plan.lines)} of {plan.candidates} places looked at, {time} at the bench.")
    put(console, TURNS)
    if any(line.stage > 1 for line in plan.lines):
        put(
            console,
            "After stage 1 let it cool to hand-warm everywhere, measure, and plan again.",
            style="bold",
        )
    for sentence in plan.heat:
        put(console, sentence)
    console.print()
    put_table(console, _outcomes(plan.outcomes, report.inch))
    put(console, f"All limits are kept in about {100.0 * plan.inside:.0f} of 100 cases.")


def _line_table(plan: LinesPlan, inch: bool) -> Table:
    made = table(
        "no.",
        "stage",
        "tube",
        "from",
        "to",
        "clock",
        "side",
        "turn",
        "wait",
        "spot",
        folds=6,
        right=(0, 1, 3, 4, 9),
    )
    for line in plan.lines:
        place = (
            wording.length(line.start, inch),
            wording.length(line.end, inch),
            format_clock(line.clock),
            line.side,
        )
        turn = f"{line.turn:g}°"
        wait, spot = wording.wait(line.wait), wording.temperature(line.spot_c, inch)
        made.add_row(str(line.number), str(line.stage), line.tube, *place, turn, wait, spot)
    return made


def _outcomes(outcomes: tuple[Outcome, ...], inch: bool) -> Table:
    made = table("", "now", "half done", "all done", "band", "limit", folds=0, right=(1, 2, 3))
    for outcome in outcomes:
        cells = [value(figure, outcome.unit, inch) for figure in (outcome.now, outcome.half, outcome.done)]
        lowest, highest = outcome.wanted - outcome.limit, outcome.wanted + outcome.limit
        form = (lambda n: wording.deflection(n, inch)) if outcome.unit == "m" else wording.angle
        made.add_row(
            outcome.name,
            *cells,
            band(outcome.done, outcome.unit, inch),
            wording.band(form(lowest), form(highest)),
        )
    return made


def _press(console: Console, press: PressPlan, report: CorrectionReport) -> None:
    _heading(console, "press", report)
    for sentence in press.words:
        put(console, sentence)
    for push in press.sets:
        console.print()
        for line in _push(push, report.inch):
            put(console, line)
    if press.outcomes and any(not push.refused for push in press.sets):
        console.print()
        put_table(console, _outcomes(press.outcomes, report.inch))


def _push(push: PressSet, inch: bool) -> list[str]:
    """Where to push, how far, and what comes back."""
    left, right = (wording.length(at, inch) for at in push.supports)
    low, middle, high, first, back, wanted = (
        wording.deflection(depth, inch).lstrip("+")
        for depth in (*push.push, push.first_push, push.spring_back, push.wanted)
    )
    said = [
        f"{push.tube.capitalize()} tube: supports at {left} and {right}, ram at {wording.length(push.push_at, inch)} "
        f"on the {push.side} ({format_clock(push.clock)}); wanted set {wanted}, a kink of "
        f"{wording.typeset(format_angle(push.angle))}.",
    ]
    if push.refused:
        return [*said, *(f"Do not press here: {reason}" for reason in push.refused)]
    loads = [format_force(load, inch) for load in (push.load[0], push.load[2])]
    return [
        *said,
        f"First push {first}, release, measure; expect {middle} in the end ({low} to {high} by how strong the steel "
        f"really is), of which {back} springs back. Load {wording.band(*loads)}; the wall dents from about "
        f"{format_force(push.dent_load, inch)} under a saddle of {wording.length(push.saddle, inch)}.",
    ]
