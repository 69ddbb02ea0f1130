"""The search for plans: what it finds, what it keeps to, and how it stops."""

from __future__ import annotations

import dataclasses
from itertools import permutations, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from plan.planned import QUICK, changed, common_for, searched, small_job
from reference.benches import bench_for
from reference.jobs import demo, plain_tube, strip

from axlewright.job.schema import Job
from axlewright.plan.bench import OnTheBench
from axlewright.plan.bounds import HEAT_SLACK, STRENGTH, Bounds
from axlewright.plan.coolest_first import kind_groups
from axlewright.plan.positions import positions
from axlewright.plan.report import TradePoint
from axlewright.plan.search.archive import Archive, Found
from axlewright.plan.search.chains import AIMS, RECOMMENDED, best, cost
from axlewright.plan.search.moves import changed as small_change
from axlewright.plan.search.orders import Order
from axlewright.plan.search.rules import orders_to_try
from axlewright.plan.search.search import Search, look_for_plans
from axlewright.plan.search.tries import Tries
from axlewright.plan.stronger_tacks import strengthened
from axlewright.plan.timeline import Step

FULL = Search(seconds=600.0, plans=2777)
"""The search as a user gets it on 36 beads, on a machine of any speed."""

FIVE_BEADS = strip("upper", at=300, length=100) + strip("lower", at=650, clock=3, length=50)
"""Beads enough to choose from and few enough to try all: four on one bracket, two (one either side) on another."""


def counts(point: TradePoint) -> np.ndarray:
    """What counts of a plan shown."""
    return np.array([point.bench_s, point.hottest_spot_c, point.distortion, point.tack_utilisation])


@pytest.fixture(scope="module")
def truss_only():
    """The 36-bead demo searched as a user gets it."""
    return searched(demo("truss-only"), FULL)


def test_a_quick_plan_and_a_straight_plan_on_the_truss_alone(truss_only) -> None:
    """Against common practice: 0.35 of its bench time, no hotter, no more bow; and 0.60 of its bow in no more time."""
    # Source: what was asked of the search; a feasibility study on a like housing found 0.34 and 0.60 with plain swaps.
    # Measured with four seeds: 0.33 to 0.35 of the time, 0.52 to 0.58 of the bow.
    common = common_for(demo("truss-only"))
    trials = [truss_only.bench.try_plan(plan.steps) for plan in truss_only.found.tries.archive.plans]
    quick = [
        trial.timeline.end / common.timeline.end
        for trial in trials
        if trial.hottest <= common.hottest + HEAT_SLACK and trial.bow <= common.bow
    ]
    straight = [trial.bow / common.bow for trial in trials if trial.timeline.end <= common.timeline.end]
    assert min(quick) <= 0.35, f"quickest {min(quick):.3f}"
    assert min(straight) <= 0.60, f"straightest {min(straight):.3f}"


def test_the_recommended_plan_on_the_truss_alone(truss_only) -> None:
    """At most 0.40 of common practice's bench time; no hotter, straighter, and no tack loaded more."""
    common, trial = common_for(demo("truss-only")), truss_only.trial
    assert trial.timeline.end <= 0.40 * common.timeline.end
    assert trial.hottest <= common.hottest + HEAT_SLACK
    assert trial.bow <= common.bow
    assert trial.worst_tack <= common.worst_tack + 1e-9


@pytest.mark.parametrize("job", [small_job(), demo("truss-only")], ids=["small", "truss-only"])
def test_none_of_the_plans_shown_beats_another(job: Job) -> None:
    """Of any two plans shown each is better in something: bench time, hottest spot, distortion or tack load."""
    points = searched(job).trade_off.points
    assert [point.number for point in points] == list(range(1, len(points) + 1))
    assert [point.bench_s for point in points] == sorted(point.bench_s for point in points)
    for one, other in product(points, points):
        if one is not other:
            assert (counts(one) < counts(other)).any()


