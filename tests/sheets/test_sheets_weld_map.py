"""Weld maps show every bead, tack and opening once, in its place."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.patches import Patch
from matplotlib.text import Text
from sample_report import sample_report, straight

from axlewright.plan.report import PlanReport
from axlewright.sheets import draw_weld_maps
from axlewright.sheets.places import SeamWork
from axlewright.sheets.strip import StripPanel


def labels(figures: tuple[Figure, ...], kind: str) -> list[Text]:
    """All texts whose name in the drawing starts with `kind`."""
    return [t for figure in figures for t in figure.findobj(Text) if str(t.get_gid()).startswith(f"{kind}-")]


def openings(figures: tuple[Figure, ...]) -> list[Patch]:
    """All hatched patches but those of the key."""
    found = [p for figure in figures for p in figure.findobj(Patch) if p.get_hatch()]
    return [patch for patch in found if patch.get_gid() != "key-opening"]


def narrow_report(count: int) -> PlanReport:
    """One long seam of `count` equal beads, all in one direction."""
    report = sample_report(full=False)
    line = straight("Long truss", "front seam", (0.1, 1.2))
    edges = np.linspace(0.0, line.length, count + 1)
    pattern = report.ours.beads[0]
    beads = tuple(
        replace(
            pattern,
            number=k + 1,
            attachment="Long truss",
            seam="front seam",
            from_s=float(edges[k]),
            to_s=float(edges[k + 1]),
        )
        for k in range(count)
    )
    return replace(report, seams=(line,), ours=replace(report.ours, beads=beads, tacks=()))


@pytest.mark.parametrize("full", [False, True])
@pytest.mark.parametrize("inch", [False, True])
def test_every_bead_and_tack_is_labelled_once(full: bool, inch: bool) -> None:
    """Each bead's number and name, and each tack's number, stand on exactly one place of the maps."""
    report = sample_report(full=full, inch=inch)
    figures = draw_weld_maps(report)
    expected = sorted(str(bead.number) for bead in report.ours.beads)
    assert sorted(t.get_text() for t in labels(figures, "bead")) == expected
    tacks = sorted(f"T{tack.number}" for tack in report.ours.tacks)
    assert sorted(t.get_text() for t in labels(figures, "tack")) == tacks
    names = {f"tag-{bead.number}": bead.tag for bead in report.ours.beads}
    assert {t.get_gid(): t.get_text() for t in labels(figures, "tag")} == names
    assert len(labels(figures, "tag")) == len(names)


@pytest.mark.parametrize("full", [False, True])
def test_openings_are_hatched_and_say_leave_open(full: bool) -> None:
    """Every drain opening is hatched and carries the words that keep it open."""
    report = sample_report(full=full)
    figures = draw_weld_maps(report)
    count = sum(len(line.openings) for line in report.seams)
    words = [t for f in figures for t in f.findobj(Text) if t.get_text().replace("\n", " ") == "leave open"]
    assert (len(openings(figures)), len(words)) == (count, count)


@pytest.mark.parametrize("inch", [False, True])
def test_thirty_six_beads_fit_one_page_in_large_type(inch: bool) -> None:
    """The 36-bead truss takes one page, with numbers of at least 11 points on paper."""
    report = sample_report(full=False, inch=inch)
    figures = draw_weld_maps(report)
    assert len(report.ours.beads) == 36
    assert len(figures) == 1
    assert min(t.get_fontsize() for t in labels(figures, "bead")) >= 11.0
    assert min(t.get_fontsize() for t in labels(figures, "tag")) >= 6.0


def test_labels_of_beads_and_tacks_do_not_overlap() -> None:
    """No number covers another one."""
    for figure in draw_weld_maps(sample_report(full=True)):
        renderer = figure.canvas.get_renderer()
        kinds = ("bead", "tag", "tack")
        boxes = [t.get_window_extent(renderer) for kind in kinds for t in labels((figure,), kind)]
        pairs = [(a, b) for k, a in enumerate(boxes) for b in boxes[k + 1 :] if a.overlaps(b)]
        assert not pairs


def test_close_tacks_are_turned_upright() -> None:
    """Tacks too close for their numbers side by side stand upright, and none covers another."""
    report = narrow_report(60)
    pattern = sample_report(full=False).ours.tacks[0]
    places = [s for bead in report.ours.beads for s in (bead.from_s, (bead.from_s + bead.to_s) / 2.0)]
    tacks = tuple(
        replace(pattern, number=k, attachment="Long truss", seam="front seam", at_s=s)
        for k, s in enumerate(places, start=1)
    )
    figure = draw_weld_maps(replace(report, ours=replace(report.ours, tacks=tacks)))[0]
    renderer = figure.canvas.get_renderer()
    boxes = [t.get_window_extent(renderer) for t in labels((figure,), "tack")]
    assert len(boxes) == 120
    assert not [(a, b) for k, a in enumerate(boxes) for b in boxes[k + 1 :] if a.overlaps(b)]


def test_no_text_leaves_the_page() -> None:
    """Every word of every page lies on the paper, also with names far too long for it."""
    report = sample_report(full=True, inch=True)
    long = replace(report, job_name="Very long job name " * 20)
    for figure in draw_weld_maps(long):
        renderer = figure.canvas.get_renderer()
        for text in figure.findobj(Text):
            if text.get_text():
                area = text.get_window_extent(renderer)
                assert figure.bbox.x0 <= area.x0 and area.x1 <= figure.bbox.x1, text.get_text()
                assert figure.bbox.y0 <= area.y0 and area.y1 <= figure.bbox.y1, text.get_text()


def test_beads_of_a_seam_stand_in_the_order_of_their_distances() -> None:
    """From left to right on paper, beads of a truss seam follow their distance from the left flange."""
    report = sample_report(full=False)
    place = {t.get_text(): t.get_position() for t in labels(draw_weld_maps(report), "bead")}
    for seam in ("front seam", "rear seam"):
        beads = [bead for bead in report.ours.beads if bead.seam == seam]
        by_distance = sorted(beads, key=lambda bead: bead.from_x + bead.to_x)
        on_paper = [place[str(bead.number)][0] for bead in by_distance]
        assert on_paper == sorted(on_paper)


@pytest.mark.analytical
def test_guard_beads_stand_at_their_clock_positions() -> None:
    """Seen from the centre of the face, a bead's number lies at the middle of its clock positions."""
    report = sample_report(full=True)
    beads = {str(bead.number): bead for bead in report.ours.beads if bead.attachment == "Guard"}
    found = [t for t in labels(draw_weld_maps(report), "bead") if t.get_text() in beads]
    centre = np.mean([t.get_position() for t in found], axis=0)
    line = next(line for line in report.seams if line.attachment == "Guard")
    for text in found:
        bead = beads[text.get_text()]
        clock = (bead.from_s + bead.to_s) / 2.0 / line.length * 12.0
        x, y = np.asarray(text.get_position()) - centre
        seen = math.degrees(math.atan2(x, y)) / 30.0 % 12.0
        # The numbers are not spread evenly (one stretch is open), so their mean is 2 mm off the centre.
        assert abs((seen - clock + 6.0) % 12.0 - 6.0) < 0.15


