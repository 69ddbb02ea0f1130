"""The correction picture: every line and push where it belongs, figures against limits, the decision plain."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from looking import check_legible, said, words
from matplotlib.figure import Figure
from matplotlib.patches import Polygon, Rectangle
from matplotlib.text import Text
from reference.jobs import demo
from sample_correction import outcomes, planned_lines, press_set, sample_correction
from sample_straightness import LENGTH, UNTOLD

from axlewright.sheets import correction_words
from axlewright.sheets.correction_drawing import WIDTH, draw_correction
from axlewright.sheets.correction_lines_drawing import _AXLE, _HOUR, _LEFT, height_of, seam_of
from axlewright.sheets.style import svg_bytes
from axlewright.straightness.correct.report import WAYS, CorrectionReport

LONG = "words that go on and on, with $ and # and 中文, " * 4
COUNTS = (1, 6, 13, 24)


def variants() -> dict[str, CorrectionReport]:
    """Each way alone, all, none, and every decision."""
    made = {f"{way}": sample_correction(ways=(way,)) for way in WAYS}
    made |= {f"{count} lines": sample_correction(count=count, inch=count % 2 == 0) for count in COUNTS}
    made |= {
        "all": sample_correction(ways=WAYS, inch=True),
        "press first": sample_correction(ways=("press", "heat lines")),
        "no lines": sample_correction(count=0),
        "refused": sample_correction(ways=("press",), sets=(press_set(refused=(LONG, "And why not.")),)),
        "no way": replace(sample_correction(count=0), recommended=None),
        "no sets": sample_correction(ways=("press",), sets=()),
    }
    made |= {
        decision: sample_correction(decision=decision, ways=())
        for decision in ("leave it", "send out", "measure first")
    }
    return made


def bars(figure: Figure) -> dict[int, Rectangle]:
    """The bar of each line by its number."""
    found = figure.findobj(lambda a: isinstance(a, Rectangle) and str(a.get_gid()).startswith("line-"))
    return {int(str(bar.get_gid()).split("-")[1]): bar for bar in found}


@pytest.mark.parametrize("name", variants())
def test_every_variant_is_legible(name: str) -> None:
    """No word leaves the picture or covers another."""
    check(draw_correction(variants()[name], demo("rescue-truck")))


def test_long_names_stay_legible() -> None:
    """No word leaves the picture or covers another where names and reasons are the longest; no job is needed."""
    report = replace(sample_correction(ways=WAYS, count=2), job_name=LONG, why=(LONG,) * 4)
    assert report.press is not None
    sets = (press_set(refused=(LONG, LONG)), replace(press_set("right"), side=LONG))
    check(draw_correction(replace(report, press=replace(report.press, sets=sets, words=(LONG,)))))


def check(figure: Figure) -> None:
    """As `check_legible`, numbers in white on ink set aside."""
    white = [text for text in figure.findobj(Text) if text.get_color() == "white"]
    for text in white:
        assert str(text.get_gid()).startswith("number-")
        text.set_color("black")
    check_legible(figure)


@pytest.mark.analytical
@pytest.mark.parametrize("count", COUNTS)
def test_lines_lie_where_they_are_ordered(count: int) -> None:
    """Each line spans its distances, lies at its hour counted upward, and is filled in stage 1, open in stage 2."""
    picture = draw_correction(sample_correction(count=count))
    ordered = planned_lines(count)
    drawn = bars(picture)
    seam = seam_of(ordered)
    assert set(drawn) == {line.number for line in ordered}
    heights = []
    for line in ordered:
        bar = drawn[line.number]
        assert bar.get_x() == pytest.approx(_LEFT + min(line.start, line.end) / LENGTH * _AXLE)
        assert bar.get_width() == pytest.approx(abs(line.end - line.start) / LENGTH * _AXLE)
        heights.append(bar.get_y() - (line.clock - seam) % 12.0 * _HOUR)
        assert (np.mean(bar.get_facecolor()[:3]) < 0.3) == (line.stage == 1)
    assert np.ptp(heights) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("count", COUNTS)
def test_every_number_stands_clear_of_every_line(count: int) -> None:
    """Each line has its number once, and no number covers a line or another number."""
    picture = draw_correction(sample_correction(count=count, inch=True))
    picture.draw_without_rendering()
    numbers = [text for text in picture.findobj(Text) if str(text.get_gid()).startswith("number-")]
    assert sorted(int(text.get_text()) for text in numbers) == list(range(1, count + 1))
    taken = [bar.get_window_extent() for bar in bars(picture).values()]
    for text in numbers:
        assert not any(text.get_window_extent().overlaps(box) for box in taken), text.get_text()


@pytest.mark.parametrize(
    ("clocks", "seam"), [((6.0, 5.5), 12.0), ((12.0,), 6.0), ((11.5, 0.5, 6.0), 3.0), ((3.0, 3.5, 9.2), 12.0)]
)
def test_the_skin_is_cut_open_away_from_the_lines(clocks: tuple[float, ...], seam: float) -> None:
    """The unrolled tube is cut where no line lies, so that none is torn apart."""
    made = tuple(replace(planned_lines(1)[0], clock=clock) for clock in clocks)
    assert seam_of(made) == seam


@pytest.mark.analytical
def test_the_clock_counts_upward() -> None:
    """Seen from outside with left at left, the hours rise from rear over top to front."""
    assert height_of(9.0, 6.0) < height_of(12.0, 6.0) < height_of(3.0, 6.0)
    assert height_of(5.5, 6.0) == pytest.approx(11.5 * _HOUR)


@pytest.mark.analytical
def test_figures_stand_against_their_limits() -> None:
    """Whiskers are drawn on the scale of the limit; now is open, half done half filled, all done solid."""
    picture = draw_correction(sample_correction())
    text = said(picture)
    assert text["camber left-now"] == "+0.62°" and text["camber left-all done"] == "+0.05°"
    assert text["bow up-half done"] == "−0.50 mm"
    assert "may be −0.10° to +0.30°" in words(picture)
    limits = [
        box
        for box in picture.findobj(Rectangle)
        if box.get_width() == pytest.approx(24.0) and box.get_height() == 8.0
    ]
    assert len(limits) == len(outcomes())
    middles = [
        line for line in picture.axes[0].lines if line.get_marker() == "o" and line.get_fillstyle() == "full"
    ]
    solid = [
        float(np.asarray(line.get_xdata())[0]) for line in middles if line.get_markerfacecolor() != "white"
    ]
    centre = limits[0].get_x() + 12.0
    # All done of camber left is 0.05 of a limit of 0.25, so a fifth of the way from the middle to the edge.
    assert any(x == pytest.approx(centre + 12.0 * 0.05 / 0.25) for x in solid)


def test_a_figure_far_beyond_its_limit_ends_in_a_wedge() -> None:
    """What lies beyond the scale is a wedge at its edge and not drawn over the numbers."""
    picture = draw_correction(sample_correction())
    wedges = [line for line in picture.axes[0].lines if line.get_marker() in ("<", ">")]
    assert [line.get_marker() for line in wedges] == [">"]


def test_a_figure_that_is_not_told_is_said_so() -> None:
    """Where the readings do not tell a figure there is no whisker, but words."""
    report = sample_correction()
    first = report.lines[0]
    untold = replace(first.outcomes[0], now=UNTOLD)
    plan = replace(first, outcomes=(untold, *first.outcomes[1:]))
    picture = draw_correction(replace(report, lines=(plan,)))
    assert said(picture)["camber left-now"] == "cannot be told"
    # A whisker has three strokes, and "now" of camber left lies beyond the scale and would end in a wedge.
    wedges = [line for line in picture.axes[0].lines if line.get_marker() in ("<", ">")]
    strokes = [len(figure.axes[0].lines) for figure in (draw_correction(report), picture)]
    assert not wedges and strokes[0] - strokes[1] == 3 + 1


@pytest.mark.analytical
def test_press_sets_are_drawn_in_their_places() -> None:
    """Supports and saddle stand at their distances; the saddle is as long as it was reckoned with."""
    one = press_set("left")
    picture = draw_correction(sample_correction(ways=("press",), sets=(one,)), demo("truss-only"))
    per_metre = 148.0 / LENGTH
    supports = picture.findobj(lambda a: isinstance(a, Polygon) and a.get_gid() == "support")
    tips = sorted(float(support.get_xy()[0][0]) for support in supports)
    assert tips == pytest.approx([17.0 + at * per_metre for at in one.supports])
    (saddle,) = picture.findobj(lambda a: isinstance(a, Rectangle) and a.get_gid() == "saddle")
    assert saddle.get_width() == pytest.approx(one.saddle * per_metre)
    assert saddle.get_x() + saddle.get_width() / 2.0 == pytest.approx(17.0 + one.push_at * per_metre)
    assert said(picture)["ram"] == "ram at 430 mm"
    assert "bottom up (6:00)" in words(picture)


def test_a_refused_push_is_crossed_out() -> None:
    """Where pressing is refused there is no ram, but the order not to press and why."""
    picture = draw_correction(variants()["refused"])
    assert said(picture)["refused"] == "DO NOT PRESS HERE: left tube at 430 mm, bottom (6:00)"
    assert "ram" not in said(picture)
    assert not picture.findobj(lambda a: isinstance(a, Rectangle) and a.get_gid() == "saddle")
    assert said(picture)["reason-0"].startswith("words that go on")
    assert "all done" not in words(picture)


@pytest.mark.parametrize(
    ("name", "title"),
    [
        ("leave it", "LEAVE IT"),
        ("send out", "SEND OUT"),
        ("measure first", "MEASURE FIRST"),
        ("6 lines", "CORRECT: counter-beads, 6 lines"),
        ("1 lines", "CORRECT: counter-beads, 1 line"),
        ("press first", "CORRECT: press, 2 sets"),
        ("no lines", "CORRECT: counter-beads"),
        ("no way", "CORRECT: no way found yet"),
    ],
)
def test_the_decision_is_plain(name: str, title: str) -> None:
    """The decision stands in capitals on top with why, and angles have degree signs."""
    picture = draw_correction(variants()[name])
    assert said(picture)["decision"] == title
    assert "Camber left is 0.62° and 0.25° is allowed" in words(picture)


def test_nothing_is_shown_to_work_by_unless_the_decision_is_to_correct() -> None:
    """Where the housing is to be sent out there are no lines and no rams, only where it stands."""
    report = replace(sample_correction(ways=WAYS), decision="send out")
    picture = draw_correction(report)
    assert not bars(picture) and "ram" not in said(picture)
    assert "bow up" in words(picture) and "half done" not in words(picture)


def test_the_recommended_way_comes_first() -> None:
    """Ways are drawn in any order they were asked for, the recommended one first and named."""
    report = replace(sample_correction(ways=("counter-beads", "heat lines", "press")), recommended="press")
    text = words(draw_correction(report))
    assert text.index("Press, recommended") < text.index("Counter-beads") < text.index("Heat lines")


def test_turns_are_said_before_the_first_line_and_where_they_change() -> None:
    """The first line always says how the housing lies, later ones only a change."""
    made = [replace(planned_lines(1)[0], turn=turn) for turn in (0.0, 0.0, 90.0)]
    assert correction_words.turns_before(made) == ("as on the vehicle", "", "front side up")


def test_same_report_gives_the_same_picture() -> None:
    """Two drawings of one report are the same file, and as wide as a sheet takes."""
    first, second = (draw_correction(sample_correction(ways=WAYS)) for _ in range(2))
    assert svg_bytes(first) == svg_bytes(second)
    assert first.get_figwidth() * 25.4 == pytest.approx(WIDTH)
