"""The planned trial keeps its promises: short, measurable, cold when read, and the best of what was looked at."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

import numpy as np
import pytest
from trial_example import THICK, TUBE, WELDER, laid, planned

from axlewright.errors import ShopFileError
from axlewright.shop.factors import JOB_SCATTER, PRIOR_SPREAD, ShopFactors
from axlewright.straightness.learn import trial_design
from axlewright.straightness.learn.trial import TrialTube
from axlewright.straightness.learn.trial_design import plan_trial
from axlewright.straightness.learn.trial_plan import TrialPlan
from axlewright.straightness.learn.trial_response import (
    expected_posterior,
    information,
    of_the_shop,
    posterior_covariance,
)


@cache
def along_only() -> TrialPlan:
    """The usual tube, beads along it alone."""
    return plan_trial(TUBE, WELDER, counts=(3,), rounds=False)


@cache
def thick() -> TrialPlan:
    """A thick tube, read by straightedge."""
    return plan_trial(THICK, WELDER, "straightedge", counts=(3,))


def told(plan: TrialPlan) -> dict[str, float]:
    """Share of each factor that a plan settles."""
    return {factor.name: factor.told for factor in plan.factors}


def test_the_usual_trial_takes_three_beads_and_half_an_hour() -> None:
    """A metre of 89 mm tube: three beads, within 30 minutes from marking out to the last reading."""
    plan = planned()
    assert len(plan.beads) == 3
    assert plan.minutes <= 30.0
    assert {one.beads for one in plan.looked_at} == {2, 3, 4, 5}


def test_bends_are_read_when_warmth_no_longer_shows() -> None:
    """At each reading the bow by heat alone is below the error of a reading, half a minute sooner it is not always."""
    for plan in (planned(), thick()):
        assert all(abs(bead.warmth_left) <= plan.reading_error for bead in plan.beads)
        assert any(abs(bead.warmth_left) > 0.6 * plan.reading_error for bead in plan.beads)


def test_each_bead_bends_the_tube_by_several_errors_of_a_reading() -> None:
    """The dial moves by three times its error or more with each bead."""
    bends = [0.0, *(bead.bend.middle for bead in planned().beads)]
    assert min(np.diff(bends)) >= 3.0 * planned().reading_error


def test_beads_keep_apart_and_stand_about_the_dial() -> None:
    """Marks are whole 20 mm from the dial, beads 40 mm apart, those round the tube nearest to the dial."""
    spans = sorted((b.start, b.end) if b.at is None else (b.at, b.at) for b in planned().beads)
    assert all(later[0] - earlier[1] >= 0.04 - 1e-9 for earlier, later in pairwise(spans))
    tiles = (np.array(spans) - TUBE.dial) / 0.02
    assert tiles == pytest.approx(np.round(tiles), abs=1e-9)
    assert min(planned().beads, key=lambda b: abs((b.at or b.start) - TUBE.dial)).at is not None


def test_a_bead_round_the_tube_is_what_tells_shrinkage_across() -> None:
    """With one the trial settles more than half of it, without one nothing, and then it says so."""
    assert told(planned())["across"] > 0.5
    assert told(along_only())["across"] < 0.02
    assert any("across the bead" in remark for remark in along_only().remarks)
    assert not any("hardly tells shrinkage across" in remark for remark in planned().remarks)


def test_it_says_that_a_thermometer_hardly_tells_the_loss() -> None:
    """Where less than a fifth of the loss is settled, a remark says so."""
    assert told(planned())["loss"] < 0.2
    assert any("hardly tells the loss" in remark for remark in planned().remarks)


def test_it_says_when_a_tube_is_too_stiff_for_the_way_of_reading() -> None:
    """A straightedge on a thick tube reads each bead with less than three times its error, and the plan says so."""
    assert any("times the error of a reading" in remark for remark in thick().remarks)
    assert not any("times the error of a reading" in remark for remark in planned().remarks)


@pytest.mark.analytical
def test_it_says_when_the_tube_would_yield() -> None:
    """F (1/A + e^2/I) of a 60 x 4 tube at 528 J/mm is 1.39 times 355 MPa."""
    # By hand: F = 105.6 kN, A = 703.7 mm2, I = 277.1e3 mm4, e = 30 mm: 150 + 343 = 493 MPa.
    thin = plan_trial(
        TrialTube(outside_diameter=0.06, wall=0.004, length=1.0), WELDER, counts=(3,), rounds=False
    )
    assert "139%" in thin.remarks[0]
    assert not any("yield stress" in remark for remark in planned().remarks)


def test_no_layout_of_as_many_beads_tells_more_by_minute() -> None:
    """What is planned is worth as much by minute as the best layout of its number of beads."""
    plan = planned()
    own = next(one for one in plan.looked_at if one.beads == 3)
    assert (own.bits, own.minutes) == pytest.approx((plan.bits, plan.minutes))
    assert all(
        plan.bits / plan.minutes >= b.bits / b.minutes
        for b in plan.looked_at
        if b.beads >= 3 and b.minutes <= 30
    )


def test_the_promise_is_what_the_same_readings_give() -> None:
    """The plan's spreads and bits are those of the trial laid as planned, with a model of its own beads."""
    prior = np.diag(PRIOR_SPREAD**2)
    response = laid()[1]
    promised = [factor.here for factor in planned().factors]
    # 3 %: the plan's tiles make another mesh of stretches, and arcs are written down to the second.
    assert np.sqrt(np.diag(expected_posterior(response, prior))) == pytest.approx(promised, rel=0.03)
    left = posterior_covariance(prior, response.sensitivities(np.zeros(4)), response.covariance(np.zeros(4)))
    assert information(*of_the_shop(prior, left)) == pytest.approx(planned().bits, rel=0.03)


def test_a_shop_that_knows_its_factors_learns_less() -> None:
    """What is known before counts: with half the spread of its own factors the same tube tells fewer bits."""
    known = (PRIOR_SPREAD**2 - JOB_SCATTER**2) / 4 + JOB_SCATTER**2
    plan = plan_trial(TUBE, WELDER, counts=(2,), shop=ShopFactors(np.zeros(4), np.diag(known), jobs=3))
    assert plan.bits < next(one.bits for one in planned().looked_at if one.beads == 2)
    assert [factor.before for factor in plan.factors] == pytest.approx(np.sqrt(known))


@pytest.mark.analytical
def test_a_perfect_trial_leaves_the_scatter_of_jobs() -> None:
    """Known exactly, the trial's factors phi leave A - A (A + T)^-1 A of the shop's, A T / (A + T) in one dimension."""
    known = PRIOR_SPREAD**2
    own, left = of_the_shop(np.diag(known), np.zeros((4, 4)))
    shop, scatter = known - JOB_SCATTER**2, JOB_SCATTER**2
    assert np.diag(own) == pytest.approx(shop)
    assert np.diag(left) == pytest.approx(shop * scatter / (shop + scatter))


def test_a_tube_without_room_for_beads_is_refused() -> None:
    """A dial next to a support leaves no room beside it."""
    with pytest.raises(ShopFileError, match="no room for 3 beads"):
        plan_trial(TUBE.model_copy(update={"dial": 0.1}), WELDER, counts=(3,))


def test_a_tube_that_does_not_cool_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """Warmth that still bends the tube at the longest wait ends the search with a remedy."""
    monkeypatch.setattr(trial_design, "LONGEST_WAIT", 60.0)
    with pytest.raises(ShopFileError, match="thinner wall"):
        plan_trial(TUBE, WELDER, counts=(2,), rounds=False)
