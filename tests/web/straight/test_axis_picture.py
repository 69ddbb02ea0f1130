"""The picture of the axis: to scale, one scale for all, and what stands on it."""

from __future__ import annotations

import copy
import json
import math
import re
from typing import Any

import pytest
from web.straight.made import check_text

from axlewright.job.demo_jobs import demo_text
from axlewright.job.reading import parse_job
from axlewright.tasks.measuring_outline import housing_outline
from axlewright.web.straight.axis_picture import axis_pictures, doubt_letters
from axlewright.web.straight.axis_scale import AxisFrame, enlargement

OUTLINE = housing_outline(parse_job(demo_text("rescue-truck"), "job.toml"))
WIDTH, MARGIN = 940.0, 64.0


def made_up(bow: float = -0.0008) -> dict[str, Any]:
    """A report whose axis is a tent with its peak in the middle, bow [m], the same before and after."""
    report = json.loads(check_text())
    length = OUTLINE.length
    for which in ("before", "after"):
        for plane in ("vertical", "fore_aft"):
            shape = report[which][plane]
            shape["distances"] = [0.0, length / 2.0, length]
            shape["axis"] = [0.0, bow, 0.0]
            shape["low"] = [0.0, bow - 1e-4, 0.0]
            shape["high"] = [0.0, bow + 1e-4, 0.0]
            shape["points"] = [[length / 4.0, bow / 2.0, 7]]
        report[which]["doubts"] = []
    return report


def points_of(svg: str, kind: str) -> list[list[tuple[float, float]]]:
    """Corners of the paths of a class."""
    found = re.findall(rf'<path d="M([^"]*?)Z?" class="{kind}"', svg)
    return [[tuple(map(float, at.split())) for at in path.split("L")] for path in found]  # type: ignore[misc]


@pytest.mark.analytical
def test_the_axis_is_drawn_to_scale() -> None:
    """A place 1/2 along the axle lies in the middle, and its offset is the stated number of times larger than life."""
    both = axis_pictures(made_up(), OUTLINE)
    (start, peak, end) = points_of(both.planes[0].wide, "line latest")[0]
    per_metre = (WIDTH - 2.0 * MARGIN) / OUTLINE.length
    assert start[0] == pytest.approx(MARGIN, abs=0.01) and end[0] == pytest.approx(WIDTH - MARGIN, abs=0.01)
    assert peak[0] == pytest.approx(WIDTH / 2.0, abs=0.01)
    # Down is down on the page, whose y grows downward. Coordinates are written to a hundredth.
    assert peak[1] - start[1] == pytest.approx(0.0008 * per_metre * both.wide, abs=0.02)


@pytest.mark.analytical
def test_before_and_after_and_both_planes_share_one_scale() -> None:
    """The same offset is drawn equally far in both planes and for both sets."""
    both = axis_pictures(made_up(), OUTLINE)
    for size in ("wide", "narrow"):
        drawn = set()
        for plane in both.planes:
            for weight in ("latest", "earlier"):
                line = points_of(getattr(plane, size), f"line {weight}")[0]
                drawn.add(round(line[1][1] - line[0][1], 2))
        assert len(drawn) == 1


@pytest.mark.analytical
def test_the_enlargement_is_the_largest_round_one_that_fits() -> None:
    """Offsets of 0.9 mm on a reach of 92 px at 624.6 px/m leave room for 163 times, so 100 times is taken."""
    frame = AxisFrame(WIDTH, MARGIN, 92.0, 1.3)
    room = 92.0 / (0.0009 * (812.0 / 1.3))
    assert room == pytest.approx(163.7, abs=0.1)
    assert enlargement(made_up(), frame) == 100.0