@pytest.mark.parametrize("count", [20, 60, 150])
def test_many_short_beads_break_into_rows(count: int) -> None:
    """However short the beads, each stays at least 6 mm wide on paper and none is lost at a break."""
    report = narrow_report(count)
    figures = draw_weld_maps(report)
    assert len(labels(figures, "bead")) == len(labels(figures, "tag")) == count
    panel = StripPanel(SeamWork(report.seams[0], report.ours.beads, ()), False, 246.0)
    longest = max(row.high - row.low for row in panel.rows)
    assert 1.1 / count * (246.0 - 18.0) / longest >= 6.0


@pytest.mark.parametrize("swap", [False, True])
def test_arrow_points_along_the_hand_of_travel(swap: bool) -> None:
    """A bead welded towards greater distances has its arrow head to the right of its number."""
    report = narrow_report(20)
    if swap:
        beads = tuple(replace(b, from_s=b.to_s, to_s=b.from_s) for b in report.ours.beads)
        report = replace(report, ours=replace(report.ours, beads=beads))
    figure = draw_weld_maps(report)[0]
    heads = [p for p in figure.findobj(Patch) if p.__class__.__name__ == "Polygon"]
    number = labels((figure,), "bead")[10].get_position()[0]
    tips = [p.get_xy()[0][0] for p in heads if abs(p.get_xy()[0][0] - number) < 6.0]
    assert len(tips) == 1
    assert (tips[0] > number) != swap
