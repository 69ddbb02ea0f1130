"""orders.json: any plan of a trade-off is taken later exactly as the search left it."""

from __future__ import annotations

import json
from functools import cache

import numpy as np
import pytest
from plan.planned import QUICK, changed, common_for, searched, small_job
from reference.benches import bench_for
from reference.jobs import demo

from axlewright.errors import OptionError, RecordError
from axlewright.job.demo_jobs import demo_text
from axlewright.job.reading import parse_job
from axlewright.job.schema import Job
from axlewright.plan.bench import on_the_bench
from axlewright.plan.common_practice import common_practice
from axlewright.plan.learned import inputs_of
from axlewright.plan.orders import OrdersFile, chosen_plan, orders_of, orders_text, read_orders, shop_of
from axlewright.plan.ours import Ours, our_plan, take
from axlewright.shop.factors import ShopFactors, without_results

SUPPORTS = "\n[fixture]\n" + "".join(
    f'[[fixture.support]]\nat = "{at} mm"\nplane = "vertical"\n' for at in (60, 400, 900)
)


def in_fixture(job: Job | None = None) -> Job:
    """The truss demo clamped in a fixture, its shims left to us."""
    return parse_job(demo_text("truss-only") + SUPPORTS, "demo")


JOBS = {
    "small": small_job(),
    "truss-only": demo("truss-only"),
    "short tacks": changed(demo("truss-only"), "welder", tack_length=0.005),
    "in a fixture": in_fixture(),
    "in a fixture with short tacks": changed(in_fixture(), "welder", tack_length=0.005),
}


@cache
def orders(name: str) -> OrdersFile:
    """What a job's search found, written and read back."""
    return read_orders(orders_text(orders_of(searched(JOBS[name]))), "orders.json")


def taken(name: str, number: int) -> Ours:
    """A plan taken by its number on a bench made anew."""
    bench = on_the_bench(JOBS[name], bench_for(JOBS[name]).model)
    common = bench.try_plan(common_practice(bench.model.assembly, bench.job.bench))
    return chosen_plan(bench, common, orders(name), number)


def test_jobs_with_stronger_tacks_are_among_those_looked_at() -> None:
    """Where tacks are short the search needs longer ones, and orders.json keeps their lengths."""
    assert {name: bool(orders(name).tacks.lengths_m) for name in JOBS} == {
        name: "short tacks" in name for name in JOBS
    }


@pytest.mark.regression
@pytest.mark.parametrize("name", JOBS)
def test_every_plan_taken_later_has_the_figures_of_its_point(name: str) -> None:
    """Each plan of the trade-off, taken from orders.json without a search, is the search's own to the last digit."""
    found = searched(JOBS[name]).found
    for number in range(1, len(found.plans) + 1):
        ours = taken(name, number)
        point = ours.trade_off.points[number - 1]
        assert ours.trial.timeline.steps == found.plan(number).steps
        assert ours.trial.timeline.end == point.bench_s
        assert ours.trial.hottest + ours.bench.job.ambient.temperature == point.hottest_spot_c
        assert ours.trial.worst_tack == point.tack_utilisation
        assert np.array_equal(ours.found.tries.counts(ours.trial), found.plan(number).counts)


@pytest.mark.regression
@pytest.mark.parametrize("name", JOBS)
def test_trade_off_and_reasons_are_those_of_the_search(name: str) -> None:
    """Points, words and reasons are what the search itself would have said, had that plan been asked of it."""
    found = searched(JOBS[name]).found
    for number in {1, len(found.plans), found.leading}:
        asked, later = take(found, number), taken(name, number)
        assert later.trade_off == asked.trade_off
        assert later.trade_off.chosen == number
        assert later.why == asked.why
        assert later.bench.tack_lengths.tolist() == asked.bench.tack_lengths.tolist()


def test_what_the_shop_had_learned_is_kept() -> None:
    """A plan taken later stands on what the shop knew when plans were looked for."""
    usual = without_results()
    learned = ShopFactors(np.array([0.2, 0.1, 0.0, -0.1]), usual.covariance / 3, jobs=2, source="ours.toml")
    job = JOBS["small"]
    bench = on_the_bench(job, bench_for(job).model, inputs_of(learned))
    common = bench.try_plan(common_practice(bench.model.assembly, bench.job.bench))
    ours = our_plan(bench, common, QUICK)
    read = read_orders(orders_text(orders_of(ours, learned)), "orders.json")
    kept = shop_of(read)
    assert kept is not None
    assert (kept.jobs, kept.source) == (2, "ours.toml")
    assert np.array_equal(kept.mean, learned.mean) and np.array_equal(kept.covariance, learned.covariance)
    later = on_the_bench(job, bench_for(job).model, inputs_of(kept))
    assert chosen_plan(later, common, read, ours.trade_off.chosen).trade_off == ours.trade_off
    assert shop_of(orders("small")) is None


def test_common_practice_is_among_them() -> None:
    """orders.json has the order of common practice, bead by bead."""
    steps = common_for(JOBS["truss-only"]).timeline.steps
    kept = orders("truss-only").common_practice
    assert kept.beads == [step.bead for step in steps]
    assert kept.wait_s == [step.wait for step in steps]


@pytest.mark.parametrize("number", [0, -1, 21])
def test_a_number_that_is_not_there_is_refused(number: int) -> None:
    """Only numbers of the trade-off can be taken; the message says which there are."""
    with pytest.raises(OptionError, match=r"plan number is .*must be 1 to [0-9]+"):
        taken("small", number)


def test_plans_of_another_housing_are_refused() -> None:
    """Orders whose beads are not the job's are never laid on it."""
    bench = bench_for(JOBS["small"])
    with pytest.raises(RecordError, match="beads of this job"):
        chosen_plan(bench, common_for(JOBS["small"]), orders("truss-only"), 1)


@pytest.mark.parametrize("text", ["", "{}", "[1]", "no JSON"])
def test_what_is_no_orders_json_is_refused(text: str) -> None:
    """A text that is not whole is refused with a remedy, not half read."""
    with pytest.raises(RecordError, match="Plan the job again"):
        read_orders(text, "orders.json")


def test_an_order_with_a_bead_too_few_is_refused() -> None:
    """Columns of different lengths are no plan."""
    content = json.loads(orders_text(orders("small")))
    content["orders"][0]["wait_s"].pop()
    with pytest.raises(RecordError, match="Plan the job again"):
        read_orders(json.dumps(content), "orders.json")
