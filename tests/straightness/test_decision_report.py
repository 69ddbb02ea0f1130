"""Leave it, measure first, correct it and how, or send it out."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from reference.jobs import demo

from axlewright.plan.cautions import ALWAYS, CAST
from axlewright.straightness.axis import PARAMETERS, AxisFit, span_of
from axlewright.straightness.correct.deciding import correction_report
from axlewright.straightness.correct.report import (
    CorrectionReport,
    LinesPlan,
    Outcome,
    PlannedLine,
    PressPlan,
    PressSet,
    Way,
)
from axlewright.straightness.correct.stopping import MOST_CYCLES, MOST_LINES, TOO_FAR
from axlewright.straightness.report import (
    Advice,
    Answer,
    Bend,
    Ends,
    Figure,
    LimitCheck,
    PlaneShape,
    ShapeReport,
    Verdict,
)

JOB = demo("truss-only")
ADVICE = Advice("Read the gap on the front of both tubes.", "It settles toe.")


def sure(value: float, half: float = 0.05) -> Figure:
    """A figure with an even band."""
    return Figure(value, value - half, value + half)


def shape(advice: tuple[Advice, ...] = ()) -> ShapeReport:
    """A report of a shape; only its advice is read."""
    bend = Bend(sure(0.0), sure(0.0))
    none = np.zeros(2)
    plane = PlaneShape(sure(0.0), 0.65, bend, bend, none, none, none, none, (), True)
    ends = Ends(sure(0.0), sure(0.0))
    untold = ("Nothing tells toe.",) if advice else ()
    return ShapeReport("after", 9, ends, ends, sure(0.0), plane, plane, untold=untold, advice=advice)


def verdict(answer: Answer, camber: float = 0.6, half: float = 0.05) -> Verdict:
    """A verdict on camber, 0.2 deg allowed."""
    check = LimitCheck("camber left", "deg", 0.0, 0.2, sure(camber, half), answer)
    return Verdict(answer, "In words.", "by the shop", (check,), None, None)


def fit(spread: float = 1e-5, **values: float) -> AxisFit:
    """A shape whose parameters are as given."""
    vector = np.zeros(len(PARAMETERS))
    for name, value in values.items():
        vector[PARAMETERS.index(name.replace("_", " "))] = value
    return AxisFit(span_of(JOB), vector, spread**2 * np.eye(len(PARAMETERS)))


def lines(way: Way, count: int = 3, inside: float = 0.9) -> LinesPlan:
    """A plan of some lines that all lie in one place."""
    line = PlannedLine(1, "line 1", "left", 6.0, "bottom", 0.3, 0.4, 0.0, 0.0, 0.0, 20.0, 40.0, 1)
    remedy = "" if count else "No place is free."
    return LinesPlan(way, (line,) * count, (), inside, 600.0, ("Heat gently.",), remedy)


def press(done: float = 0.05, refused: tuple[str, ...] = (), sets: int = 1) -> PressPlan:
    """A plan of pushes after which camber is as given, 0.2 deg allowed."""
    push = PressSet(
        "left", 0.3, (0.1, 0.5), 12.0, "top", 0.4, 1e-3, 2e-3, (3e-3, 4e-3, 5e-3), (1e5, 2e5, 3e5), 3e-3, 4e5, 0.08,
        (0.0, ""), refused,
    )  # fmt: skip
    outcome = Outcome("camber left", "deg", 0.0, 0.2, sure(0.6), sure(0.3), sure(done))
    return PressPlan((push,) * sets, (outcome,), ())


def decide(
    answer: Answer = "outside", camber: float = 0.6, axis: AxisFit | None = None, **given: object
) -> CorrectionReport:
    """The report on the demo job, bent down at its centre unless another axis is given."""
    about = shape((ADVICE,) if answer == "cannot be told" else ())
    return correction_report(JOB, axis or fit(offset_up=-2e-3), about, verdict(answer, camber), **given)  # type: ignore[arg-type]


def test_inside_is_left_alone() -> None:
    """A housing inside its limits is left as it is, whatever could be done, even after many corrections."""
    found = decide("inside", 0.1, lines=(lines("heat lines"),), cycle=4)
    assert (found.decision, found.recommended) == ("leave it", None)


def test_what_cannot_be_told_is_measured_first() -> None:
    """Where a limit cannot be told it says which one, what is not known, and which reading settles it."""
    found = decide("cannot be told", 0.2)
    assert (found.decision, found.recommended) == ("measure first", None)
    said = " ".join(found.why)
    for words in ("camber left", "Nothing tells toe.", ADVICE.words, ADVICE.why):
        assert words in said
    without = correction_report(JOB, fit(), shape(), verdict("cannot be told"))
    assert "Repeat the readings" in " ".join(without.why)


@pytest.mark.parametrize("answer", ["inside", "outside", "cannot be told"])
def test_a_crack_goes_out(answer: Answer) -> None:
    """A cracked housing is sent out whatever its shape."""
    found = decide(answer, lines=(lines("heat lines"),), cracked=True)
    assert (found.decision, found.recommended) == ("send out", None)
    assert "crack" in found.why[0]


@pytest.mark.published
def test_two_corrections_at_most() -> None:
    """The second correction is the last and warns; a third is sent out.

    Avent, abstract: at most two damage-repair cycles, yield up to 20 per cent higher, elongation down one third.
    """
    assert MOST_CYCLES == 2
    plans = (lines("heat lines"),)
    first, second, third = (decide(lines=plans, cycle=cycle) for cycle in (1, 2, 3))
    assert [one.decision for one in (first, second, third)] == ["correct", "correct", "send out"]
    assert not any("Avent" in words for words in first.why)
    assert any("third less" in words for words in second.why)
    assert "number 3" in third.why[0]
    assert third.cycle == 3


def test_bent_too_far_goes_out() -> None:
    """Camber or a tube's bend beyond 2 deg for sure goes out; one that only may be, or is small, does not."""
    plans = (lines("heat lines"),)
    assert decide(camber=TOO_FAR + 0.5, lines=plans).decision == "send out"
    assert decide(camber=-TOO_FAR - 0.5, lines=plans).decision == "send out"
    assert decide(camber=TOO_FAR + 0.02, lines=plans).decision == "correct"
    bowed = fit(left_bow_up=20e-3)
    found = decide(axis=bowed, lines=plans)
    assert found.decision == "send out"
    assert "left tube" in found.why[0]
    assert "up or down" in found.why[0]
    assert decide(axis=fit(spread=20e-3, left_bow_up=20e-3), lines=plans).decision == "correct"


