from __future__ import annotations

from typing import Any

import pytest
from web.plan.seeded import NAMES, plan_of

from axlewright.web.plan_sheet.beads import tack_rows, turn_groups
from axlewright.web.plan_sheet.figures import compared
from axlewright.web.plan_sheet.fixture import shim
from axlewright.web.plan_sheet.matters import matters, shop_view
from axlewright.web.plan_sheet.range_mark import Reach, range_mark
from axlewright.web.plan_sheet.saying import of_a_hundred
from axlewright.web.plan_sheet.verdict import verdict


def rows(name: str, limits: dict[str, float] | None = None) -> dict[str, Any]:
    """All rows of both plans by figure."""
    groups = compared(plan_of(name), limits or {}, False)
    return {row.plan.figure: row for group in groups for row in group.rows}


@pytest.mark.parametrize("name", NAMES)
def test_both_plans_stand_on_one_scale(name: str) -> None:
    """On every scale marks lie where their values say, ours and common practice alike."""
    for row in rows(name).values():
        if row.mark is None:
            continue
        mark, scale = row.mark, row.mark.end - row.mark.start
        for line, entry in ((mark.ours, plan_of(name)), (mark.common, plan_of(name)["common_practice"])):
            value: Any = entry
            for key in row.plan.value.split("."):
                value = value[key]
            expected = mark.start + scale * (value - mark.low) / (mark.high - mark.low)
            assert line.at == pytest.approx(expected, abs=0.06)
            if line.low is not None:
                assert line.low <= line.middle <= line.high


def test_a_limit_that_is_passed_is_said() -> None:
    """A figure beyond its limit says so; one within it only names the limit."""
    found = rows("rescue-truck", {"camber": 0.05, "bow": 0.6, "bearing_seat": 120.0})
    assert found["camber-left"].beyond and found["camber-left"].limit == "limit ±0.05°"
    assert not found["bow-vertical"].beyond and found["bow-vertical"].limit == "limit ±0.60 mm"
    assert not found["bearing-seat"].beyond


def test_rows_that_say_nothing_are_left_out() -> None:
    """Where nothing is turned and no seal is named, no row stands for it."""
    assert {"turns", "turn-time", "seal"} <= set(rows("rescue-truck"))
    assert not {"turns", "turn-time", "seal"} & set(rows("clamped-inch"))


def test_a_far_limit_does_not_press_the_marks_together() -> None:
    """A limit ten times as far off as the figures is told in words and not drawn; a near one is drawn."""
    ours, common = Reach(30.0, 28.0, 30.0, 33.0), Reach(28.0, 25.0, 28.0, 31.0)
    assert range_mark(ours, common, 20.0, 120.0, False).limits == ()
    assert len(range_mark(ours, common, 20.0, 40.0, False).limits) == 1
    both = range_mark(Reach(-0.1), Reach(0.1), 0.0, 0.2, True)
    assert [way for _, way in both.limits] == [1, -1]


def test_beads_are_parted_where_the_housing_is_turned() -> None:
    """Groups follow the turns of the plan, and together hold every bead once, in order."""
    plan = plan_of("rescue-truck")
    groups = turn_groups(plan, False)
    assert sum(group.turned for group in groups) == plan["totals"]["turns"]
    numbers = [row.number for group in groups for row in group.rows]
    assert numbers == [bead["number"] for bead in plan["beads"]]
    assert [bool(row.turn) for row in groups[1].rows][:2] == [True, False]


def test_marks_read_as_on_the_tape() -> None:
    """A bead along the axle is told by the tape, one on a guard by the clock, one across the axle by its seam."""
    found = {row.tag: row for group in turn_groups(plan_of("rescue-truck"), False) for row in group.rows}
    by_seam: dict[str, list[Any]] = {}
    for row in found.values():
        by_seam.setdefault(row.seam, []).append(row)
    assert all(row.marks.endswith(" mm") and not row.along for row in by_seam["front seam"])
    assert all(row.marks.endswith("o'clock") and not row.along for row in by_seam["rim"])
    assert all(row.along.startswith("seam ") for row in by_seam["all-round seam"])


