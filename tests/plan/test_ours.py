"""Our plan: what it keeps to, and how it stands beside common practice."""

from __future__ import annotations

import dataclasses
from itertools import pairwise

import numpy as np
import pytest
from plan.planned import changed, common_for, ours_for, report_for, small_job
from reference.benches import bench_for
from reference.jobs import demo

from axlewright import tasks
from axlewright.heat.state import cooled
from axlewright.job.schema import Job
from axlewright.plan.bench import OnTheBench, Trial
from axlewright.plan.bounds import EASY, STRENGTH, Bounds, bounds, excess
from axlewright.plan.coolest_first import Taste, coolest_first
from axlewright.plan.outlook import outlook
from axlewright.plan.positions import positions
from axlewright.plan.search.search import Search
from axlewright.plan.timeline import Clock, Step

SHORT = Search(plans=40, seconds=600.0)
"""A search that need not find much."""

SLACK = 0.05
"""What the spot temperature may exceed its limit by: rounding of waits to a second and of limits to a tenth [K]."""


@pytest.mark.parametrize("job", [small_job(), demo("truss-only")], ids=["small", "truss-only"])
def test_every_bead_is_laid_once_after_all_tacks(job: Job) -> None:
    """Our plan lays each bead of the assembly exactly once, and the first one after the last tack."""
    bench, trial = bench_for(job), ours_for(job)
    assert sorted(step.bead for step in trial.timeline.steps) == list(range(len(bench.model.assembly.beads)))
    assert trial.timeline.starts[0] >= bench.tacks.end
    assert np.all(np.diff(trial.timeline.starts) >= trial.timeline.arcs[:-1])


GUSSET = """
[[gusset]]
name = "gusset"
end = "right"
clock = 12
length = 60
height = 15
thickness = 5
"""


@pytest.mark.parametrize("order", [("bracket", "gusset"), ("gusset", "bracket"), ("truss",)])
def test_kinds_are_welded_one_after_another(order: tuple[str, ...]) -> None:
    """Our plan finishes the kinds of attachment in the order the job sets; left out, in that of the trade."""
    job = changed(small_job(GUSSET), "bench", order=order)
    assembly = bench_for(job).model.assembly
    free = Taste(200.0, 0.0, 0.0, False, unwatched(bench_for(job)))
    for steps in (ours_for(job).timeline.steps, ordered(bench_for(job), free)):
        kinds = [assembly.seams[assembly.beads[step.bead].seam].kind for step in steps]
        assert sum(a != b for a, b in pairwise(kinds)) == 1
        assert (kinds[0], kinds[-1]) == (order if len(order) == 2 else ("gusset", "bracket"))


@pytest.mark.parametrize("limit", [45.0, 60.0])
def test_the_jobs_limit_on_spot_temperature_is_kept(limit: float) -> None:
    """No bead of our plan starts on a spot hotter than the job allows, and time is paid for it."""
    job = changed(demo("truss-only"), "limits", spot=limit)
    trial = ours_for(job)
    assert trial.hottest + job.ambient.temperature <= limit + SLACK
    assert trial.timeline.end > ours_for(demo("truss-only")).timeline.end


def test_common_practice_ignores_the_limit() -> None:
    """A limit of the job does not touch the plan ours is held against: it goes by the clock."""
    job = changed(demo("truss-only"), "limits", spot=45.0)
    assert common_for(job).hottest == pytest.approx(common_for(demo("truss-only")).hottest)


@pytest.mark.parametrize("job", [small_job(), demo("truss-only")], ids=["small", "truss-only"])
def test_without_a_limit_ours_is_no_hotter_than_common_practice(job: Job) -> None:
    """Where the job sets no limit the hottest spot of common practice is the limit."""
    ours, common = ours_for(job), common_for(job)
    assert ours.hottest <= common.hottest + SLACK, f"ours {ours.hottest:.2f} K, common {common.hottest:.2f} K"


@pytest.mark.parametrize("job", [small_job(), demo("truss-only")], ids=["small", "truss-only"])
def test_the_same_job_gives_the_same_plan(job: Job) -> None:
    """Two runs give the same plan.json to the byte, but for the time it took and whether a model was kept."""
    texts = [_without_run(tasks.plan_text(tasks.plan_job(job, None, search=SHORT))) for _ in range(2)]
    assert texts[0] == texts[1]