@pytest.mark.analytical
def test_bend_of_a_tube_is_read_off_the_arc() -> None:
    """An even bow f over a length l turns by 8 f / l: 8 mm on 800 mm is 4.6 deg (printed digits)."""
    job = JOB.model_copy(update={"trusses": ()})
    bowed = AxisFit(span_of(job), fit(left_bow_forward=8e-3).values, 1e-12 * np.eye(len(PARAMETERS)))
    found = correction_report(job, bowed, shape(), verdict("outside"))
    assert span_of(job).tubes[0] == pytest.approx(0.8)
    assert "4.6 deg fore and aft" in found.why[0]


def test_nothing_that_helps_goes_out_with_reasons() -> None:
    """When all three ways were looked at and none does, it goes out and says why of each."""
    plans = (lines("counter-beads", 0), lines("heat lines", MOST_LINES + 1))
    found = decide(lines=plans, press=press(refused=("A truss is in the way.",)))
    assert (found.decision, found.recommended) == ("send out", None)
    said = " ".join(found.why)
    for words in (
        "Counter-beads: No place is free.",
        f"{MOST_LINES + 1} would be needed",
        "A truss is in the way.",
    ):
        assert words in said
    some = decide(lines=plans[:1], press=press(refused=("A truss is in the way.",)))
    assert (some.decision, some.recommended) == ("correct", None)
    assert "Ask for the others" in " ".join(some.why)


