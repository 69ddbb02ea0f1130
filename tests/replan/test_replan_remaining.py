"""The way on: a log that follows the plan changes nothing; any other log gets a valid plan of what is left."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from plan.planned import changed, small_job
from replan.bench_log import as_planned, demo_intent, intent_for, waiting_job

from axlewright.plan.replan.ahead import Ahead, Remaining
from axlewright.plan.replan.events import (
    AmbientChanged,
    ArcStarted,
    ArcStopped,
    BeadSkipped,
    Event,
    SettingChanged,
    TackLeftOut,
    TemperatureRead,
    Turned,
)
from axlewright.plan.replan.intent import Intent
from axlewright.plan.replan.remaining import best_from_here, improve
from axlewright.plan.replan.standing import Standing

SMALL, WAITING = intent_for(small_job()), intent_for(waiting_job())


def rounded(events: tuple[Event, ...]) -> tuple[Event, ...]:
    """A log with its times as the bench app sends them, to the tenth of a second."""
    return tuple(
        type(event)(time=round(event.time, 1), bead=event.bead)  # type: ignore[attr-defined, call-arg]
        for event in events
    )


@pytest.mark.parametrize(
    "intent", [SMALL, WAITING, demo_intent("truss-only")], ids=["small", "waiting", "truss"]
)
def test_a_log_that_follows_the_plan_changes_nothing(intent: Intent) -> None:
    """After any number of beads, times exact or to a tenth, the rest is the plan's: order, direction, waits."""
    count = len(intent.steps)
    for done in sorted({0, 1, 2, count // 2, count - 1}):
        for events in (as_planned(intent, done), rounded(as_planned(intent, done))):
            way = best_from_here(intent, intent.standing(events))
            assert way.kept == "plan"
            assert way.steps == intent.steps[done:]
            assert way.end == pytest.approx(intent.plan.timeline.end, abs=1.0)
            assert list(improve(intent, intent.standing(events), way, 5)) == []


@pytest.mark.parametrize("intent", [SMALL, demo_intent("truss-only")], ids=["small", "truss"])
def test_the_shape_to_come_is_the_plans(intent: Intent) -> None:
    """Half of a plan as logged and half as planned bow as the plan does."""
    way = best_from_here(intent, intent.standing(as_planned(intent, len(intent.steps) // 2)))
    assert way.trial.bow == pytest.approx(intent.plan.bow, rel=1e-9)
    assert way.trial.worst_tack == pytest.approx(intent.plan.worst_tack, rel=1e-9)


def test_nothing_left_is_said() -> None:
    """After the last bead there is no way on, and no error."""
    way = best_from_here(SMALL, SMALL.standing(as_planned(SMALL, len(SMALL.steps))))
    assert way.steps == () and way.line is None


@pytest.mark.analytical
def test_a_late_start_takes_its_delay_off_the_wait() -> None:
    """After a break of an hour the next bead may start at once, and waits that the break has paid for are gone."""
    place = next(n for n, step in enumerate(WAITING.steps) if step.wait > 0)
    events = as_planned(WAITING, place)
    late = WAITING.standing(events, events[-1].time + 3600.0)
    way = best_from_here(WAITING, late)
    assert way.line.starts[0] == pytest.approx(late.now)
    waits = sum(step.wait for step in way.steps[1:])
    assert waits < sum(step.wait for step in WAITING.steps[place + 1 :])
    assert way.line.spots.max() <= Ahead(WAITING, late).limits.spot + 0.05


@pytest.mark.analytical
def test_some_of_the_wait_may_have_passed() -> None:
    """Asked halfway through a cool-down, the next arc comes when it would have come."""
    place = next(n for n, step in enumerate(WAITING.steps) if step.wait > 0)
    events = as_planned(WAITING, place)
    planned = float(WAITING.plan.timeline.starts[place])
    halfway = WAITING.standing(events, (events[-1].time + planned) / 2)
    assert best_from_here(WAITING, halfway).line.starts[0] == pytest.approx(planned)
    rewaited = Ahead(WAITING, halfway).rewaited(WAITING.steps[place:])
    # Waits are whole seconds from now on.
    assert rewaited.starts[0] == pytest.approx(planned, abs=1.0)


def test_a_hotter_housing_waits_longer() -> None:
    """A reading well above what was expected makes the way on longer, and no expected spot exceeds the limit."""
    place = next(n for n, step in enumerate(WAITING.steps) if step.wait > 0)
    events = as_planned(WAITING, place)
    at = float(WAITING.plan.timeline.starts[place]) - 1.0
    before = WAITING.standing(events, at)
    step = WAITING.steps[place]
    stretch = int(WAITING.bench.model.pieces[step.bead][-1 if step.reverse else 0])
    shown = before.ambient + float(before.modes.spot[stretch] @ before.estimate.state) + 15.0
    hot = WAITING.standing((*events, TemperatureRead(time=at, temperature=shown, stretch=stretch, error=2.0)))
    assert hot.readings[0].used
    way = best_from_here(WAITING, hot)
    assert way.kept != "plan"
    assert way.end > WAITING.plan.timeline.end
    assert way.line.spots.max() <= Ahead(WAITING, hot).limits.spot + 0.05


def test_more_amps_are_followed_by_longer_waits() -> None:
    """With 30 % more current the rest takes longer."""
    events = as_planned(WAITING, 2)
    amps = SettingChanged(
        time=events[-1].time + 1.0, setting="amps", value=1.3 * WAITING.bench.job.welder.amps
    )
    assert best_from_here(WAITING, WAITING.standing((*events, amps))).end > WAITING.plan.timeline.end


def test_improving_is_repeatable_and_only_improves() -> None:
    """The same seed finds the same ways, each better than the last, none beyond what must be kept."""
    intent = demo_intent("truss-only")
    events = as_planned(intent, 12)
    standing = intent.standing(events, events[-1].time + 1800.0)
    first = best_from_here(intent, standing)
    found = [list(improve(intent, standing, first, 12)) for _ in range(2)]
    assert [way.steps for way in found[0]] == [way.steps for way in found[1]]
    ranks = [(round(way.excess, 3), way.end) for way in (first, *found[0])]
    assert ranks == sorted(ranks, reverse=True)
    for way in found[0]:
        check(intent, standing, way)


def check(intent: Intent, standing: Standing, way: Remaining) -> None:
    """A way on is a valid plan: exactly the beads left, each once, one after another, none too hot."""
    assert sorted(step.bead for step in way.steps) == sorted(standing.left)
    if way.line is None:
        return
    starts, ends = way.line.starts, way.line.starts + way.line.arcs
    assert starts[0] >= standing.now - 1e-6
    gaps = np.concatenate([[starts[0] - standing.since], starts[1:] - ends[:-1]])
    assert gaps.min() >= intent.bench.job.bench.between_beads - 1e-6
    assert np.isfinite(way.line.spots).all() and np.isfinite(way.trial.bow)
    assert all(step.wait >= 0.0 for step in way.steps)
    limits = Ahead(intent, standing).limits
    assert way.line.spots.max() <= limits.spot + 0.6


BEADS = range(len(WAITING.steps))
STRETCHES = range(len(WAITING.bench.model.assembly.stretches))


@st.composite
def happenings(draw: st.DrawFn) -> tuple[Event, ...]:
    """Any number of things in any order, some of them impossible, at times that need not rise."""
    kinds = draw(st.lists(st.sampled_from("saxtkwcur"), max_size=14))
    time, events = 150.0, []
    for kind in kinds:
        time += draw(st.floats(-30.0, 400.0))
        events.append(_happening(draw, kind, time))
    return tuple(events)


def _happening(draw: st.DrawFn, kind: str, time: float) -> Event:
    bead = draw(st.sampled_from(BEADS))
    piece = WAITING.names.assembly.beads[bead]
    mark = st.none() | st.floats(max(piece.start - 0.03, 0.0), piece.end + 0.03)
    if kind == "s":
        return ArcStarted(time=time, bead=bead, from_s=draw(mark), to_s=draw(mark))
    if kind == "a":
        return ArcStopped(time=time, bead=bead, from_s=draw(mark), to_s=draw(mark))
    if kind == "x":
        return ArcStopped(time=time)
    if kind == "t":
        return TemperatureRead(
            time=time, temperature=draw(st.floats(-20.0, 400.0)), stretch=draw(st.sampled_from(STRETCHES))
        )
    if kind == "k":
        return BeadSkipped(time=time, bead=bead)
    if kind == "w":
        return SettingChanged(time=time, setting="amps", value=draw(st.floats(140.0, 240.0)))
    if kind == "c":
        return TackLeftOut(time=time, tack=draw(st.integers(0, 3)))
    if kind == "u":
        return Turned(time=time, turn=draw(st.sampled_from((0.0, 90.0))))
    return AmbientChanged(time=time, temperature=draw(st.floats(10.0, 30.0)))


@given(events=happenings(), later=st.floats(0.0, 2000.0))
@settings(max_examples=120)
def test_any_log_gives_a_valid_plan_of_what_is_left(events: tuple[Event, ...], later: float) -> None:
    """Whatever was logged, in whatever order, the way on covers exactly the beads left and keeps its waits."""
    last = max((event.time for event in events), default=0.0)
    standing = WAITING.standing(events, last + later)
    laid = {bead for bead in BEADS if standing.coverage.is_laid(bead)}
    assert set(standing.left) == set(BEADS) - laid - standing.skipped
    way = best_from_here(WAITING, standing)
    check(WAITING, standing, way)
    for better in improve(WAITING, standing, way, 3):
        check(WAITING, standing, better)


@given(done=st.integers(0, 8), order=st.permutations(range(8)))
@settings(max_examples=60)
def test_any_prefix_of_any_order_is_followed(done: int, order: list[int]) -> None:
    """Beads laid one after another in any order leave exactly the others."""
    events = tuple(ArcStopped(time=150.0 + 60.0 * n, bead=bead) for n, bead in enumerate(order[:done]))
    standing = SMALL.standing(events)
    assert set(standing.left) == set(order[done:])
    assert not standing.faults
    check(SMALL, standing, best_from_here(SMALL, standing))


def test_a_job_whose_limits_nobody_can_keep_still_gets_an_answer() -> None:
    """With a limit below the air's temperature the way on is the one that exceeds it least, and it says so."""
    job = changed(small_job(), "ambient", temperature=35.0)
    intent = intent_for(changed(job, "limits", spot=34.0))
    way = best_from_here(intent, intent.standing(as_planned(intent, 3)))
    assert sorted(step.bead for step in way.steps) == sorted(intent.standing(as_planned(intent, 3)).left)
    assert way.excess > 0.0