def test_points_tell_what_their_plans_do(truss_only) -> None:
    """Every point's figures are those of its plan, put in time and walked anew."""
    tries = truss_only.found.tries
    for point, plan in zip(truss_only.trade_off.points, truss_only.found.plans, strict=True):
        trial = tries.bench.try_plan(plan.steps)
        assert point.bench_s == pytest.approx(trial.timeline.end)
        assert point.hottest_spot_c == pytest.approx(20.0 + trial.hottest)
        assert point.distortion == pytest.approx(tries.bench.distortion(trial))
        assert point.tack_utilisation == pytest.approx(trial.worst_tack)
        assert point.turns == trial.timeline.turns


def test_merits_go_to_the_best(truss_only) -> None:
    """The quickest, straightest, coolest and easiest plan is the best in that count among those whose tacks hold."""
    trade = truss_only.trade_off
    holding = [point for point in trade.points if point.tack_utilisation <= STRENGTH]
    fine = truss_only.found.tries.archive.fine
    for count, merit in enumerate(("quickest", "coolest", "straightest", "easiest on the tacks")):
        winner = next(point for point in trade.points if merit in point.merit)
        assert counts(winner)[count] <= min(counts(point)[count] for point in holding) + fine[count]


def test_the_reason_for_the_recommendation_is_true(truss_only) -> None:
    """The shares told are those of the plan beside common practice."""
    trade = truss_only.trade_off
    point = trade.points[trade.recommended - 1]
    assert (
        f"takes {100 * point.bench_s / trade.common.bench_s:.0f} % of common practice's bench time"
        in trade.why
    )
    assert f"leaves {100 * point.distortion / trade.common.distortion:.0f} % of its distortion" in trade.why
    assert f"carries {100 * point.tack_utilisation:.0f} % of its strength" in trade.why


def test_seed_and_count_make_it_repeatable() -> None:
    """The same seed gives the same plans, another one others."""
    job = demo("truss-only")
    bench, common = bench_for(job), common_for(job)
    runs = [
        look_for_plans(bench, common, Search(plans=80, seconds=600.0, seed=seed)).archive.plans
        for seed in (3, 3, 4)
    ]
    steps = [[plan.steps for plan in run] for run in runs]
    assert steps[0] == steps[1]
    assert steps[0] != steps[2]


def tried(job: Job, search: Search = QUICK) -> Tries:
    """What a search has tried on a job."""
    return look_for_plans(bench_for(job), common_for(job), search)


@pytest.mark.parametrize("beads", [4, 6])
def test_on_a_few_beads_it_finds_the_true_best(beads: int) -> None:
    """On seven beads or fewer no order at all is better than what is found, whatever the aim."""
    text = strip("upper", at=300, length=100) if beads == 4 else FIVE_BEADS
    # Tacks that hold: beyond a bound, differences that do not matter would cost more than all else.
    job = changed(plain_tube(text), "welder", tack_length=0.03)
    tries = tried(job, Search(plans=orders_to_try(beads) + 200, seconds=600.0))
    assert len(tries.view.seam) == beads
    ways = list(product((False, True), repeat=beads)) if beads == 4 else [(False,) * beads]
    reached = {}
    for aim in AIMS:
        found = best(tries, aim)
        # Differences that do not matter are not kept apart.
        allowance = float(np.dot(aim.worth, tries.archive.fine / tries.scale))
        reached[aim] = cost(tries, aim, found.counts, found.too_warm) - allowance
    for order, way in product(permutations(range(beads)), ways):
        weighed = tries.weigh(Order(order, way, tries.within.hottest))
        for aim, least in reached.items():
            assert least <= cost(tries, aim, weighed)


def test_the_time_limit_is_kept() -> None:
    """A search that may take a second stops soon after it, says so, and has plans."""
    # A plan of the rescue truck takes some 25 ms; the tacks made longer and the first rules some seconds at most.
    job = demo("truss-only")
    tries = tried(job, Search(plans=100_000, seconds=1.0))
    assert tries.stopped and tries.done < 100_000
    assert tries.archive.plans


def test_an_interrupt_keeps_the_best_so_far() -> None:
    """Stopped from the keyboard, the search gives what it has found."""
    job = demo("truss-only")

    def stop(tries: Tries) -> None:
        if tries.walked == 30:
            raise KeyboardInterrupt

    tries = look_for_plans(bench_for(job), common_for(job), QUICK, stop)
    assert tries.stopped and tries.walked == 30
    assert tries.archive.plans