def _without_run(text: str) -> str:
    return "\n".join(
        line for line in text.splitlines() if not line.strip().startswith(('"build_s"', '"from_cache"'))
    )


def unwatched(bench: OnTheBench) -> np.ndarray:
    """No limit on seats and seals."""
    return np.full(len(bench.model.modes.places), np.inf)


def ordered(bench: OnTheBench, taste: Taste) -> tuple[Step, ...]:
    """All beads of a job in the order of one taste."""
    view = outlook(bench.model, bench.heated, bench.job.bench)
    return coolest_first(view, bench.job.bench, bench.tacks, taste).steps


@pytest.mark.parametrize("rise", [10.0, 20.0, 40.0])
def test_it_waits_only_when_every_spot_is_too_hot(rise: float) -> None:
    """When a wait is planned no bead in reach has an end below the limit, and the wait is no longer than needed."""
    job = small_job()
    bench = bench_for(job)
    steps = ordered(bench, Taste(rise, 0.0, 0.0, False, unwatched(bench)))
    clock = Clock(bench.model, bench.heated, bench.tacks.end, bench.tacks.state)
    left, waited = set(range(len(steps))), 0
    for step in steps:
        clock.turn_to(step.turn, job.bench.turn_time)
        clock.pass_time(job.bench.between_beads)
        waits = (0.0, max(0.0, step.wait - 1.5), step.wait)
        coolest = [_coolest(bench, clock, left, wait) for wait in waits]
        if step.wait:
            waited += 1
            assert coolest[0] > rise and coolest[1] > rise
        assert coolest[2] <= rise + SLACK
        clock.pass_time(step.wait)
        assert clock.spot(step.bead, step.reverse) <= rise + SLACK
        clock.weld(step.bead, step.reverse)
        left.remove(step.bead)
    assert waited > 0


def _coolest(bench: OnTheBench, clock: Clock, left: set[int], wait: float) -> float:
    """Coolest end after a wait at which a bead left may be begun as the housing lies [K]."""
    state = cooled(clock.modes, clock.state, wait)
    own = bench.job.bench
    lies = positions(bench.model.assembly, own.turns, own.overhead)
    column = lies.turns.index(clock.turn)
    ends = [
        clock.pieces[bead][end]
        for bead in left
        if lies.allowed[bead, column]
        for end, sense in ((0, 1), (-1, -1))
        if lies.reverse[bead, column] in (0, sense)
    ]
    return float((clock.modes.spot[ends] @ state).min())


def test_the_coolest_spot_is_taken_where_distance_is_worth_nothing() -> None:
    """With no taste for distance the bead laid is the coolest of all that are left."""
    bench = bench_for(demo("truss-only"))
    clock = Clock(bench.model, bench.heated, bench.tacks.end, bench.tacks.state)
    steps = ordered(bench, Taste(200.0, 0.0, 0.0, False, unwatched(bench)))
    left = set(range(len(steps)))
    for step in steps:
        clock.pass_time(bench.job.bench.between_beads)
        assert clock.spot(step.bead, step.reverse) == pytest.approx(
            _coolest(bench, clock, left, 0.0), abs=2e-6
        )
        clock.weld(step.bead, step.reverse)
        left.remove(step.bead)


def test_side_changes_where_the_taste_says_so() -> None:
    """With change of side asked for, two beads in a row lie on one seam only when no other seam has any left."""
    bench = bench_for(demo("truss-only"))
    steps = ordered(bench, Taste(200.0, 15.0, 0.0, True, unwatched(bench)))
    seams = [bench.model.assembly.beads[step.bead].seam for step in steps]
    for place in range(1, len(seams)):
        if any(seam != seams[place - 1] for seam in seams[place:]):
            assert seams[place] != seams[place - 1]


