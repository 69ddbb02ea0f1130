"""Where things stand after a log: heat, what is welded, what is left, and what cannot be true."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from plan.planned import small_job
from reference.jobs import demo
from replan.bench_log import as_planned, demo_intent, intent_for, log_of, tag

from axlewright.plan.replan.coverage import Coverage
from axlewright.plan.replan.events import (
    AmbientChanged,
    ArcStarted,
    ArcStopped,
    BeadSkipped,
    SettingChanged,
    TackLeftOut,
    TacksDone,
    TackSet,
    TemperatureRead,
    Turned,
)
from axlewright.plan.replan.replay import since_first_arc
from axlewright.plan.replan.whole import locked_so_far

INTENT = intent_for(small_job())
MODES = INTENT.bench.model.modes


def told(standing) -> list[str]:
    """The messages of a standing's faults."""
    return [str(fault) for fault in standing.faults]


@pytest.mark.analytical
@pytest.mark.parametrize("name", ["small", "truss-only"])
def test_a_log_that_follows_the_plan_meets_its_heat(name: str) -> None:
    """At every bead the state is that of the plan's own timeline: the same exact steps, so only rounding differs."""
    intent = INTENT if name == "small" else demo_intent(name)
    standing = intent.standing(as_planned(intent, len(intent.steps)))
    met = np.array([met.state for met in standing.met]).T
    assert np.allclose(met, intent.plan.timeline.laying.states, atol=1e-9)
    assert standing.left == () and not standing.faults
    assert standing.now == pytest.approx(intent.plan.timeline.end)


@pytest.mark.analytical
def test_starts_or_stops_alone_are_enough() -> None:
    """What is not logged follows from length and travel speed, which is how the plan counts arcs."""
    events = as_planned(INTENT, 5)
    both = INTENT.standing(events).estimate.state
    for kind in (ArcStarted, ArcStopped):
        alone = INTENT.standing(tuple(event for event in events if isinstance(event, kind)), events[-1].time)
        assert np.allclose(alone.estimate.state, both, atol=1e-9)
        assert len(alone.met) == 5


@pytest.mark.analytical
def test_the_shape_locked_by_the_whole_plan_is_the_plans() -> None:
    """Walking the beads of a complete log gives the cold shape the plan predicts."""
    locked = locked_so_far(INTENT.bench, INTENT.standing(as_planned(INTENT, len(INTENT.steps))))
    assert locked.shape.bow_vertical == pytest.approx(INTENT.plan.shape.bow_vertical, rel=1e-9)
    assert locked.shape.bow_fore_aft == pytest.approx(INTENT.plan.shape.bow_fore_aft, rel=1e-9)
    assert locked_so_far(INTENT.bench, INTENT.standing(())) is None


@pytest.mark.analytical
def test_a_shorter_bead_gives_less_heat_and_leaves_its_rest() -> None:
    """Stopped after 60 % of its length it puts in 60 % of the heat, and 40 % of it is left."""
    step = INTENT.steps[0]
    begin, end = INTENT.names.ends(step.bead)
    stop = begin + 0.6 * (end - begin)
    start = float(INTENT.plan.timeline.starts[0])
    whole, part = (
        INTENT.standing((ArcStarted(time=start, bead=step.bead, to_s=to),), start + 200.0)
        for to in (None, stop)
    )
    u = _warmth(whole) - _warmth(INTENT.standing((), start + 200.0))
    v = _warmth(part) - _warmth(INTENT.standing((), start + 200.0))
    # Loss over 200 s differs by the heat's place and by 3 s of arc.
    assert v / u == pytest.approx(0.6, abs=0.01)
    assert step.bead in part.left and step.bead not in whole.left
    assert part.coverage.share_left(step.bead) == pytest.approx(0.4)
    assert sorted(part.coverage.rest_of(step.bead)) == pytest.approx(sorted((stop, end)))


def _warmth(standing) -> float:
    """Mean rise of the whole body, the uniform state's share [K]."""
    ones = np.linalg.solve(np.diag(MODES.rate + 1e-9) - MODES.parts.loss, MODES.inlet.sum(axis=1))
    return float(ones @ standing.estimate.state)


def test_a_longer_bead_takes_from_its_neighbour() -> None:
    """Welded on to the end of the next bead it leaves neither; welded on by half it leaves the neighbour's rest."""
    first, second = (INTENT.names.assembly.beads[n] for n in (0, 1))
    over = INTENT.standing((ArcStarted(time=100.0, bead=0, from_s=first.start, to_s=second.end),), 200.0)
    assert not {0, 1} & set(over.left)
    half = (second.start + second.end) / 2
    over = INTENT.standing((ArcStarted(time=100.0, bead=0, from_s=first.start, to_s=half),), 200.0)
    assert 1 in over.left and 0 not in over.left
    assert over.coverage.rest_of(1) == pytest.approx((half, second.end))


