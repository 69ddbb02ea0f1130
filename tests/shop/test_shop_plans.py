"""Plans and replans that know the shop: middle, bands, and what is said of them."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from plan.planned import common_for, plan_json, small_job
from reference.benches import as_numbered, bench_for
from replan.bench_log import as_planned, intent_for
from shop.shop_results import housings

from axlewright.heat.varied import HeatFactors
from axlewright.plan.bench import OnTheBench, on_the_bench
from axlewright.plan.how_sure import edges
from axlewright.plan.learned import CLOSEST, TRIAL_ONLY, WIDEST, inputs_of, narrowest, spreads_of, tied
from axlewright.plan.replan.answer import replanned
from axlewright.plan.replan.events import AmbientChanged, TemperatureRead
from axlewright.plan.replan.intent import Intent
from axlewright.plan.replan.physics import physics_of
from axlewright.plan.replan.reading import BeadLog
from axlewright.plan.report import PlanReport
from axlewright.plan.reporting import plan_report
from axlewright.plan.sampling import FIGURES, draws, figures_of, inputs_at, sample_plans
from axlewright.plan.spreads import SPREADS, Inputs
from axlewright.sheets.sureness import sentences
from axlewright.shop.factors import NAMES, without_results
from axlewright.shop.posterior import posterior

JOB = small_job()
SHOP = posterior(housings(4), "shop.toml")


@cache
def shops_bench() -> OnTheBench:
    """The small job on the bench of a shop that has learned."""
    return on_the_bench(JOB, bench_for(JOB).model, inputs_of(SHOP))


@cache
def report(learned: bool) -> PlanReport:
    """A report of common practice in place of a plan, with what the shop has learned or without."""
    bench = shops_bench() if learned else bench_for(JOB)
    common = bench.try_plan(common_for(JOB).timeline.steps)
    return plan_report(JOB, bench, common, common, 40, shop=SHOP if learned else None)


@pytest.mark.analytical
def test_the_bench_works_with_the_shops_middle() -> None:
    """A plan on the shop's bench is the plan with each factor at its middle, which by linearity is known."""
    steps = as_numbered(bench_for(JOB).model)
    shop = replace(SHOP, mean=np.log([2.0, 2.0, 1.0, 1.0]))
    bench = on_the_bench(JOB, bench_for(JOB).model, inputs_of(shop))
    twice = bench.try_plan(steps).shape.bow_vertical
    one, along, across = (
        bench_for(JOB).varied(inputs).try_plan(steps).shape.bow_vertical
        for inputs in (Inputs(), Inputs(tendon=2.0), Inputs(across=2.0))
    )
    assert twice - one == pytest.approx(along - one + across - one, rel=1e-9)


def test_a_varied_bench_can_be_varied_again() -> None:
    """From a bench with the shop's heat flow, other inputs give what they give from the model as built."""
    steps = as_numbered(bench_for(JOB).model)
    for inputs in (Inputs(), Inputs(tendon=1.2, flow=HeatFactors(loss=0.8, seam=2.0)), inputs_of(SHOP)):
        again, straight = (
            figures_of(bench, bench.try_plan(steps))
            for bench in (shops_bench().varied(inputs), bench_for(JOB).varied(inputs))
        )
        np.testing.assert_allclose(again, straight, rtol=1e-7, atol=1e-12)


@pytest.mark.analytical
def test_draws_follow_the_posterior() -> None:
    """Two thousand draws have the posterior's mean, spreads and correlations; the first input stays a hypercube."""
    # Standard error of a correlation of 2000 draws is 0.02; pairs of draws share heat and loss, so 0.05 is allowed.
    spreads, shares = spreads_of(SHOP), draws(spreads_of(SHOP), 2000, 0)
    drawn = inputs_at(spreads, tied(shares, spreads, SHOP))
    logs = np.log([[one.tendon, one.across, one.heat, one.flow.loss] for one in drawn])
    np.testing.assert_allclose(logs.mean(axis=0), SHOP.mean, atol=0.01)
    np.testing.assert_allclose(logs.std(axis=0), SHOP.spread, rtol=0.04)
    correlation = SHOP.covariance / np.outer(SHOP.spread, SHOP.spread)
    assert abs(correlation[0, 1]) > 0.2
    np.testing.assert_allclose(np.corrcoef(logs.T), correlation, atol=0.05)
    heat = [spread.name for spread in spreads].index("heat")
    np.testing.assert_allclose(
        np.sort(tied(shares, spreads, SHOP)[:, heat]), np.sort(shares[:, heat]), atol=1e-12
    )