def test_bounds_come_from_the_job_or_from_common_practice() -> None:
    """A limit of the job counts over ambient; without one common practice's own figures are the bounds."""
    job = demo("truss-only")
    common = common_for(job)
    free = bounds(bench_for(job), common)
    assert free.hottest == common.hottest
    assert free.distortion == bench_for(job).distortion(common)
    assert free.tack == common.worst_tack
    assert free.seat == 120.0 - job.ambient.temperature
    assert free.seal is None
    heavy, light = (dataclasses.replace(common, tack_utilisation=np.array([load])) for load in (1.4, 0.2))
    assert bounds(bench_for(job), heavy).tack == STRENGTH, "never more than its strength"
    assert bounds(bench_for(job), light).tack == EASY
    tight = changed(job, "limits", spot=60.0, seal=80.0, bearing_seat=90.0)
    limited = bounds(bench_for(tight), common)
    assert (limited.hottest, limited.seat, limited.seal) == (40.0, 70.0, 60.0)


def _hotter(trial: Trial, factor: float) -> Trial:
    return dataclasses.replace(
        trial, timeline=dataclasses.replace(trial.timeline, spots=factor * trial.timeline.spots)
    )


@pytest.mark.analytical
def test_excess_is_the_share_beyond_each_bound() -> None:
    """Nothing within the bounds; a tenth beyond one and a fifth beyond another make three tenths."""
    job = small_job()
    bench, common = bench_for(job), common_for(job)
    distorted = bench.distortion(common)
    wide = Bounds(common.hottest, 2 * distorted, 2.0, 1e3, None)
    assert excess(bench, common, wide) == 0.0
    # The 0.05 K of slack in the heat bound is left out of the expected value: 0.05 K of some 190 K.
    assert excess(bench, _hotter(common, 1.1), wide) == pytest.approx(0.1, abs=1e-3)
    tighter = dataclasses.replace(wide, distortion=distorted / 1.2)
    assert excess(bench, _hotter(common, 1.1), tighter) == pytest.approx(0.3, abs=1e-3)
    seat = bench.warmest(common, "bearing seat")
    assert seat > 0
    warm = dataclasses.replace(wide, seat=seat / 1.5)
    assert excess(bench, common, warm) == pytest.approx(0.5, abs=1e-9)


def test_a_seal_counts_only_where_it_has_a_limit() -> None:
    """Seals named in the housing and given a limit are in the excess; without a limit they are not."""
    job = demo("rescue-truck")
    bench, common = bench_for(job), common_for(job)
    warm = bench.warmest(common, "seal")
    assert warm > 0
    wide = Bounds(1e3, 1.0, 1e3, 1e3, None)
    assert excess(bench, common, wide) == 0.0
    limited = dataclasses.replace(wide, seal=warm / 1.25)
    assert excess(bench, common, limited) == pytest.approx(0.25)


def test_a_limit_on_bearing_seats_is_kept_by_waiting() -> None:
    """Where the job limits the bearing seats below what haste makes them, our plan waits and keeps the limit."""
    # 0.5 K: between the moments at which the choice of a bead looks ahead, a seat may be a little warmer.
    job = changed(small_job(), "ambient", temperature=40.0)
    warm = bench_for(job).warmest(ours_for(job), "bearing seat")
    limit = job.ambient.temperature + 0.9 * warm
    cooler = ours_for(changed(job, "limits", bearing_seat=limit))
    assert bench_for(job).warmest(cooler, "bearing seat") <= 0.9 * warm + 0.5
    assert cooler.timeline.end > ours_for(job).timeline.end


def test_a_limit_below_the_air_still_gives_a_plan() -> None:
    """In a shop hotter than the spot limit every bead is planned all the same."""
    job = changed(changed(small_job(), "ambient", temperature=40.0), "limits", spot=35.0)
    report = report_for(job)
    assert len(report.ours.beads) == len(bench_for(job).model.assembly.beads)
    assert report.ours.totals.hottest_spot_c >= 40.0 - SLACK


def test_the_search_tells_how_far_it_is() -> None:
    """The stages of planning are told in order, the search with its count."""
    told: list[str] = []
    tasks.plan_job(small_job(), None, told.append, search=SHORT)
    assert told[0] == "meshing the housing"
    assert told[-1].startswith("working out how sure this is (")
    counts = [int(line.split("(")[1].split(" of ")[0]) for line in told if "better order (" in line]
    assert counts == sorted(counts)
    assert counts[-1] == SHORT.plans
    assert all("best so far" in line for line in told if "better order (" in line)