@pytest.mark.analytical
def test_a_bead_over_the_joint_of_a_closed_seam() -> None:
    """On a closed seam what runs past the end is counted at the start, and never twice."""
    assembly = demo_intent("rescue-truck").bench.model.assembly
    seam = next(n for n, line in enumerate(assembly.seams) if line.closed)
    length = assembly.seams[seam].length
    covered = Coverage(assembly)
    covered.add(seam, (length - 0.03, length + 0.02))
    covered.add(seam, (0.0, 0.01))
    assert covered.of(seam, 0.0, 0.02) == pytest.approx(0.02)
    assert covered.of(seam, 0.0, length) == pytest.approx(0.05)


def test_a_bead_in_another_direction_is_followed() -> None:
    """A stop at the mark where the plan begins means that the bead was welded the other way."""
    bead = INTENT.steps[0].bead
    begin, end = INTENT.names.ends(bead)
    standing = INTENT.standing((ArcStopped(time=100.0, bead=bead, to_s=begin),))
    assert standing.met[0].arc.span == pytest.approx((end, begin))


@pytest.mark.analytical
def test_settings_change_the_heat() -> None:
    """20 % more amps put in 20 % more heat from then on."""
    bead, start = INTENT.steps[0].bead, float(INTENT.plan.timeline.starts[0])
    before = INTENT.standing((), start + 100.0)
    amps = SettingChanged(time=start - 5.0, setting="amps", value=1.2 * INTENT.bench.job.welder.amps)
    plain = INTENT.standing((ArcStarted(time=start, bead=bead),), start + 100.0)
    more = INTENT.standing((amps, ArcStarted(time=start, bead=bead)), start + 100.0)
    ratio = (more.estimate.state - before.estimate.state) / (plain.estimate.state - before.estimate.state)
    assert np.allclose(ratio, 1.2)
    assert more.met[0].heat == pytest.approx(1.2)
    assert more.settings.power == pytest.approx(1.2 * INTENT.bench.settings.power)


@pytest.mark.analytical
def test_other_air_leaves_the_steel_as_warm_as_it_is() -> None:
    """The moment the air is logged as 8 K colder no place of the housing changes its temperature."""
    events = as_planned(INTENT, 3)
    before = INTENT.standing(events)
    after = INTENT.standing((*events, AmbientChanged(time=before.now, temperature=12.0)))
    for rows in (MODES.spot, MODES.watch):
        was = before.ambient + rows @ before.estimate.state
        assert np.allclose(after.ambient + rows @ after.estimate.state, was, atol=1e-5)
    cold = INTENT.standing((*events, AmbientChanged(time=before.now, temperature=12.0)), before.now + 1e6)
    assert np.allclose(MODES.spot @ cold.estimate.state, 0.0, atol=1e-6)


def test_tacks_as_they_were_set() -> None:
    """A logged tack stage is followed; what is logged twice is told; a tack left out gives no heat."""
    stage = INTENT.bench.tacks
    logged = [TackSet(time=float(t), tack=n) for n, t in enumerate(stage.starts)]
    same = INTENT.standing(tuple(logged))
    assert np.allclose(same.estimate.state, stage.state, atol=1e-9)
    twice = INTENT.standing((*logged, replace(logged[0], time=500.0, where="log.csv line 9")))
    assert told(twice)[0].startswith("log.csv line 9: tack is T1: was set already")
    out = INTENT.standing((TackLeftOut(time=0.0, tack=0),))
    assert out.tacks_out == {0}
    assert (MODES.spot[stage.stretches[0]] @ out.estimate.state) < (
        MODES.spot[stage.stretches[0]] @ stage.state
    )


@pytest.mark.analytical
def test_tacks_done_early_have_cooled() -> None:
    """A tack stage that ended three hours before is cold: every rise has fallen below a tenth."""
    now = INTENT.standing((TacksDone(time=-3 * 3600.0),), 0.0)
    assert (
        np.abs(MODES.spot @ now.estimate.state).max()
        < 0.1 * np.abs(MODES.spot @ INTENT.bench.tacks.state).max()
    )


@pytest.mark.analytical
def test_clock_times_count_from_the_first_arc() -> None:
    """Logged by the clock, the first bead stands where the plan would have it after its tacks."""
    lines = [f"14:0{n}:00,stop,{tag(INTENT, n)},,,,,,,," for n in range(3)]
    log = log_of(INTENT, *lines)
    events, zero = since_first_arc(INTENT.bench, log.events)
    standing = INTENT.standing(events)
    first = standing.met[0].arc.start
    assert first == pytest.approx(INTENT.bench.tacks.end + INTENT.bench.job.bench.between_beads)
    assert zero + standing.met[0].arc.end == pytest.approx(14 * 3600.0)


def test_beads_in_one_minute_follow_one_another() -> None:
    """Three starts written as the same minute become arcs one after another, without complaint."""
    log = log_of(INTENT, *(f"14:05,start,{tag(INTENT, n)},,,,,,,," for n in range(3)))
    standing = INTENT.standing(since_first_arc(INTENT.bench, log.events)[0])
    arcs = [met.arc for met in standing.met]
    assert all(later.start >= sooner.end for sooner, later in pairwise(arcs))
    assert not standing.faults