def test_draws_are_as_before_without_results() -> None:
    """Without results nothing is drawn differently, not by one digit."""
    shares = draws(SPREADS, 20, 0)
    for nothing in (None, without_results()):
        assert spreads_of(nothing) is SPREADS and tied(shares, SPREADS, nothing) is shares
        assert narrowest(nothing) == WIDEST
    steps = as_numbered(bench_for(JOB).model)
    plain, with_none = (
        sample_plans([(bench_for(JOB), steps)], 4, shop=nothing) for nothing in (None, without_results())
    )
    np.testing.assert_array_equal(plain.figures, with_none.figures)


@pytest.mark.analytical
def test_sampling_on_the_shops_bench_draws_about_its_middle() -> None:
    """Each draw is what the bench gives with these inputs at once; half of them lie below the shop's own figure."""
    steps = as_numbered(bench_for(JOB).model)
    found = sample_plans([(shops_bench(), steps)], 30, spreads_of(SHOP), shop=SHOP)
    for draw, inputs in list(
        enumerate(inputs_at(spreads_of(SHOP), tied(found.shares, spreads_of(SHOP), SHOP)))
    )[:3]:
        bench = bench_for(JOB).varied(inputs)
        np.testing.assert_allclose(
            found.figures[0, draw], figures_of(bench, bench.try_plan(steps)), rtol=1e-7, atol=1e-12
        )
    own = figures_of(shops_bench(), shops_bench().try_plan(steps))
    bow = FIGURES.index("bow_vertical")
    assert np.median(found.figures[0, :, bow]) == pytest.approx(own[bow], rel=0.1)


def test_the_floor_of_the_band_shrinks_with_what_was_learned() -> None:
    """Every further housing lets the band close, never below a tenth, and trials alone not below what they may."""
    floors = [narrowest(posterior(housings(count))) for count in (1, 3, 10, 40)]
    assert WIDEST > floors[0] > floors[1] > floors[2] >= floors[3] >= CLOSEST
    trials = [replace(one, kind="trial") for one in housings(40)]
    assert narrowest(posterior(trials)) == TRIAL_ONLY
    sure = replace(SHOP, covariance=1e-4 * SHOP.covariance)
    assert narrowest(sure) == CLOSEST


def test_edges_stand_off_by_the_shops_own_share() -> None:
    """Where draws would give less, the edges of the shape lie where the shop's floor puts them."""
    steps = as_numbered(bench_for(JOB).model)
    taken = figures_of(bench_for(JOB), bench_for(JOB).try_plan(steps))
    still = sample_plans([(bench_for(JOB), steps)], 4, ())
    band = edges(still, 0, taken, 0.12)
    assert band.high[0] - taken[0] == pytest.approx(0.12 * abs(taken[0]))


def test_bands_close_with_results() -> None:
    """With four housings behind it the band of the distortion is narrower, in shares of the figure, than without."""
    widths = []
    for learned in (True, False):
        plan = report(learned).ours
        assert plan.how_sure is not None
        widths.append((plan.how_sure.distortion.high - plan.how_sure.distortion.low) / plan.totals.distortion)
    assert widths[0] < 0.85 * widths[1]


def test_the_report_says_what_stands_behind_it() -> None:
    """plan.json, screen and sheet give the shop's counts, each factor before and after, and the floor of the band."""
    shop = plan_json(report(True))["how_sure"]["shop"]
    assert (shop["jobs"], shop["trials"], shop["source"]) == (4, 0, "shop.toml")
    along = shop["factors"][0]
    assert along["before"] == {"low": 0.717, "middle": 1.0, "high": 1.395}
    assert along["now"]["middle"] == pytest.approx(SHOP.middle["tendon"], abs=5e-4)
    said = " ".join(sentences(report(True)))
    assert "4 housings measured" in said and f"{100 * shop['narrowest']:.0f} % of the figure" in said
    drawn = {one["words"]: one for one in plan_json(report(True))["how_sure"]["inputs"]}
    assert drawn["shrinkage along the bead"]["high"] == pytest.approx(along["now"]["high"], abs=2e-3)
    assert "4 housings measured" in drawn["shrinkage along the bead"]["source"]


