"""Temperatures, cold shape, and what all drawings have in common."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import matplotlib
import numpy as np
import pytest
from matplotlib.collections import PolyCollection
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.text import Text
from sample_report import sample_report

from axlewright.errors import OutputError
from axlewright.plan.report import PlanReport, Sides, Trace
from axlewright.sheets import draw_cold_shape, draw_temperatures, draw_weld_maps, save_drawings
from axlewright.sheets.cold_shape import _AXLE_WIDTH
from axlewright.sheets.style import PAPER, svg_bytes


def words(figure: Figure) -> str:
    """All text of a figure."""
    return "\n".join(text.get_text() for text in figure.findobj(Text))


def named(figure: Figure, name: str) -> list[Line2D]:
    """Lines by their name in the drawing."""
    return [line for line in figure.findobj(Line2D) if str(line.get_gid()).startswith(name)]


def with_flash(report: PlanReport) -> PlanReport:
    """The report with a hot spot that reaches 700 degC for a few seconds."""
    trace = report.ours.traces[0]
    flash = trace.temperature_c.copy()
    flash[400:403] = 700.0
    traces = (Trace(trace.place, trace.time_s, flash), *report.ours.traces[1:])
    return replace(report, ours=replace(report.ours, traces=traces))


def test_both_plans_show_all_traces_on_the_same_scales() -> None:
    """Ours and common practice have every trace drawn, on equal axes, with bench times in words."""
    report = sample_report(full=False)
    figure = draw_temperatures(report)
    assert len(named(figure, "trace-")) == len(report.ours.traces) + len(report.common_practice.traces)
    ours, common = figure.axes
    assert ours.get_xlim() == common.get_xlim()
    assert ours.get_ylim() == common.get_ylim()
    assert "bench time 57 min" in words(figure)
    assert "bench time 2 h 35 min" in words(figure)


@pytest.mark.analytical
def test_inch_jobs_read_fahrenheit() -> None:
    """A curve of an inch job is the Celsius curve times 9/5 plus 32, and its numbers say °F."""
    metric = named(draw_temperatures(sample_report(full=False)), "trace-0")[0].get_ydata()
    figure = draw_temperatures(sample_report(full=False, inch=True))
    shown = named(figure, "trace-0")[0].get_ydata()
    np.testing.assert_allclose(shown, np.asarray(metric) * 9.0 / 5.0 + 32.0, rtol=1e-12)
    figure.canvas.draw()
    assert "°F" in words(figure) and "°C" not in words(figure)


def test_the_flash_under_the_arc_is_cut_off_and_said_so() -> None:
    """Seconds under the arc do not flatten the picture; the cut is stated."""
    report = sample_report(full=False)
    figure = draw_temperatures(with_flash(report))
    assert figure.axes[0].get_ylim()[1] < 150.0
    assert "cut at the top" in words(figure)
    assert "cut at the top" not in words(draw_temperatures(report))


@pytest.mark.analytical
def test_the_stated_enlargement_is_the_drawn_one() -> None:
    """Drawn over real offset, against the scale along the axle, is the printed factor."""
    report = sample_report(full=False)
    figure = draw_cold_shape(report)
    drawn = np.asarray(named(figure, "axis-camber")[-1].get_ydata())
    real = report.ours.prediction.axis.vertical
    factor = np.ptp(drawn) / np.ptp(real) / (_AXLE_WIDTH / report.length)
    assert f"offsets drawn {factor:.0f} times larger" in words(figure)


def test_ends_say_what_the_sign_means() -> None:
    """Camber and toe stand at both ends with value, band, common practice and meaning."""
    report = sample_report(full=False)
    shape = replace(report.ours.prediction.shape, camber_deg=Sides(-0.31, 0.22), toe_deg=Sides(0.15, -0.12))
    prediction = replace(report.ours.prediction, shape=shape)
    figure = draw_cold_shape(replace(report, ours=replace(report.ours, prediction=prediction)))
    found = {t.get_gid(): t.get_text() for t in figure.findobj(Text) if t.get_gid()}
    assert found["camber-left"] == "camber −0.31°: top leans in"
    assert found["camber-right"] == "camber +0.22°: top leans out"
    assert found["toe-left"] == "toe +0.15°: toe-in, end forward"
    assert found["toe-right"] == "toe −0.12°: toe-out, end back"
    assert "band −0.11° to −0.05°; common practice −0.08°" in words(figure)


@pytest.mark.analytical
def test_the_band_meets_the_edges_of_the_bow() -> None:
    """Where the bow is largest, the grey band is as high as the difference of its two edges."""
    report = sample_report(full=False)
    figure = draw_cold_shape(report)
    outline = figure.findobj(lambda a: isinstance(a, PolyCollection) and a.get_gid() == "band")[0]
    corners = outline.get_paths()[0].vertices
    middle = corners[np.abs(corners[:, 0] - 91.0) < 0.5]
    low, high = report.ours.prediction.low.bow_vertical, report.ours.prediction.high.bow_vertical
    scale = 300.0 * _AXLE_WIDTH / report.length
    assert np.ptp(middle[:, 1]) == pytest.approx(abs(high - low) * scale, rel=1e-6)


def test_a_straight_axle_can_be_drawn() -> None:
    """A prediction of no distortion at all is a drawing, not an error."""
    report = sample_report(full=False)
    axis = replace(report.ours.prediction.axis, vertical=np.zeros(61), fore_aft=np.zeros(61))
    nought = Sides(0.0, 0.0)
    shape = replace(
        report.ours.prediction.shape, camber_deg=nought, toe_deg=nought, bow_vertical=0.0, bow_fore_aft=0.0
    )
    flat = replace(report.ours.prediction, shape=shape, low=shape, high=shape, axis=axis)
    plans = {name: replace(report.ours, prediction=flat) for name in ("ours", "common_practice")}
    assert "upright" in words(draw_cold_shape(replace(report, **plans)))


@pytest.mark.parametrize("inch", [False, True])
def test_no_text_leaves_the_pictures(inch: bool) -> None:
    """Every word of both pictures lies inside them, also with places of long names and all notes."""
    report = with_flash(sample_report(full=True, inch=inch))
    traces = tuple(replace(trace, place=trace.place * 5) for trace in report.ours.traces) * 2
    report = replace(report, ours=replace(report.ours, traces=traces))
    for figure in (draw_temperatures(report), draw_cold_shape(report)):
        figure.canvas.draw()
        for text in figure.findobj(Text):
            if text.get_text() and text.get_visible():
                area = text.get_window_extent()
                assert area.x0 >= 0.0 and area.x1 <= figure.bbox.x1, text.get_text()
                assert area.y0 >= 0.0 and area.y1 <= figure.bbox.y1, text.get_text()


def test_same_report_gives_the_same_bytes() -> None:
    """Two drawings of one report are the same file, without a date."""
    for draw in (lambda r: draw_weld_maps(r)[0], draw_temperatures, draw_cold_shape):
        first, second = (svg_bytes(draw(sample_report(full=True)), PAPER) for _ in range(2))
        assert first == second
        assert b"<dc:date>" not in first


def test_global_settings_are_left_alone() -> None:
    """Drawing and saving leaves matplotlib's settings as they were, and does not obey the user's odd ones."""
    report = sample_report(full=False)
    usual = svg_bytes(draw_temperatures(report))
    assert not any(t.get_parse_math() for t in draw_weld_maps(report)[0].findobj(Text) if t.get_text())
    with matplotlib.rc_context({"font.family": ["serif"], "svg.fonttype": "none", "text.parse_math": True}):
        before = dict(matplotlib.rcParams)
        odd = svg_bytes(draw_temperatures(report))
        assert dict(matplotlib.rcParams) == before
    assert odd == usual


def test_no_pyplot_is_loaded() -> None:
    """Drawing needs no window system: the stateful interface is never imported."""
    code = "import sys, axlewright.sheets; sys.exit('matplotlib.pyplot' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_drawings_are_saved_as_svg_and_png(tmp_path: Path) -> None:
    """Every drawing is written in both formats, and the list names what was written."""
    written = save_drawings(sample_report(full=False), tmp_path)
    names = ["weld-map-1", "temperature", "cold-shape", "trade-off", "what-matters"]
    assert [path.name for path in written] == [f"{n}{end}" for n in names for end in (".svg", ".png")]
    assert sorted(tmp_path.iterdir()) == sorted(written)
    for path in written:
        start = path.read_bytes()[:200]
        assert start.startswith(b"\x89PNG") or b"<?xml" in start


def test_a_missing_folder_is_named_with_a_remedy(tmp_path: Path) -> None:
    """Drawings for a folder that is not there end in one clear message."""
    with pytest.raises(OutputError, match=r"nowhere.*does not exist.*Make it first"):
        save_drawings(sample_report(full=False), tmp_path / "nowhere")