def test_turns_and_skips_are_kept() -> None:
    """The housing lies as logged; a skipped bead is not left, and laying it all the same takes it up again."""
    bead = INTENT.steps[3].bead
    events = (Turned(time=90.0, turn=180.0), BeadSkipped(time=95.0, bead=bead))
    standing = INTENT.standing(events)
    assert standing.turn == 180.0
    assert bead not in standing.left and standing.skipped == {bead}
    laid = INTENT.standing((*events, ArcStopped(time=120.0, bead=bead)))
    assert not laid.skipped and laid.laid_beads == (bead,)


def test_an_arc_that_still_burns() -> None:
    """A start at the end of the log is taken to go on to its end, which is then the present."""
    bead = INTENT.steps[0].bead
    standing = INTENT.standing((ArcStarted(time=100.0, bead=bead),), 101.0)
    assert standing.burning == bead
    assert standing.now == standing.met[0].arc.end > 101.0


WRONG = [
    (
        (ArcStopped(time=120.0, bead=0, where="w"), ArcStopped(time=160.0, bead=0, where="log line 7")),
        "laid once",
    ),
    ((ArcStopped(time=120.0, where="log line 7"),), "no arc was burning"),
    (
        (ArcStopped(time=120.0, bead=0, where="w"), BeadSkipped(time=160.0, bead=0, where="log line 7")),
        "laid already",
    ),
    (
        (ArcStarted(time=100.0, bead=0, where="w"), ArcStopped(time=160.0, bead=0, where="log line 7")),
        "travel speed",
    ),
    ((ArcStopped(time=120.0, bead=0, from_s=0.01, to_s=0.01, where="log line 7"),), "same mark"),
    (
        (
            ArcStopped(time=120.0, bead=0, where="w"),
            TemperatureRead(time=180.0, temperature=12.0, stretch=5, where="log line 7"),
        ),
        "below the air's 20 degC after an arc",
    ),
    ((TemperatureRead(time=180.0, temperature=212.0, place=0, where="log line 7"),), "far too hot"),
    (
        (
            ArcStarted(time=100.0, bead=0, where="w"),
            TemperatureRead(time=103.0, temperature=60.0, stretch=5, where="log line 7"),
        ),
        "an arc was burning",
    ),
    (
        (
            ArcStopped(time=120.0, bead=0, where="w"),
            TemperatureRead(time=125.0, temperature=90.0, stretch=0, where="log line 7"),
        ),
        "within 15 s of an arc",
    ),
]


@pytest.mark.parametrize(("events", "says"), WRONG)
def test_what_cannot_be_true_is_told_and_left_out(events: tuple, says: str) -> None:
    """The message names the entry; heat and beads are those of the log without it, or with what is likely instead."""
    standing = INTENT.standing(events, 400.0)
    (fault,) = told(standing)
    assert fault.startswith("log line 7")
    assert says in fault
    if not isinstance(events[-1], ArcStopped) or len(events) == 1 or isinstance(events[0], ArcStopped):
        without = INTENT.standing(events[:-1], 400.0)
        assert np.allclose(standing.estimate.state, without.estimate.state)
        assert standing.left == without.left


@pytest.mark.analytical
def test_fahrenheit_written_as_celsius_is_recognised() -> None:
    """The expected temperature in the other unit's number is doubted in these words, both ways round."""
    events = as_planned(INTENT, 4)
    standing = INTENT.standing(events, INTENT.plan.timeline.starts[4])
    stretch = int(INTENT.bench.model.pieces[INTENT.steps[4].bead][0])
    expected = standing.ambient + float(MODES.spot[stretch] @ standing.estimate.state)
    for number, words in (
        (1.8 * expected + 32.0, "degF written as degC"),
        ((expected - 32.0) / 1.8, "degC written"),
    ):
        read = TemperatureRead(time=standing.now, temperature=number, stretch=stretch, error=3.0)
        doubted = INTENT.standing((*events, read)).readings[0]
        assert not doubted.used
        assert words in doubted.doubt or number < standing.ambient


def test_a_good_reading_is_used() -> None:
    """A reading near what is expected corrects the state toward it and leaves less doubt."""
    events = as_planned(INTENT, 4)
    at = float(INTENT.plan.timeline.starts[4])
    before = INTENT.standing(events, at)
    row = MODES.spot[6]
    expected = before.ambient + float(row @ before.estimate.state)
    after = INTENT.standing((*events, TemperatureRead(time=at, temperature=expected - 5.0, stretch=6)))
    moved = after.ambient + float(row @ after.estimate.state) - expected
    assert -5.0 < moved < -1.0
    assert after.estimate.spread(row) < before.estimate.spread(row)
    assert after.readings[0].used and after.readings[0].expected_c == pytest.approx(expected)


def test_bead_names_do_not_depend_on_the_plan() -> None:
    """The same job under common practice gives every bead the same name."""
    names = intent_for(demo("truss-only")).names
    assert names.tags[:2] == ("A1", "A2") and names.tags[18] == "B1"
