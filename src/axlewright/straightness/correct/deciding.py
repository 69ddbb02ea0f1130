"""What to do about a housing: leave it, measure first, correct it and how, or send it out."""

from __future__ import annotations

from axlewright.job.schema import Job
from axlewright.plan.cautions import ALWAYS, CAST
from axlewright.straightness.axis import AxisFit
from axlewright.straightness.correct.press_plan import is_spread
from axlewright.straightness.correct.report import (
    CorrectionReport,
    Decision,
    LinesPlan,
    Outcome,
    PressPlan,
    Way,
)
from axlewright.straightness.correct.stopping import (
    CRACKED,
    MOST_LINES,
    bent_too_far,
    no_way_back,
    second_time,
    worn_out,
)
from axlewright.straightness.report import ShapeReport, Verdict

CLEARLY = 0.10
"""By how much likelier one way must keep all limits before it is taken although the other has fewer risks [1]."""

LOOK_FIRST = (
    "Look before anything else: a crack, a dent deeper than the wall is thick, a tube loose in its centre, or "
    "blue and "
    "scaled skin from an earlier fire or repair - then send it out, whatever the figures say.",
)

OF_PRESSING = (
    "Press, jack, chain: they store energy. Stand clear of the line of the load, nobody beside or behind it, "
    "safety glasses, "
    "a screen; chains and straps rated for the load, none with a bent link; nothing stacked under the ram.",
    "Press: push slowly, watch the dial, release fully before you reach in. Never strike the housing under load.",
)

OF_HEATING = (
    "Heat: never above the limit given, never on hardened, bright or cast parts. Let it cool in still air to "
    "below what a "
    "hand can bear before you measure; no water.",
)

LEFT_OUT = (
    "Stress left in the housing by its maker, by welding or by the bend itself is not known here; it shifts what "
    "a push or "
    "a heat line leaves. That is why half is done first.",
    "Steel is taken as the grade in the job file. Stronger, cold-drawn or heat-treated tube takes more push and "
    "does not suit "
    "heat.",
    "The limits on weld strain, tube strain and angle are judgements, not measurements. Damage that cannot be "
    "seen is not "
    "in them.",
    "Pressing: round bare tube, elastic then yielding, without hardening; the flattening of the section is not "
    "in the push.",
)


def correction_report(
    job: Job,
    fit: AxisFit,
    shape: ShapeReport,
    verdict: Verdict,
    lines: tuple[LinesPlan, ...] = (),
    press: PressPlan | None = None,
    cycle: int = 1,
    cracked: bool = False,
) -> CorrectionReport:
    """What to do about the shape last measured.

    Args:
        job: the job.
        fit: the shape.
        shape: the shape as reported.
        verdict: on that shape.
        lines: counter-beads and heat lines as far as asked for.
        press: the press, if asked for.
        cycle: which correction this would be, from 1.
        cracked: whether a crack was found.
    """
    recommended, because = _best_way(fit, lines, press)
    decision, why = _decision(fit, shape, verdict, lines, press, cycle, cracked)
    if decision == "correct":
        why += (*because, *second_time(cycle))
    return CorrectionReport(
        job_name=job.job.name,
        job_reference=job.job.reference,
        inch=job.inch,
        shape=shape,
        verdict=verdict,
        decision=decision,
        why=why,
        cycle=cycle,
        recommended=recommended if decision == "correct" else None,
        lines=lines,
        press=press,
        cautions=_cautions(job, lines, press),
        left_out=LEFT_OUT,
    )


def _decision(
    fit: AxisFit,
    shape: ShapeReport,
    verdict: Verdict,
    lines: tuple[LinesPlan, ...],
    press: PressPlan | None,
    cycle: int,
    cracked: bool,
) -> tuple[Decision, tuple[str, ...]]:
    """The decision and its reasons, the gravest first."""
    if cracked:
        return "send out", (CRACKED,)
    if verdict.answer == "inside":
        return "leave it", (
            "Every limit is kept. Each correction costs the steel something: leave it as it is.",
        )
    stop = (*bent_too_far(fit, verdict), *worn_out(cycle))
    if stop:
        return "send out", stop
    if verdict.answer == "cannot be told":
        return "measure first", _what_to_measure(shape, verdict)
    if stop := no_way_back(lines, press):
        return "send out", stop
    return "correct", ()


