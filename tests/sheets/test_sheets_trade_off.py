"""The trade-off picture: every plan on it, words that do not cover each other, readable without colour."""

from __future__ import annotations

import itertools
import re
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from matplotlib.colors import to_rgb
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Circle, Rectangle
from matplotlib.text import Text
from sample_report import sample_report
from sample_trade import trade_off, trade_point

from axlewright.plan.report import PlanReport, TradeOff
from axlewright.sheets import draw_trade_off
from axlewright.sheets.trade_labels import Sheet, Spot
from axlewright.sheets.trade_marks import _HEAT, HeatScale
from axlewright.sheets.trade_off import _LEFT, _RIGHT
from axlewright.sheets.trade_points import NONE_HOLDS, named_points, reason, trade_rows
from axlewright.sheets.trade_scales import distortion_scale, distortion_ticks, time_scale, time_ticks

COUNTS = (3, 8, 15, 25, 40)
DOTS_PER_MM = 100.0 / 25.4


def report_of(trade: TradeOff, *, inch: bool = False) -> PlanReport:
    """The sample with another trade-off."""
    return replace(sample_report(full=False, inch=inch), trade_off=trade)


@cache
def picture(count: int, inch: bool = False) -> Figure:
    """The picture of so many plans."""
    best = max(count // 2, 1)
    return draw_trade_off(report_of(trade_off(count, recommended=best, chosen=best), inch=inch))


def words(figure: Figure) -> dict[str, str]:
    """Named text of a figure."""
    return {t.get_gid(): t.get_text() for t in figure.findobj(Text) if t.get_gid()}


def all_text(figure: Figure) -> str:
    """All text of a figure."""
    return "\n".join(t.get_text() for t in figure.findobj(Text))


def mark_of(figure: Figure, number: int) -> Circle | Rectangle:
    """The outline of a plan's point."""
    found = figure.findobj(lambda a: isinstance(a, (Circle, Rectangle)) and a.get_gid() == f"point-{number}")
    assert len(found) == 1
    return found[0]


def extents(figure: Figure, start: str) -> list[np.ndarray]:
    """Boxes (x0, y0, x1, y1) of texts by the beginning of their name [mm]."""
    figure.canvas.draw()
    texts = [t for t in figure.findobj(Text) if str(t.get_gid()).startswith(start)]
    return [t.get_window_extent().extents / DOTS_PER_MM for t in texts]


@pytest.mark.parametrize("count", COUNTS)
def test_every_plan_is_a_point(count: int) -> None:
    """Points are never thinned out: each plan and common practice is drawn once."""
    figure = picture(count)
    for number in range(count + 1):
        assert isinstance(mark_of(figure, number), Rectangle if number == 0 else Circle)


@pytest.mark.parametrize(("count", "most"), [(3, 0), (8, 0), (15, 0), (25, 2), (40, 5)])
@pytest.mark.parametrize("inch", [False, True])
def test_points_carry_their_number_or_are_named_as_left_out(count: int, most: int, inch: bool) -> None:
    """Up to 15 plans all carry their number; in a crowd a few may not, and these are listed on the picture."""
    figure = picture(count, inch)
    numbered = {int(gid.split("-")[1]) for gid in words(figure) if gid.startswith("label-")}
    for number in numbered:
        assert words(figure)[f"label-{number}"] == str(number)
    missing = set(range(1, count + 1)) - numbered
    assert len(missing) <= most
    told = re.search(r"no room for ([\d, ]+): see plan\.json", all_text(figure))
    assert ({int(n) for n in told[1].split(", ")} if told else set()) == missing


@pytest.mark.parametrize("count", COUNTS)
@pytest.mark.parametrize("inch", [False, True])
def test_labels_do_not_cover_each_other_or_a_point(count: int, inch: bool) -> None:
    """Measured on the drawn figure, no label overlaps another label, nor the middle of any point."""
    figure = picture(count, inch)
    boxes = [box for kind in ("label-", "heat-", "name-") for box in extents(figure, kind)]
    # A text's extent has some air above and below its letters: 0.5 mm is allowed for.
    for a, b in itertools.combinations(boxes, 2):
        across = min(a[2], b[2]) - max(a[0], b[0])
        up = min(a[3], b[3]) - max(a[1], b[1])
        assert across <= 0.1 or up <= 0.5, (a, b)
    centres = [mark_of(figure, n).get_extents().extents / DOTS_PER_MM for n in range(count + 1)]
    for mark in centres:
        x, y = (mark[0] + mark[2]) / 2.0, (mark[1] + mark[3]) / 2.0
        assert not any(b[0] < x < b[2] and b[1] < y < b[3] for b in boxes)


@pytest.mark.parametrize("count", (3, 40))
@pytest.mark.parametrize("inch", [False, True])
def test_no_word_leaves_the_picture(count: int, inch: bool) -> None:
    """Every word lies inside the page, also with long reasons, merits and no recommendation."""
    wordy = replace(
        trade_off(count, recommended=None, chosen=1),
        why="Because of the bow. " * 40,
        points=tuple(
            replace(point, merit="a merit nobody thought of " * 3) for point in trade_off(count).points
        ),
    )
    for figure in (picture(count, inch), draw_trade_off(report_of(wordy, inch=inch))):
        # What is left of Letter paper between the heading and the foot of a page (279 mm less 39 mm and 14 mm).
        assert figure.get_figheight() * 25.4 < 226.0
        figure.canvas.draw()
        for text in figure.findobj(Text):
            if text.get_text() and text.get_visible():
                area = text.get_window_extent()
                assert area.x0 >= 0.0 and area.x1 <= figure.bbox.x1, text.get_text()
                assert area.y0 >= 0.0 and area.y1 <= figure.bbox.y1, text.get_text()


@pytest.mark.analytical
def test_less_bench_time_is_left_and_less_distortion_is_lower() -> None:
    """Points stand in the order of bench time across and of distortion up, common practice among them."""
    report = report_of(trade_off(15))
    figure = draw_trade_off(report)
    everyone = [report.trade_off.common, *report.trade_off.points]
    places = [mark_of(figure, point.number).get_extents() for point in everyone]
    across = [(p.x0 + p.x1) / 2.0 for p in places]
    up = [(p.y0 + p.y1) / 2.0 for p in places]
    assert np.argsort(across).tolist() == np.argsort([p.bench_s for p in everyone]).tolist()
    assert np.argsort(up).tolist() == np.argsort([p.distortion for p in everyone]).tolist()


@pytest.mark.analytical
def test_heat_is_told_by_even_steps_of_lightness() -> None:
    """From cool to hot CIE lightness falls in equal steps (CIE 15, L* from sRGB), so grey tells the same."""
    colours = np.array([_HEAT(share)[:3] for share in np.linspace(0.0, 1.0, 17)])
    linear = np.where(colours <= 0.04045, colours / 12.92, ((colours + 0.055) / 1.055) ** 2.4)
    lightness = 116.0 * np.cbrt(linear @ [0.2126, 0.7152, 0.0722]) - 16.0
    steps = -np.diff(lightness)
    # 256 steps of 8 bits each round the colours: within a tenth of the mean is even to the eye.
    assert np.all(np.abs(steps / steps.mean() - 1.0) < 0.1)
    assert lightness[0] > 90.0 and lightness[-1] < 16.0


def test_heat_is_told_by_a_number_too() -> None:
    """Up to 15 plans have their hottest spot written beside them in the shop's unit."""
    for inch, degrees in ((False, lambda c: f"{c:.0f} °C"), (True, lambda c: f"{c * 1.8 + 32:.0f} °F")):
        trade = trade_off(15)
        found = words(draw_trade_off(report_of(trade, inch=inch)))
        for point in (*trade.points, trade.common):
            assert found[f"heat-{point.number}"] == degrees(point.hottest_spot_c)


def test_tack_load_is_told_by_size_and_overload_by_a_cross() -> None:
    """A plan that loads its tacks more is drawn larger, one that overloads them is crossed, and no other is."""
    points = tuple(
        replace(trade_point(k + 1, 3), tack_utilisation=load, within=load <= 1.0)
        for k, load in enumerate((0.3, 0.9, 1.4))
    )
    trade = replace(trade_off(3, recommended=1, chosen=1), points=points)
    trade = replace(trade, common=replace(trade.common, tack_utilisation=0.8))
    figure = draw_trade_off(report_of(trade))
    sizes = [mark_of(figure, number).get_extents().width for number in (1, 2, 3)]
    assert sizes[0] < sizes[1] < sizes[2]
    crosses = [np.mean(line.get_xdata()) for line in figure.findobj(Line2D) if line.get_gid() == "cross"]
    middle = mark_of(figure, 3).get_center()[0]
    assert len(crosses) == 4 and np.mean(crosses) == pytest.approx(middle)
    assert "crossed: overloaded" in all_text(figure)
    calm = replace(trade, points=points[:2])
    assert "crossed" not in all_text(draw_trade_off(report_of(calm)))


def test_plans_over_a_limit_are_drawn_lighter() -> None:
    """A plan that breaks a limit is a broken ring on white with grey words; its core keeps the colour of its heat."""
    trade = trade_off(15)
    figure = draw_trade_off(report_of(trade))
    spots = [point.hottest_spot_c for point in (*trade.points, trade.common)]
    heat = HeatScale(min(spots), max(spots))
    for point in trade.points:
        mark = mark_of(figure, point.number)
        assert (mark.get_linestyle() == "solid" or mark.get_linestyle() == "-") == point.within
        full = to_rgb(heat.colour(point.hottest_spot_c))
        assert mark.get_facecolor()[:3] == pytest.approx(full if point.within else (1.0, 1.0, 1.0))
    assert not all(point.within for point in trade.points)


def test_the_recommended_plan_and_common_practice_are_named() -> None:
    """One point has the ring and the word recommended, the square is called common practice."""
    figure = picture(15)
    rings = [c for c in figure.findobj(Circle) if c.get_gid() == "recommended"]
    assert len(rings) == 1
    assert rings[0].get_center() == mark_of(figure, 7).get_center()
    assert words(figure)["name-7"].startswith("recommended")
    assert words(figure)["name-0"] == "common practice"


def test_another_plan_than_the_recommended_is_called_this_plan() -> None:
    """Where the user has chosen, the plan of the sheet is marked beside the recommended one."""
    trade = trade_off(15, recommended=9, chosen=4)
    names = {named.point.number: named.names for named in named_points(trade)}
    assert names[9][0] == "recommended" and names[4][0] == "this plan"
    found = words(draw_trade_off(report_of(trade)))
    assert found["name-4"].startswith("this plan")
    assert "this plan" not in all_text(picture(15))


def test_names_go_to_the_best_within_the_limits() -> None:
    """Quickest, straightest, coolest and easiest are the least of their kind among plans that keep every limit."""
    trade = trade_off(40, recommended=20, chosen=20)
    keep = [point for point in trade.points if point.within]
    best = {
        "quickest": min(keep, key=lambda p: p.bench_s),
        "straightest": min(keep, key=lambda p: p.distortion),
        "coolest": min(keep, key=lambda p: p.hottest_spot_c),
        "easiest on the tacks": min(keep, key=lambda p: p.tack_utilisation),
    }
    holders = {name: named.point for named in named_points(trade) for name in named.names}
    assert {name: holders[name].number for name in best} == {name: p.number for name, p in best.items()}
    # One that breaks a limit would be easier still.
    assert min(trade.points, key=lambda p: p.tack_utilisation) != best["easiest on the tacks"]
    none_keeps = replace(trade, points=tuple(replace(point, within=False) for point in trade.points))
    assert {n for named in named_points(none_keeps) for n in named.names} >= set(best)


def test_merits_of_the_search_are_taken_as_they_are() -> None:
    """Where the search says what a plan is best at, nothing else is called so."""
    points = tuple(replace(p, merit="least turns" if p.number == 2 else "") for p in trade_off(6).points)
    named = named_points(replace(trade_off(6, recommended=3, chosen=3), points=points))
    assert [(n.point.number, n.words) for n in named] == [
        (3, "recommended"),
        (2, "least turns"),
        (0, "common practice"),
    ]


def test_the_table_has_figures_with_their_units() -> None:
    """A row has number, names, bench time, hottest spot, distortion, tack load and turns, in either system."""
    trade = trade_off(15)
    rows = {inch: trade_rows(trade, inch)[0] for inch in (False, True)}
    point = trade.points[8]
    assert rows[False] == ["9", "recommended", "1 h 12 min", "86 °C", "0.24 mm", "23 %", "6"]
    assert rows[True][3:5] == ["187 °F", "0.010 in"]
    assert point.distortion == pytest.approx(2.44e-4, abs=6e-7)
    assert trade_rows(trade, False)[-1][:2] == ["–", "common practice; overloads tacks"]
    shown = all_text(picture(15))
    for row in trade_rows(trade_off(15, recommended=7, chosen=7), False):
        assert all(cell in shown for cell in row if row[1] == "recommended")


def test_without_a_recommendation_the_picture_says_so_in_bold() -> None:
    """No plan that holds: a plain bold sentence, what to do after it, and no ring."""
    trade = trade_off(12, recommended=None, chosen=4)
    figure = draw_trade_off(report_of(trade))
    lines = [t for t in figure.findobj(Text) if str(t.get_gid()).startswith("why-")]
    assert " ".join(t.get_text() for t in lines) == f"{NONE_HOLDS} {trade.why}" == reason(trade)
    assert all(t.get_fontweight() == "bold" for t in lines)
    assert not [c for c in figure.findobj(Circle) if c.get_gid() == "recommended"]
    assert words(picture(15))["why-0"].startswith("Plan 7 is recommended. ")
    assert reason(replace(trade_off(3), why="It is 5 degF cooler.")).endswith(" It is 5 °F cooler.")


def test_a_stopped_search_is_told() -> None:
    """How many plans were tried, and that it was stopped, stands at the top."""
    trade = replace(trade_off(1, recommended=1, chosen=1), stopped=True)
    shown = all_text(draw_trade_off(report_of(trade)))
    assert "4812 plans tried, the search being stopped early; one of them is best in every respect." in shown
    assert "stopped" not in all_text(picture(15))


def test_plans_all_alike_can_be_drawn() -> None:
    """Equal bench times, distortions and temperatures are a picture, not an error."""
    one = trade_point(1, 3)
    points = tuple(replace(one, number=k + 1) for k in range(3))
    trade = TradeOff(points, replace(one, number=0), 1, 1, "Any will do.", 3, False)
    figure = draw_trade_off(report_of(trade))
    assert {"label-1", "name-0"} <= set(words(figure))
    straight = tuple(replace(p, distortion=0.0, tack_utilisation=0.0) for p in points)
    flat = replace(trade, points=straight, common=replace(trade.common, distortion=0.0))
    assert "0.00 mm" in all_text(draw_trade_off(report_of(flat)))


def test_odd_names_in_the_reason_are_only_drawn() -> None:
    """A reason with signs of other languages and marks that turn the text is drawn on clean lines."""
    trade = replace(trade_off(3), why="$x$ \u202e\x00 #panic() 軸 " + "y" * 300)
    figure = draw_trade_off(report_of(trade))
    drawn = " ".join(text for gid, text in words(figure).items() if gid.startswith("why-"))
    assert "$x$" in drawn and "\u202e" not in drawn and "\x00" not in drawn
    assert not any(t.get_parse_math() for t in figure.findobj(Text) if t.get_text())


def test_no_trade_off_is_refused() -> None:
    """A plan that was compared with none has no such picture."""
    with pytest.raises(ValueError, match="without a trade-off"):
        draw_trade_off(replace(sample_report(full=False), trade_off=None))


@pytest.mark.analytical
def test_scales_are_even_for_near_times_and_by_ratio_for_far_ones() -> None:
    """Twice the time is twice as far along where times are near; where far apart, equal ratios are equally long."""
    near = time_scale([3000.0, 4000.0], _LEFT, _RIGHT)
    assert near.at(3500.0) == pytest.approx((near.at(3000.0) + near.at(4000.0)) / 2.0)
    far = time_scale([3000.0, 12000.0], _LEFT, _RIGHT)
    assert far.at(6000.0) == pytest.approx((far.at(3000.0) + far.at(12000.0)) / 2.0)


@pytest.mark.parametrize(
    "times",
    [(118.0, 131.0), (600.0, 700.0), (3000.0, 9300.0), (3000.0, 3000.0), (60.0, 400000.0), (9e5, 1.3e6)],
)
def test_graduations_can_be_told_apart(times: tuple[float, float]) -> None:
    """From two minutes to a week there are at least two graduations, all different and not crowded."""
    scale = time_scale(list(times), _LEFT, _RIGHT)
    ticks = time_ticks(scale)
    assert len(ticks) >= 2
    assert len({words for _value, words in ticks}) == len(ticks)
    gaps = np.diff([scale.at(value) for value, _words in ticks])
    assert np.all(gaps >= 17.0 - 1e-9)


@pytest.mark.analytical
@pytest.mark.parametrize("inch", [False, True])
@pytest.mark.parametrize("most", [2e-6, 4e-5, 5e-4, 3e-3, 0.05])
def test_distortion_is_graduated_in_the_shops_unit(most: float, inch: bool) -> None:
    """A graduation reads in mm or inches what it stands for, with as many digits as that takes."""
    ticks = distortion_ticks(distortion_scale([most / 3.0, most], 0.0, 90.0), inch)
    assert len(ticks) >= 3
    for value, shown in ticks:
        number, unit = shown.split(" ")
        assert unit == ("in" if inch else "mm")
        assert float(number) * (0.0254 if inch else 0.001) == pytest.approx(value, rel=1e-9, abs=1e-12)


@pytest.mark.analytical
def test_words_find_the_one_place_left() -> None:
    """With the right side shut by another point, words go to the left; with no room at all there are none."""
    spots = [Spot(20.0, 5.0, 1.0), Spot(25.0, 5.0, 3.0)]
    left = Sheet((0.0, 0.0, 40.0, 10.0), spots).place(0, [(8.0, 4.0)])
    assert left is not None and left.box[2] < 19.0 and left.lean == 1.0
    shut = Sheet((15.0, 2.0, 26.0, 8.0), spots)
    assert shut.place(0, [(8.0, 4.0)]) is None
    small = shut.place(0, [(8.0, 4.0), (2.0, 2.0)])
    assert small is not None and small.choice == 1