def test_longer_tacks_are_marked() -> None:
    """Tacks that the plan asks to be longer say so."""
    plan = plan_of("rescue-truck")
    plan["tacks"][3]["enlarged"], plan["tacks"][3]["length_mm"] = True, 35.0
    row = tack_rows(plan, False)[3]
    assert row.enlarged and row.length == "35 mm"


def answer(**changed: Any) -> Any:
    """What is said of the kept plan with some of its sums changed."""
    plan = plan_of("rescue-truck")
    plan["totals"] |= changed
    return verdict(plan, False)


def test_an_overloaded_tack_is_never_a_yes() -> None:
    """A plan that overloads a tack is told to be none, whatever else it does."""
    assert answer(tack_utilisation=1.2).kind == "wrong"
    assert "overloads a tack" in answer(tack_utilisation=1.2).head


def test_a_plan_beyond_a_limit_says_so() -> None:
    """The plan that is shown goes beyond a limit: that is the first thing said."""
    plan = plan_of("rescue-truck")
    plan["trade_off"]["points"][plan["trade_off"]["chosen"] - 1]["within"] = False
    assert verdict(plan, False).head == "It goes beyond a limit of the job."


def test_tacks_near_their_strength_are_minded() -> None:
    """Where the tacks hold in less than half of the drawn cases, the answer says to look at each of them."""
    plan = plan_of("rescue-truck")
    plan["how_sure"]["tacks_hold"] = 0.49
    assert verdict(plan, False).kind == "hot"
    plan["how_sure"]["tacks_hold"] = 0.9
    assert verdict(plan, False).kind == "well"


def test_slower_and_more_bent_are_said_too() -> None:
    """What common practice does better is said as plainly as what it does worse."""
    heads = [line.head for line in answer(bench_min=500.0, distortion_mm=2.0, hottest_spot_c=250.0).lines]
    assert heads[:3] == ["Slower.", "More bent.", "Hotter."]


@pytest.mark.parametrize(
    ("share", "text"), [(1.0, "100"), (0.999, "99"), (0.001, "1"), (0.0, "0"), (0.425, "42")]
)
def test_only_always_and_never_are_said_so(share: float, text: str) -> None:
    """Shares are told of a hundred; 100 and 0 only where it was always or never so."""
    assert of_a_hundred(share) == f"{text} of 100 drawn cases"


@pytest.mark.parametrize(
    ("mm", "inch", "text"),
    [(1.5, False, "1.5 mm"), (1.190625, True, "3/64 in"), (0.5, True, "0.020 in"), (25.4, True, "1 in")],
)
def test_shims_are_written_as_they_are_bought(mm: float, inch: bool, text: str) -> None:
    """Shims are told in mm or in 64ths of an inch, and in thousandths where they are off the rule."""
    assert shim(mm, inch) == text


def test_what_matters_adds_up() -> None:
    """Shares of a figure add up to a hundred, but for rounding, the largest first."""
    for matter in matters(plan_of("rescue-truck")["how_sure"]):
        shares = [share.percent for share in matter.shares]
        assert 98 <= sum(shares) <= 102
        assert shares[:-1] == sorted(shares[:-1], reverse=True)


def test_results_of_the_shop_are_named() -> None:
    """A plan that stands on the shop's own results says on how many, and what they changed."""
    sure = plan_of("rescue-truck")["how_sure"]
    assert shop_view(sure).words == ""  # type: ignore[union-attr]
    sure["shop"] |= {"jobs": 3, "trials": 1}
    view = shop_view(sure)
    assert view is not None
    assert view.words == "3 housings measured before and after, 1 trial on scrap tube"
    assert len(view.factors) == 4