@pytest.mark.parametrize(
    ("beads", "heat", "pushed", "expected"),
    [
        (lines("counter-beads"), lines("heat lines"), press(), "press"),
        (lines("counter-beads"), lines("heat lines"), press(done=0.4), "heat lines"),
        (lines("counter-beads"), lines("heat lines"), press(refused=("No.",)), "heat lines"),
        (lines("counter-beads"), lines("heat lines"), press(sets=0), "heat lines"),
        (lines("counter-beads", inside=0.95), lines("heat lines", inside=0.7), None, "counter-beads"),
        (lines("counter-beads", inside=0.75), lines("heat lines", inside=0.7), None, "heat lines"),
        (lines("counter-beads"), lines("heat lines", 0), None, "counter-beads"),
        (lines("counter-beads", 0), lines("heat lines"), None, "heat lines"),
        (lines("counter-beads", 0), lines("heat lines", 0), press(done=0.4), "press"),
    ],
)
def test_way_with_the_fewest_risks(
    beads: LinesPlan, heat: LinesPlan, pushed: PressPlan | None, expected: Way
) -> None:
    """Press where it does all; else heat lines, unless counter-beads do clearly better; else what can be done."""
    found = decide(lines=(beads, heat), press=pushed)
    assert (found.decision, found.recommended) == ("correct", expected)
    assert found.why[0].startswith(expected.capitalize())


def test_why_not_the_press_is_said() -> None:
    """Where lines are chosen over a press that was asked for, its first reason stands beside."""
    plans = (lines("heat lines"),)
    refused = decide(lines=plans, press=press(refused=("A truss is in the way.",)))
    assert "Not the press: A truss is in the way." in refused.why
    assert any("Not the press alone" in words for words in decide(lines=plans, press=press(done=0.4)).why)


def test_spread_bow_is_not_pressed_where_lines_can_be() -> None:
    """Where a tube is bowed along its length lines come before the press, though it would do; alone it is taken."""
    bowed, plans = fit(left_bow_up=2e-3), (lines("heat lines"),)
    found = decide(axis=bowed, lines=plans, press=press())
    assert found.recommended == "heat lines"
    assert any("spread" in words for words in found.why)
    left = press().sets[0]
    pair = replace(press(), sets=(left, replace(left, tube="right")))
    partly = fit(left_bow_up=4e-3, offset_up=-1e-3)
    assert decide(axis=partly, lines=plans, press=pair).recommended == "heat lines"
    assert decide(axis=bowed, press=press()).recommended == "press"
    assert decide(lines=plans, press=press()).recommended == "press"


def test_unlikely_success_is_said() -> None:
    """A way that keeps all limits in fewer than half the cases says so, one that is likely does not."""
    unlikely, likely = (decide(lines=(lines("heat lines", inside=odds),)).why for odds in (0.3, 0.8))
    assert any("not sure to do" in words for words in unlikely)
    assert not any("not sure to do" in words for words in likely)


def test_cautions_fit_the_ways() -> None:
    """Every report bears the usual cautions; a press those of stored energy, lines those of heat, a casting its own."""
    plain = decide()
    assert set(ALWAYS) <= set(plain.cautions)
    assert not any("store energy" in words for words in plain.cautions)
    with_press, with_heat = decide(press=press()), decide(lines=(lines("heat lines"),))
    assert any("store energy" in words and "safety glasses" in words for words in with_press.cautions)
    assert any(words.startswith("Heat:") for words in with_heat.cautions)
    cast = correction_report(demo("cast-centre"), fit(), shape(), verdict("outside"))
    assert CAST["unknown"] in cast.cautions
    assert plain.left_out


def test_report_carries_what_it_was_made_of() -> None:
    """Name, number, unit, shape, verdict and plans stand in the report as they were given."""
    plans, pushed = (lines("heat lines"),), press()
    found = decide(lines=plans, press=pushed, cycle=2)
    assert (found.job_name, found.job_reference, found.inch) == (JOB.job.name, JOB.job.reference, JOB.inch)
    assert (found.lines, found.press, found.cycle) == (plans, pushed, 2)
    assert found.verdict.answer == "outside"
    assert replace(found, cycle=1) != found
