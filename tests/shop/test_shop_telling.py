"""What a shop has learned, in words."""

from __future__ import annotations

import numpy as np
import pytest
from shop.shop_results import housings, measured_as, spoilt

from axlewright.shop.factors import ShopFactors, without_results
from axlewright.shop.posterior import learn
from axlewright.shop.telling import doubts, factor_table, stands_behind, what_was_learned


@pytest.mark.analytical
def test_the_table_has_eight_of_ten_between_its_edges() -> None:
    """The edges are the middle times and over exp(1.2816 standard deviations), before and after."""
    known = ShopFactors(np.log([1.3, 1.0, 1.0, 1.0]), np.diag([0.1, 0.2, 0.05, 0.2]) ** 2, jobs=2)
    along = factor_table(known)[0]
    assert along.words == "shrinkage along the bead"
    assert along.before == pytest.approx((np.exp(-1.2816 * 0.26), 1.0, np.exp(1.2816 * 0.26)), rel=1e-4)
    assert along.after == pytest.approx((1.3 * np.exp(-0.12816), 1.3, 1.3 * np.exp(0.12816)), rel=1e-4)


def test_what_stands_behind_is_counted_in_words() -> None:
    """One and several of each kind are told; nothing is told as nothing."""
    nothing = without_results()
    some = ShopFactors(nothing.mean, nothing.covariance, jobs=3, trials=1, logs=2)
    assert stands_behind(some) == "3 housings measured, 1 trial on scrap tube and 2 logs with temperatures"
    assert stands_behind(nothing) == "no results"
    assert "`learn`" in what_was_learned(nothing)
    assert "3 housings measured" in what_was_learned(some) and "before 0.72 to 1.40" in what_was_learned(some)


def test_a_wild_figure_is_named_with_what_would_fit() -> None:
    """The doubt names result and figure in the shop's unit, says how little it counts and what to do."""
    clean = housings(5)
    assert not [told for told in doubts(learn(clean)) if "hardly" in told]
    told = doubts(learn([*clean[:2], spoilt(clean[2], 4, 60.0), *clean[3:]]))
    assert any("'job 2': twist was measured as" in one and "Measure it again" in one for one in told)


def test_a_lone_result_is_not_held_against_others() -> None:
    """With a single housing far from the formulas there are no others to differ from."""
    lone = housings(1)[0]
    far = measured_as(lone, 4.0 * lone.measured)
    assert not [told for told in doubts(learn([far])) if "other results" in told]