def test_a_report_without_results_says_so() -> None:
    """Without results the counts are nought, before and now are alike, and the sentence asks for results."""
    shop = plan_json(report(False))["how_sure"]["shop"]
    assert shop["jobs"] == shop["trials"] == shop["logs"] == 0
    assert all(one["before"] == one["now"] for one in shop["factors"])
    assert "No results of this shop" in " ".join(sentences(report(False)))
    assert "until you measure your own housing" in report(False).left_out[-1].replace("\n", " ")
    assert len(report(True).left_out) == len(report(False).left_out) - 1
    assert "a quarter of the figure" in " ".join(sentences(report(False)))


@cache
def shops_intent() -> Intent:
    """The small job's plan on the shop's bench."""
    plain = intent_for(JOB)
    common = shops_bench().try_plan(plain.common.timeline.steps)
    return Intent(shops_bench(), plain.steps, common, SHOP)


@pytest.mark.analytical
def test_the_uniform_rise_is_one_kelvin_everywhere_with_the_shops_loss() -> None:
    """On modes varied for the shop's loss, the state in which all is one kelvin over ambient reads 1 at every spot."""
    physics = physics_of(shops_bench(), SHOP)
    np.testing.assert_allclose(physics.modes.spot @ physics.rise, 1.0, atol=1e-5)
    own = physics_of(bench_for(JOB))
    np.testing.assert_allclose(physics.loss_rates, SHOP.middle["loss"] * own.loss_rates[0], rtol=1e-9)


def test_a_replan_starts_from_the_shops_heat_and_loss() -> None:
    """A log that follows the plan meets the plan's heat, and before any reading heat and loss are the shop's."""
    intent = shops_intent()
    standing = intent.standing(as_planned(intent, len(intent.steps)))
    met = np.array([one.state for one in standing.met]).T
    np.testing.assert_allclose(met, intent.plan.timeline.laying.states, atol=1e-7)
    told = replanned(intent, BeadLog(as_planned(intent, 2), (), False), tries=0)
    assert told.heat.factor == pytest.approx(SHOP.middle["heat"], rel=1e-9)
    assert told.loss.factor == pytest.approx(SHOP.middle["loss"], rel=1e-9)
    wide = replanned(intent_for(JOB), BeadLog(as_planned(intent_for(JOB), 2), (), False), tries=0)
    for now, before in ((told.heat, wide.heat), (told.loss, wide.loss)):
        assert now.high / now.low < before.high / before.low
    assert told.way.kept == "plan"
    assert intent.standing(as_planned(intent, 2)).heated == intent.bench.heated


def test_a_thermometer_teaches_on_top_of_the_shop() -> None:
    """A spot read hotter than expected raises the shop's heat, by less than it raises any shop's."""
    raised = []
    for intent in (shops_intent(), intent_for(JOB)):
        events = as_planned(intent, 4)
        spot = intent.bench.model.pieces[intent.steps[3].bead][0]
        now = events[-1].time + 120.0
        expected = intent.standing(events, now)
        shown = expected.ambient + float(intent.bench.model.modes.spot[spot] @ expected.estimate.state)
        warm = TemperatureRead(time=now, temperature=shown + 8.0, stretch=int(spot), error=1.0)
        raised.append(intent.standing((*events, warm)).estimate.efficiency)
    assert 1.0 < raised[0] < raised[1]


def test_other_air_leaves_the_steel_as_warm_as_it_is() -> None:
    """On the shop's modes, when the air turns colder, every spot keeps its degC."""
    intent = shops_intent()
    events = as_planned(intent, 4)
    now = events[-1].time + 60.0
    colder = AmbientChanged(time=now, temperature=JOB.ambient.temperature - 12.0)
    before, after = intent.standing(events, now), intent.standing((*events, colder), now)
    rows = intent.bench.model.modes.spot
    np.testing.assert_allclose(
        before.ambient + rows @ before.estimate.state, after.ambient + rows @ after.estimate.state, atol=1e-3
    )


def test_names_and_spreads_are_those_of_the_plan() -> None:
    """What a shop can learn is drawn by a plan under the same names, with the spread the shop starts from."""
    for name, spread in zip(NAMES, without_results().spread, strict=True):
        drawn = next(one for one in SPREADS if one.name == name)
        factor = float(next(iter(drawn.factors(np.array([0.8413])).values()))[0])
        # Arc heat is drawn normal about one, the others in their logarithms: 0.08 against 0.077.
        assert np.log(factor) == pytest.approx(spread, rel=0.05)