def _what_to_measure(shape: ShapeReport, verdict: Verdict) -> tuple[str, ...]:
    """Which limits the readings leave open, and the reading that settles it."""
    open_ones = [check.name for check in verdict.checks if check.answer == "cannot be told"]
    said = [f"The readings do not settle whether the limit is kept for: {', '.join(open_ones)}."]
    said += list(shape.untold)
    said += [f"{advice.words} {advice.why}" for advice in shape.advice]
    if not shape.advice:
        said.append(
            "Repeat the readings you are least sure of; several readings of one place narrow the band."
        )
    said.append("Correcting what is not known makes it worse as often as better.")
    return tuple(said)


def _best_way(
    fit: AxisFit, lines: tuple[LinesPlan, ...], press: PressPlan | None
) -> tuple[Way | None, tuple[str, ...]]:
    """The way with the fewest risks that does, and why."""
    beads, heat = _usable(lines, "counter-beads"), _usable(lines, "heat lines")
    pressable = press if press is not None and _usable_press(press) else None
    inside = pressable is not None and all(_kept(outcome) for outcome in pressable.outcomes)
    if pressable is not None and inside and not any(is_spread(fit, push) for push in pressable.sets):
        return "press", (
            "Press: the bend is local and the press brings every figure inside. It puts no heat into seals and "
            "bearing seats and leaves no new weld.",
        )
    if beads is not None or heat is not None:
        chosen, because = _of_lines(beads, heat)
        why = f"{chosen.way.capitalize()}: {because}"
        return chosen.way, (why, *_why_not_press(press, inside), *_unlikely(chosen))
    if pressable is not None:
        more = (
            ""
            if inside
            else " It does not bring every figure inside by itself: press, measure, decide again."
        )
        return "press", (f"Press: it is the only way looked at that can be done here.{more}",)
    return None, ("None of the ways looked at does by itself. Ask for the others, or send it out.",)


def _of_lines(beads: LinesPlan | None, heat: LinesPlan | None) -> tuple[LinesPlan, str]:
    """Heat lines, unless counter-beads keep the limits clearly more often."""
    if heat is None and beads is not None:
        return beads, "of the ways looked at, the one that can be done here."
    assert heat is not None, "one of both is usable"
    if beads is None:
        return heat, "of the ways looked at, the one that can be done here."
    odds = f"{100.0 * beads.inside:.0f} of 100 cases against {100.0 * heat.inside:.0f}"
    if beads.inside > heat.inside + CLEARLY:
        return beads, f"they keep all limits in {odds} with heat lines."
    return heat, (
        "they leave no weld toe that a crack could start from, and do as well: all limits are kept in "
        f"{100.0 * heat.inside:.0f} of 100 cases against {100.0 * beads.inside:.0f} with counter-beads."
    )


def _why_not_press(press: PressPlan | None, inside: bool) -> tuple[str, ...]:
    if press is None or not press.sets:
        return ()
    refused = [reason for push in press.sets for reason in push.refused]
    if refused:
        return (f"Not the press: {refused[0]}",)
    if inside:
        return ("Not the press: the bow is spread along a tube, and one sharp bend would leave an S.",)
    return ("Not the press alone: one sharp bend a tube does not bring every figure inside here.",)


def _unlikely(chosen: LinesPlan) -> tuple[str, ...]:
    if chosen.inside >= 0.5:
        return ()
    return (
        f"It is not sure to do: all limits are kept in {100.0 * chosen.inside:.0f} of 100 cases. Do the first "
        "half, let it "
        "cool, measure, and plan again.",
    )


def _usable(lines: tuple[LinesPlan, ...], way: Way) -> LinesPlan | None:
    return next((plan for plan in lines if plan.way == way and 0 < len(plan.lines) <= MOST_LINES), None)


def _usable_press(press: PressPlan) -> bool:
    return bool(press.sets) and not any(push.refused for push in press.sets)


def _kept(outcome: Outcome) -> bool:
    return abs(outcome.done.value - outcome.wanted) <= outcome.limit


def _cautions(job: Job, lines: tuple[LinesPlan, ...], press: PressPlan | None) -> tuple[str, ...]:
    """Those of the casting and of the ways asked for first, then the usual ones."""
    casting = job.housing.centre.casting
    own = () if casting is None else (CAST[casting],)
    pressing = OF_PRESSING if press is not None else ()
    heating = OF_HEATING if lines else ()
    return (*LOOK_FIRST, *own, *pressing, *heating, *ALWAYS)