@pytest.mark.analytical
def test_a_flange_leans_as_much_larger_than_life_as_offsets() -> None:
    """tan of the drawn lean is the enlargement times tan of the camber, top inward where camber is negative."""
    report = made_up()
    report["after"]["camber"]["left"] |= {"value": -0.2, "told": True}
    both = axis_pictures(report, OUTLINE)
    found = re.search(
        r'<line x1="([\d.]+)" y1="([\d.]+)" x2="([\d.]+)" y2="([\d.]+)" class="face latest" data-end="left"',
        both.planes[0].wide,
    )
    assert found is not None
    foot_x, foot_y, top_x, top_y = map(float, found.groups())
    assert top_y < foot_y and top_x > foot_x, "the top of the left flange leans to the right: inward"
    assert (top_x - foot_x) / (foot_y - top_y) == pytest.approx(
        both.wide * math.tan(math.radians(0.2)), rel=2e-3
    )


def test_the_limit_is_drawn_where_the_axis_would_break_it() -> None:
    """Both dotted lines stand as far from the line between the flanges as the limit of the bow is large."""
    both = axis_pictures(made_up(), OUTLINE)
    svg = both.planes[0].wide
    middle = points_of(svg, "line latest")[0][0][1]
    found = re.findall(r'y1="([\d.]+)"[^>]*class="limit" data-limit="(-?[\d.]+)"', svg)
    assert [float(limit) for _, limit in found] == [-0.0006, 0.0006]
    per_metre = (WIDTH - 2.0 * MARGIN) / OUTLINE.length
    for y, limit in found:
        assert middle - float(y) == pytest.approx(float(limit) * per_metre * both.wide, abs=0.02)


def test_a_reading_left_out_is_told_by_its_shape() -> None:
    """A reading left out stands in a square that is struck through, with the letter the list gives it."""
    report = json.loads(check_text())
    doubt = report["after"]["doubts"][0]
    assert doubt["left_out"]
    svg = axis_pictures(report, OUTLINE).planes[0].wide
    assert svg.count('<rect x="') >= 1 and 'class="odd latest"' in svg
    assert len(re.findall(r'<line [^>]*class="odd latest"', svg)) == 1
    assert ">A</text>" in svg and doubt_letters(report["after"]) == {doubt["line"]: "A"}


def test_a_reading_far_off_is_a_wedge_at_the_edge() -> None:
    """A reading beyond the picture does not shrink it: it is held at the edge as a wedge."""
    report = made_up()
    report["after"]["vertical"]["points"].append([0.5, 0.02, 9])
    both = axis_pictures(report, OUTLINE)
    assert both.wide == axis_pictures(made_up(), OUTLINE).wide
    assert re.search(r'<path [^>]*class="point latest" data-line="9"', both.planes[0].wide)


def test_what_is_not_told_is_not_drawn() -> None:
    """A plane the readings do not tell has neither axis nor band, and the picture says so."""
    report = copy.deepcopy(made_up())
    report["before"] = None
    report["after"]["fore_aft"]["told"] = False
    report["after"]["fore_aft"]["bow"]["told"] = False
    plane = axis_pictures(report, OUTLINE).planes[1]
    assert not points_of(plane.wide, "line latest") and not points_of(plane.wide, "band latest")
    assert "cannot be told" in plane.wide


def test_marks_of_the_housing_stand_where_they_are() -> None:
    """The centre's bounds stand at the distances the job file gives them: 650 and 950 mm of 1300."""
    svg = axis_pictures(made_up(), OUTLINE).planes[0].wide
    found = [float(x) for x in re.findall(r'<line x1="([\d.]+)"[^>]*class="bound"', svg)]
    wide = WIDTH - 2.0 * MARGIN
    assert found == pytest.approx([MARGIN + wide * 0.650 / 1.3, MARGIN + wide * 0.950 / 1.3], abs=0.02)
    assert svg.count('class="perch"') == 2


def test_the_picture_is_told_in_words() -> None:
    """Who cannot see the picture hears the bow of both sets with its band."""
    said = re.search(r'aria-label="([^"]*)"', axis_pictures(json.loads(check_text()), OUTLINE).planes[0].wide)
    assert said is not None
    assert "Bow before the work: +0.20 mm" in said[1] and "Bow after the work: −0.80 mm" in said[1]