def test_an_interrupt_before_any_plan_ends_it() -> None:
    """With nothing found there is nothing to keep, and the interrupt goes on its way."""
    job = small_job()
    tries_before_first = Search(plans=10, seconds=600.0)
    bench = dataclasses.replace(bench_for(job))

    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    object.__setattr__(bench, "judged", stop)
    with pytest.raises(KeyboardInterrupt):
        look_for_plans(bench, common_for(job), tries_before_first)


@pytest.mark.parametrize("name", ["truss-only", "rescue-truck"])
def test_every_plan_keeps_to_reach_and_kinds(name: str) -> None:
    """Each bead once, kinds one after another, each bead at a turn and in a sense its position allows."""
    job = demo(name)
    ours = searched(job)
    assembly = ours.bench.model.assembly
    lies = positions(assembly, job.bench.turns, job.bench.overhead)
    kinds = np.array([assembly.seams[bead.seam].kind for bead in assembly.beads])
    for plan in ours.found.plans:
        beads = [step.bead for step in plan.steps]
        assert sorted(beads) == list(range(len(assembly.beads)))
        assert (kinds[beads][1:] != kinds[beads][:-1]).sum() == len(set(kinds)) - 1
        for step in plan.steps:
            column = lies.turns.index(step.turn)
            assert lies.allowed[step.bead, column]
            assert lies.reverse[step.bead, column] in (0, -1 if step.reverse else 1)
            assert lies.names[step.bead, column] not in ("PD", "PE", "PG")


def test_a_turn_costs_what_the_job_says() -> None:
    """Slow stands make every plan that turns later by the turns' time and nothing else."""
    job = demo("rescue-truck")
    slow = changed(job, "bench", turn_time=600.0)
    steps = common_for(job).timeline.steps
    quick, later = (bench_for(j).in_time(steps) for j in (job, slow))
    assert later.turns == quick.turns > 0
    assert later.end - quick.end == pytest.approx(quick.turns * (600.0 - job.bench.turn_time))


@pytest.mark.common_practice
def test_beads_are_grouped_by_turn() -> None:
    """The recommended plan of the whole axle turns the housing no more often than it has kinds of attachment."""
    ours = searched(demo("rescue-truck"))
    assert ours.trial.timeline.turns <= 4


def spot(bench: OnTheBench, steps: tuple[Step, ...]) -> float:
    """Hottest spot of a plan over ambient [K]."""
    return float(bench.in_time(steps).spots.max())


def test_the_jobs_spot_limit_binds_every_plan_shown() -> None:
    """Where the job limits the spot, no plan is offered that is hotter."""
    job = changed(demo("truss-only"), "limits", spot=60.0)
    ours = searched(job)
    assert max(spot(ours.bench, plan.steps) for plan in ours.found.plans) <= 40.0 + HEAT_SLACK


def test_tacks_are_made_longer_where_every_plan_overloads_them() -> None:
    """The whole axle's gusset tacks of 20 mm do not hold; the plan names longer ones, and then all hold."""
    job = demo("rescue-truck")
    ours = searched(job)
    own = job.welder.tack_length
    longer = ours.bench.tack_lengths > own
    assert ours.trade_off.recommended is not None
    assert ours.trial.worst_tack <= STRENGTH
    assert 0 < longer.sum() < len(longer) / 3
    assert (ours.bench.tack_lengths <= 0.8 * job.welder.tack_spacing + 1e-9).all()
    plain = bench_for(job).try_plan(ours.trial.timeline.steps)
    # Tacks are made longer for the best plan at that time; the one recommended later may not need each of them.
    assert plain.worst_tack > STRENGTH
    assert np.median(plain.tack_utilisation[longer]) > 0.8 > np.median(plain.tack_utilisation[~longer])


def test_a_plan_that_overloads_a_tack_is_never_recommended() -> None:
    """With tacks too short to hold by any means none is recommended, and the report says so."""
    job = changed(demo("cast-centre"), "welder", tack_length=0.005, tack_spacing=0.012)
    ours = searched(job, Search(plans=40, seconds=600.0))
    assert ours.trial.worst_tack > STRENGTH
    assert ours.trade_off.recommended is None
    assert "overloads a tack" in ours.trade_off.why
    assert not any(point.within for point in ours.trade_off.points if point.tack_utilisation > STRENGTH)


