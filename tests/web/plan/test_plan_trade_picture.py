from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from web.plan.seeded import NAMES, plan_of

from axlewright.web.plan_sheet.scale import Scale, nice_ticks
from axlewright.web.trade_picture import AXES, HEIGHT, WIDTH, trade_picture
from axlewright.web.voronoi import cells

PAIRS = [(a, b) for a in AXES for b in AXES if a != b]
PLACES = st.lists(
    st.tuples(st.floats(0, 300), st.floats(0, 300)),
    min_size=2,
    max_size=12,
    unique_by=lambda p: (round(p[0]), round(p[1])),
)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize(("across", "up"), PAIRS)
def test_every_plan_stands_inside_the_frame(name: str, across: str, up: str) -> None:
    """On any two axes every plan and common practice lie inside the frame, numbers inside the picture."""
    picture = trade_picture(plan_of(name)["trade_off"], across, up, name == "clamped-inch")
    for mark in (*picture.marks, picture.common):
        assert picture.left < mark.x < picture.right
        assert picture.top < mark.y < picture.bottom
        assert 0 < mark.label_x < WIDTH and 0 < mark.label_y < HEIGHT


@pytest.mark.parametrize("name", NAMES)
def test_places_follow_the_figures(name: str) -> None:
    """A quicker plan stands farther left, a straighter one farther down."""
    trade = plan_of(name)["trade_off"]
    picture = trade_picture(trade, "bench", "distortion", False)
    by_time = sorted(zip(trade["points"], picture.marks, strict=True), key=lambda pair: pair[0]["bench_min"])
    assert [mark.x for _, mark in by_time] == sorted(mark.x for _, mark in by_time)
    by_bend = sorted(
        zip(trade["points"], picture.marks, strict=True), key=lambda pair: pair[0]["distortion_mm"]
    )
    assert [-mark.y for _, mark in by_bend] == sorted(-mark.y for _, mark in by_bend)


def test_common_practice_far_off_stands_at_the_edge() -> None:
    """Common practice that takes four times as long does not press all plans together: it stands at the edge."""
    picture = trade_picture(plan_of("rescue-truck")["trade_off"], "bench", "distortion", False)
    assert picture.common.beyond == "right"
    span = max(m.x for m in picture.marks) - min(m.x for m in picture.marks)
    assert span > 0.6 * (picture.right - picture.left)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize(("across", "up"), PAIRS)
def test_numbers_hardly_cover_one_another(name: str, across: str, up: str) -> None:
    """Of twenty numbers at most one pair touches, also where plans lie side by side."""
    marks = trade_picture(plan_of(name)["trade_off"], across, up, False).marks
    touching = [
        (a.number, b.number)
        for k, a in enumerate(marks)
        for b in marks[k + 1 :]
        if abs(a.label_x - b.label_x) < 7.0 and abs(a.label_y - b.label_y) < 10.0
    ]
    assert len(touching) <= 1, touching


def test_every_mark_says_what_it_is() -> None:
    """Who cannot see the picture hears each plan with all four counts, and whether it keeps the limits."""
    trade = plan_of("rescue-truck")["trade_off"]
    said = {mark.number: mark.says for mark in trade_picture(trade, "bench", "distortion", False).marks}
    assert said[12].startswith("Plan 12 (straightest, recommended, shown here): bench time 1 h 37 min")
    assert "outside the limits" in said[1]


def inside(text: str, place: tuple[float, float]) -> bool:
    """Whether a place lies inside a convex shape."""
    corners = [tuple(map(float, pair.split(","))) for pair in text.split()]
    turns = [
        (bx - ax) * (place[1] - ay) - (by - ay) * (place[0] - ax)
        for (ax, ay), (bx, by) in zip(corners, corners[1:] + corners[:1], strict=True)
    ]
    return all(turn >= -1.0 for turn in turns)


@given(PLACES, st.tuples(st.floats(0, 300), st.floats(0, 300)))
def test_what_is_touched_belongs_to_the_nearest_mark(
    places: list[tuple[float, float]], touch: tuple[float, float]
) -> None:
    """A touch within reach of a mark and clearly nearest to it falls into its shape and no other."""
    shapes = cells(places, 28.0)
    far = sorted((math.dist(touch, place), k) for k, place in enumerate(places))
    if far[0][0] > 27.0 or far[1][0] - far[0][0] < 1.0:
        return
    x, y = places[far[0][1]]
    if max(abs(touch[0] - x), abs(touch[1] - y)) < 27.5:
        assert inside(shapes[far[0][1]], touch)


@given(st.floats(-1e3, 1e3), st.floats(0.01, 1e3), st.integers(2, 8))
def test_steps_are_few_and_inside(low: float, span: float, most: int) -> None:
    """A scale has steps, at most as many as asked for, all inside it and evenly spaced."""
    ticks = nice_ticks(low, low + span, most)
    assert 1 <= len(ticks) <= most
    assert all(low - 1e-6 * span <= tick <= low + span * (1 + 1e-6) for tick in ticks)
    gaps = {round((b - a) / span, 6) for a, b in pairwise(ticks)}
    assert len(gaps) <= 1


def test_a_scale_is_straight() -> None:
    """Half-way in value is half-way in place, also where the scale runs upward."""
    assert Scale(10.0, 20.0, 300.0, 100.0).at(15.0) == pytest.approx(200.0)
