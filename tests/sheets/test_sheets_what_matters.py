"""How sure the plan is, in words and as a picture."""

from __future__ import annotations

from dataclasses import replace

import pytest
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle
from matplotlib.text import Text
from sample_report import sample_report

from axlewright.plan.report import Band, HowSure, PlanReport
from axlewright.sheets.style import svg_bytes
from axlewright.sheets.summary import summary
from axlewright.sheets.sureness import how_often, sentences
from axlewright.sheets.what_matters import draw_what_matters

REPORT = sample_report(full=False)


def sure(report: PlanReport) -> HowSure:
    """How sure the report is."""
    assert report.how_sure is not None
    return report.how_sure


def boxes(figure: Figure, name: str) -> dict[str, Rectangle]:
    """Rectangles by their name in the drawing."""
    found = {str(box.get_gid()): box for box in figure.findobj(Rectangle)}
    return {gid: box for gid, box in found.items() if gid.startswith(name)}


def words(figure: Figure) -> list[str]:
    """All text of a figure."""
    return [text.get_text() for text in figure.findobj(Text) if text.get_text()]


def with_band(report: PlanReport, band: Band) -> PlanReport:
    """The report with another band of our tack load."""
    assert report.ours.how_sure is not None
    bands = replace(report.ours.how_sure, tack_utilisation=band)
    return replace(report, ours=replace(report.ours, how_sure=bands))


@pytest.mark.analytical
@pytest.mark.parametrize("figure", ["distortion", "hottest_spot", "tack_load"])
def test_bars_are_as_long_as_their_shares(figure: str) -> None:
    """Bars of one figure stand in the ratio of the shares, largest first, and end with the rest."""
    matter = next(m for m in sure(REPORT).matters if m.figure == figure)
    drawn = [box.get_width() for box in boxes(draw_what_matters(REPORT), f"share-{figure}-").values()]
    seen = sorted((share for share in matter.shares if share >= 0.005), reverse=True)
    expected = [*seen, 1.0 - sum(seen)]
    assert [width / drawn[0] for width in drawn] == pytest.approx([share / expected[0] for share in expected])


@pytest.mark.analytical
def test_bands_of_both_plans_stand_on_one_scale() -> None:
    """The boxes of our plan and common practice are as wide and as far apart as their edges [mm on paper a unit]."""
    drawn = boxes(draw_what_matters(REPORT), "band-distortion-")
    ours, common = (drawn[f"band-distortion-{name}"] for name in ("ours", "common"))
    bands = [plan.how_sure.distortion for plan in (REPORT.ours, REPORT.common_practice) if plan.how_sure]
    scale = ours.get_width() / (bands[0].high - bands[0].low)
    assert common.get_width() == pytest.approx(scale * (bands[1].high - bands[1].low))
    assert common.get_x() - ours.get_x() == pytest.approx(scale * (bands[1].low - bands[0].low))


def test_the_strength_of_a_tack_is_marked_where_it_is() -> None:
    """The dashed line of the tacks' strength stands at 100 % of the scale, also where all bands lie below it."""
    for band in (Band(0.2, 0.3, 0.4), Band(0.6, 1.1, 1.9)):
        figure = draw_what_matters(with_band(REPORT, band))
        line = next(line for line in figure.axes[0].lines if line.get_gid() == "limit")
        box = boxes(figure, "band-tack_load-ours")["band-tack_load-ours"]
        scale = box.get_width() / (band.high - band.low)
        assert line.get_xdata()[0] - box.get_x() == pytest.approx(scale * (1.0 - band.low))


def test_the_picture_does_without_colour() -> None:
    """Both plans differ by hatching, and the first bar of each figure from the others by black and grey."""
    figure = draw_what_matters(REPORT)
    bands = boxes(figure, "band-")
    assert all(bool(box.get_hatch()) == gid.endswith("common") for gid, box in bands.items())
    first, second = (boxes(figure, "share-distortion-")[f"share-distortion-{n}"] for n in (0, 1))
    assert max(first.get_facecolor()[:3]) < 0.2 < 0.7 < min(second.get_facecolor()[:3])


@pytest.mark.parametrize("inch", [False, True])
def test_no_word_leaves_the_picture_or_covers_another(inch: bool) -> None:
    """Every word lies inside the paper, and no two overlap, in both systems of units and with large figures."""
    report = with_band(sample_report(full=True, inch=inch), Band(1.02, 1.31, 12.9))
    figure = draw_what_matters(report)
    figure.canvas.draw()
    areas = [(text.get_text(), text.get_window_extent()) for text in figure.findobj(Text) if text.get_text()]
    for number, (said, area) in enumerate(areas):
        assert area.x0 >= 0.0 and area.x1 <= figure.bbox.x1, said
        assert area.y0 >= 0.0 and area.y1 <= figure.bbox.y1, said
        for other, theirs in areas[:number]:
            assert not area.overlaps(theirs), (said, other)


def test_inch_jobs_read_inches_and_fahrenheit() -> None:
    """A picture of an inch job has no millimetre and no degree Celsius."""
    shown = " ".join(words(draw_what_matters(sample_report(full=False, inch=True))))
    assert "°F" in shown and " in" in shown
    assert "°C" not in shown and " mm" not in shown


def test_the_same_report_gives_the_same_picture() -> None:
    """Two drawings of one report are the same file."""
    assert svg_bytes(draw_what_matters(REPORT)) == svg_bytes(draw_what_matters(sample_report(full=False)))


def test_without_draws_there_is_nothing_to_draw_or_say() -> None:
    """A report that was not worked out has no sentences and refuses the picture."""
    bare = replace(REPORT, how_sure=None)
    assert sentences(bare) == []
    with pytest.raises(ValueError, match="not worked out"):
        draw_what_matters(bare)


def test_sentences_name_shares_and_causes() -> None:
    """Screen and sheet say how many draws, how often our plan is better, and the first cause of each main figure."""
    said = " ".join(sentences(REPORT))
    assert "by 200 draws" in said
    assert "no hotter than common practice in 97 %" in said and "all three in 86 %" in said
    assert "for distortion shrinkage along the bead (66 %)" in said
    assert "for the hottest spot arc heat (63 %)" in said
    assert "by the clock" in said


@pytest.mark.parametrize(
    ("share", "words"), [(0.0, "0 %"), (0.002, "1 %"), (0.5, "50 %"), (0.998, "99 %"), (1.0, "100 %")]
)
def test_only_always_and_never_are_round(share: float, words: str) -> None:
    """A share of the draws reads 0 % or 100 % only where it is."""
    assert how_often(share) == words


def test_the_summary_has_bands_for_temperatures_and_tacks() -> None:
    """Rows of the summary that are not certain carry their band in the unit of the figure; times carry none."""
    rows = {row[0]: row for row in summary(REPORT)}
    assert rows["tack load, of its strength"][2] == "61 to 108 %"
    assert rows["bearing seat, at most"][2] == "37 to 47 °C"
    assert rows["seal, at most"][4] == "34 to 44 °C"
    assert (
        rows["hottest spot before a bead"][2].endswith(" °C")
        and " to " in rows["hottest spot before a bead"][2]
    )
    assert rows["bench time"][2] == rows["bench time"][4] == ""