def test_stronger_tacks_leave_a_plan_alone_that_needs_none() -> None:
    """Where the job's tacks hold, the bench stays the same."""
    bench = bench_for(demo("truss-only"))
    assert strengthened(bench, common_for(demo("truss-only")).timeline.steps) is bench


def found(*values: float, warm: float = 0.0) -> Found:
    """A plan with given counts."""
    return Found(Order((), (), 0.0), (), np.array(values), warm)


@pytest.mark.analytical
def test_the_archive_keeps_what_nothing_beats() -> None:
    """A plan beaten in all counts is out, one better in any is in, and a copy is not kept twice."""
    archive = Archive(np.full(4, 0.01))
    assert archive.offer(found(2, 2, 2, 2))
    assert not archive.offer(found(2, 2, 2, 2)), "a copy"
    assert not archive.offer(found(2, 3, 2, 2)), "beaten"
    assert archive.offer(found(1, 9, 9, 9)), "better in one"
    assert archive.offer(found(1.5, 1.5, 1.5, 1.5))
    assert [tuple(plan.counts) for plan in archive.plans] == [(1, 9, 9, 9), (1.5, 1.5, 1.5, 1.5)]
    assert not archive.offer(found(0.5, 0.5, 0.5, 0.5, warm=0.1)), (
        "a seat too warm, where others keep the limit"
    )


def test_a_plan_that_keeps_limits_drives_out_those_that_do_not() -> None:
    """As long as all break a limit they compete; the first that keeps it stays alone."""
    archive = Archive(np.full(4, 0.01))
    assert archive.offer(found(1, 1, 1, 1, warm=0.2))
    assert archive.offer(found(9, 9, 9, 9))
    assert [plan.too_warm for plan in archive.plans] == [0.0]


@given(st.lists(st.tuples(*(st.floats(0.0, 10.0),) * 4), min_size=1, max_size=40), st.integers(1, 12))
@settings(max_examples=60)
def test_thinning_keeps_extremes_and_what_is_named(values: list[tuple[float, ...]], most: int) -> None:
    """The best in each count and the plan named are among those shown, sorted by bench time."""
    archive = Archive(np.full(4, 1e-6))
    for row in values:
        archive.offer(found(*row))
    named = archive.plans[-1]
    shown = archive.thinned(most, [named])
    assert any(plan is named for plan in shown)
    table = np.array([plan.counts for plan in shown])
    assert np.allclose(table.min(axis=0), np.min([plan.counts for plan in archive.plans], axis=0))
    assert (np.diff(table[:, 0]) >= 0).all()
    assert len(shown) <= max(most, 5)


@given(st.integers(0, 2**32 - 1))
@settings(max_examples=100)
def test_small_changes_keep_every_bead_and_every_kind(seed: int) -> None:
    """Whatever the change, each bead stays once and each kind in its place."""
    model = bench_for(demo("rescue-truck")).model
    groups = [group for group in kind_groups(model, ()) if group]
    beads = tuple(bead for group in groups for bead in group)
    chance = np.random.default_rng(seed)
    order = Order(beads, (False,) * len(beads), 30.0)
    steps = tuple(Step(bead, False, float(chance.integers(3))) for bead in beads)
    new = small_change(order, steps, groups, (10.0, 30.0), chance)
    assert sorted(new.beads) == sorted(beads)
    for group, start in zip(groups, np.cumsum([0, *(len(group) for group in groups)]), strict=False):
        assert sorted(new.beads[start : start + len(group)]) == group
    assert new.spot in (10.0, 30.0)


@pytest.mark.analytical
def test_going_beyond_a_bound_outweighs_everything() -> None:
    """A plan a tenth over the heat bound costs more than one that takes twice as long within it."""
    tries = tried(small_job(), Search(plans=10, seconds=600.0))
    tries.within = Bounds(float(tries.scale[1]), 1.0, 1.0, 1e3, None)
    hot, slow = (tries.scale * np.array(share) for share in ((1.0, 1.1, 0.5, 0.5), (2.0, 1.0, 0.5, 0.5)))
    assert cost(tries, RECOMMENDED, slow) < cost(tries, RECOMMENDED, hot)
