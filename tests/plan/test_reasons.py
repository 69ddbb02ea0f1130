"""Why each bead is next: every reason given can be checked on the plan."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest
from plan.planned import changed, searched, small_job
from reference.jobs import demo

from axlewright.plan.ours import Ours
from axlewright.plan.reasons import AS_COOL

JOBS = (small_job(), demo("truss-only"))


def left_at(ours: Ours, place: int) -> list[int]:
    """Beads left at a place of the plan that can be reached as the housing lies; all of one kind in these jobs."""
    steps, lies = ours.trial.timeline.steps, ours.found.tries.view.positions
    column = lies.turns.index(steps[place].turn)
    return [step.bead for step in steps[place:] if lies.allowed[step.bead, column]]


def cooler_end(ours: Ours, bead: int, place: int) -> float:
    """Rise of the cooler end of a bead when the bead at a place is begun [K]."""
    state = ours.trial.timeline.laying.states[:, place]
    return float((ours.found.tries.view.ends[:, bead] @ state).min())


@pytest.mark.parametrize("job", JOBS, ids=["small", "truss-only"])
def test_the_coolest_is_called_the_coolest(job) -> None:  # type: ignore[no-untyped-def]
    """A bead is said to lie on the coolest spot left exactly where it does, to within a kelvin."""
    ours = searched(job)
    for place, (step, why) in enumerate(zip(ours.trial.timeline.steps, ours.why, strict=True)):
        left = left_at(ours, place)
        own = cooler_end(ours, step.bead, place)
        is_coolest = own <= min(cooler_end(ours, bead, place) for bead in left) + AS_COOL
        assert why.startswith("coolest spot left") == (is_coolest and len(left) > 1)


@pytest.mark.parametrize("job", JOBS, ids=["small", "truss-only"])
def test_distances_told_are_those_between_the_beads(job) -> None:  # type: ignore[no-untyped-def]
    """The distance from the last bead is the straight line between their middles."""
    ours = searched(job)
    steps, distance = ours.trial.timeline.steps, ours.found.tries.view.distance
    assert "from the last" not in ours.why[0]
    for place in range(1, len(steps)):
        told = re.search(r"(\d+) mm from the last", ours.why[place])
        assert told is not None
        assert float(told[1]) == pytest.approx(
            1e3 * distance[steps[place].bead, steps[place - 1].bead], abs=0.5
        )


def test_a_cost_told_is_what_the_other_order_costs() -> None:
    """Where laying the coolest first is said to take longer, the plan with the two exchanged does."""
    ours = searched(demo("truss-only"))
    tries, plan = ours.found.tries, ours.found.plan(ours.trade_off.chosen)
    checked = 0
    for place, (step, why) in enumerate(zip(ours.trial.timeline.steps, ours.why, strict=True)):
        told = re.search(r"the coolest one first: (\d+) min more", why)
        if told is None:
            continue
        left = left_at(ours, place)
        other = min(left, key=lambda bead: cooler_end(ours, bead, place))
        beads = list(plan.order.beads)
        here, there = beads.index(step.bead), beads.index(other)
        beads[here], beads[there] = other, step.bead
        longer = tries.in_time(replace(plan.order, beads=tuple(beads))).end - plan.counts[0]
        assert longer / 60 == pytest.approx(float(told[1]), abs=0.51)
        checked += 1
    assert checked > 0


def test_waits_are_told_with_their_cause() -> None:
    """A wait for the spot and one for a bearing seat are told apart."""
    hot = searched(changed(demo("truss-only"), "limits", spot=50.0))
    waits = np.array([step.wait for step in hot.trial.timeline.steps])
    told = np.array(["cool enough after" in why for why in hot.why])
    assert (told == (waits > 0)).all() and told.any()
    assert not any("a seat or seal" in why for why in hot.why)
    job = changed(small_job(), "ambient", temperature=40.0)
    seat = searched(job).bench.warmest(searched(job).trial, "bearing seat")
    tight = searched(changed(job, "limits", bearing_seat=40.0 + 0.9 * seat, spot=390.0))
    assert any("a seat or seal near it is cool enough after" in why for why in tight.why)
