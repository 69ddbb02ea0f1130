"""The straightness picture: to scale, honest about what is not told, legible in black and white."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from looking import check_legible, lines, said, words
from matplotlib.collections import PolyCollection
from matplotlib.figure import Figure
from reference.jobs import demo
from sample_straightness import LENGTH, UNTOLD, figure, sample_straightness

from axlewright.sheets import straightness_words
from axlewright.sheets.straightness_drawing import _AXLE, draw_straightness
from axlewright.sheets.straightness_marks import TALLEST
from axlewright.sheets.style import svg_bytes
from axlewright.straightness.report import Ends, LimitCheck, StraightnessReport

LONG = "a name that goes on and on, with $ and # and 中文, " * 4
VARIANTS: dict[str, StraightnessReport] = {
    "both": sample_straightness(odd=(4, 5)),
    "before only": sample_straightness(sets="before"),
    "after only, inch": sample_straightness(sets="after", inch=True),
    "toe untold": sample_straightness(untold="fore-aft"),
    "nothing told": sample_straightness(untold="vertical fore-aft", bow=None),
    "huge, 40 points": sample_straightness(up=0.03, forward=-0.02, points=40, odd=tuple(range(2, 30))),
    "tiny": sample_straightness(up=1e-5, forward=0.0, half=2e-6, inch=True),
    "wide band": sample_straightness(half=0.004, inch=True, odd=(2, 8)),
    "far limit": sample_straightness(bow=0.02),
}


def factor(picture: Figure) -> float:
    """The enlargement printed on a picture."""
    return float(said(picture)["scale"].split("drawn ")[1].split(" times")[0])


@pytest.mark.parametrize("name", VARIANTS)
def test_every_variant_is_legible(name: str) -> None:
    """No word covers another or leaves the page, whatever the shape and the unit."""
    check_legible(draw_straightness(VARIANTS[name], demo("truss-only")))


@pytest.mark.parametrize("name", ["both", "toe untold"])
def test_long_names_stay_legible(name: str) -> None:
    """No word covers another or leaves the page where job, sets and verdict have the longest names."""
    report = VARIANTS[name]
    assert report.before is not None and report.after is not None
    named = replace(
        report,
        job_name=LONG,
        verdict=replace(report.verdict, words=LONG),
        before=replace(report.before, name=LONG),
        after=replace(report.after, name=LONG, untold=(LONG,) * 5),
    )
    check_legible(draw_straightness(named))


@pytest.mark.analytical
@pytest.mark.parametrize("name", ["both", "huge, 40 points", "tiny"])
def test_the_stated_enlargement_is_the_drawn_one(name: str) -> None:
    """Drawn over real offset, against the scale along the axle, is the printed factor in both planes."""
    report = VARIANTS[name]
    picture = draw_straightness(report)
    assert report.after is not None
    for plane, shape in (("vertical", report.after.vertical), ("fore-aft", report.after.fore_aft)):
        (axis,) = lines(picture, f"axis-{plane}-after")
        drawn = np.ptp(np.asarray(axis.get_ydata()))
        assert drawn == pytest.approx(np.ptp(shape.axis) * factor(picture) * _AXLE / LENGTH, abs=1e-9)
        assert drawn <= TALLEST


@pytest.mark.analytical
def test_bands_run_from_low_to_high() -> None:
    """The band of each set is as high as low and high edge lie apart, at the printed enlargement."""
    report = VARIANTS["both"]
    picture = draw_straightness(report)
    per_metre = factor(picture) * _AXLE / LENGTH
    for name in ("before", "after"):
        (band,) = picture.findobj(
            lambda a, n=name: isinstance(a, PolyCollection) and a.get_gid() == f"band-vertical-{n}"
        )
        corners = band.get_paths()[0].vertices
        middle = corners[np.abs(corners[:, 0] - np.median(corners[:, 0])) < 0.5]
        assert np.ptp(middle[:, 1]) == pytest.approx(0.0002 * per_metre, rel=1e-6)


def test_before_and_after_differ_without_colour() -> None:
    """After is a thick whole line with solid points, before a thin broken one with open points."""
    picture = draw_straightness(VARIANTS["both"])
    (before,), (after,) = lines(picture, "axis-vertical-before"), lines(picture, "axis-vertical-after")
    assert after.get_linewidth() > 2.5 * before.get_linewidth()
    assert after.get_linestyle() == "-" and before.get_linestyle() == "--"
    faces = {n: lines(picture, f"point-vertical-{n}")[0].get_markerfacecolor() for n in ("before", "after")}
    assert faces["before"] == "white" and faces["after"] != "white"


def test_what_cannot_be_told_is_said_and_not_drawn() -> None:
    """A plane without readings has no axis, band or point, and says so in large type; the other is drawn."""
    picture = draw_straightness(VARIANTS["toe untold"])
    assert said(picture)["untold-fore-aft-after"] == "after: cannot be told from these readings"
    assert said(picture)["toe-left-after"] == "toe cannot be told"
    assert not lines(picture, "axis-fore-aft") and not lines(picture, "point-fore-aft")
    assert lines(picture, "axis-vertical-after")
    assert "Next: Read the gap" in words(picture)


def test_an_angle_that_is_not_told_has_no_flange() -> None:
    """Camber that is not told at one end is said so there, and no flange leans there."""
    report = VARIANTS["both"]
    assert report.after is not None
    after = replace(report.after, camber=Ends(UNTOLD, report.after.camber.right))
    picture = draw_straightness(replace(report, after=after))
    assert said(picture)["camber-left-after"] == "camber cannot be told"
    assert not lines(picture, "flange-vertical-left-after")
    assert lines(picture, "flange-vertical-right-after")


@pytest.mark.analytical
def test_flanges_lean_the_way_the_signs_say() -> None:
    """Positive camber leans the upper edge outward at both ends; toe-in leans the forward edge inward."""
    report = VARIANTS["both"]
    assert report.after is not None
    after = replace(report.after, camber=Ends(figure(0.3, 0.1), figure(0.3, 0.1)), toe=report.after.camber)
    after = replace(after, toe=Ends(figure(0.2, 0.1), figure(0.2, 0.1)))
    picture = draw_straightness(replace(report, after=after))
    for plane, end, outward in (
        ("vertical", "left", -1.0),
        ("vertical", "right", 1.0),
        ("fore-aft", "left", 1.0),
        ("fore-aft", "right", -1.0),
    ):
        (flange,) = lines(picture, f"flange-{plane}-{end}-after")
        x, y = np.asarray(flange.get_xdata()), np.asarray(flange.get_ydata())
        upper = int(np.argmax(y))
        assert np.sign(x[upper] - x.mean()) == outward


@pytest.mark.analytical
def test_limits_of_the_bow_are_drawn_where_they_lie() -> None:
    """Lines stand at plus and minus the limit; one that lies beyond the picture is named instead."""
    picture = draw_straightness(VARIANTS["both"])
    limits = lines(picture, "limit-vertical")
    assert len(limits) == 2
    heights = [float(np.asarray(line.get_ydata())[0]) for line in limits]
    assert np.ptp(heights) == pytest.approx(2 * 0.0005 * factor(picture) * _AXLE / LENGTH)
    far = draw_straightness(VARIANTS["far limit"])
    assert not lines(far, "limit")
    assert "±20.00 mm, off the picture" in said(far)["limit"]
    assert "limit" not in said(draw_straightness(sample_straightness(bow=None)))


def test_limits_are_drawn_in_the_plane_they_hold_in() -> None:
    """A limit named up or forward stands in its plane only, one that names neither in both."""
    checks = tuple(
        LimitCheck(name, "m", 0.0, limit, figure(0.0, 0.1), "inside")
        for name, limit in (("bow up", 1e-3), ("straightness forward", 2e-3), ("bow", 3e-3))
    )
    verdict = replace(VARIANTS["both"].verdict, checks=checks)
    assert [check.limit for check in straightness_words.bow_limits(verdict, "vertical")] == [1e-3, 3e-3]
    assert [check.limit for check in straightness_words.bow_limits(verdict, "fore-aft")] == [2e-3, 3e-3]


def test_a_far_off_point_does_not_flatten_the_picture() -> None:
    """A reading ten times farther off than the rest is held at the edge as a wedge."""
    report = VARIANTS["both"]
    assert report.after is not None
    vertical = report.after.vertical
    odd = replace(vertical, points=(*vertical.points, (0.3, 0.009, 99)))
    picture = draw_straightness(replace(report, after=replace(report.after, vertical=odd)))
    assert factor(picture) == factor(draw_straightness(report))
    (point,) = lines(picture, "point-vertical-after-99")
    assert point.get_marker() == "^"
    assert all(p.get_marker() == "o" for p in lines(picture, "point-vertical-before"))


def test_odd_readings_are_named_by_their_line() -> None:
    """A reading that does not go with the rest has the line of its file beside it."""
    picture = draw_straightness(sample_straightness(odd=(4,)))
    assert said(picture)["odd-vertical-4"] == "line 4"
    assert not [name for name in said(draw_straightness(sample_straightness())) if name.startswith("odd")]


def test_the_change_is_put_into_words() -> None:
    """What changed stands with its band; where the band holds nought there is no change for sure."""
    report = VARIANTS["both"]
    picture = said(draw_straightness(report))
    assert (
        picture["change-vertical-0"]
        == "Change: the axis went 1.00 mm down at 650 mm (band −1.14 to −0.86 mm);"
    )
    assert picture["change-vertical-1"].startswith("camber left +0.18° (+0.13° to +0.23°); camber right")
    assert report.change is not None
    unsure = replace(
        report.change,
        vertical=replace(report.change.vertical, bow=figure(0.0001, 0.0002)),
        camber=Ends(figure(0.02, 0.05), UNTOLD),
    )
    assert straightness_words.change(unsure, "vertical", False) == [
        "Change: no bow for sure (band −0.10 to +0.30 mm);",
        "camber left none for sure (−0.03° to +0.07°); camber right cannot be told.",
    ]
    assert "change" not in "".join(said(draw_straightness(VARIANTS["before only"])))


def test_toe_at_the_tyre_is_told_in_both_units() -> None:
    """Toe at the tyre's diameter stands in millimetres and in inches, whatever the shop works in."""
    for inch, diameter in ((False, "800 mm"), (True, "31 1/2 in")):
        told = words(draw_straightness(sample_straightness(inch=inch))).replace("\n", " ")
        assert f"Toe-in at a tyre of {diameter}: left +1.00 mm or +0.039 in" in told
        assert "both together +2.00 mm or +0.079 in" in told


def test_inch_jobs_are_told_in_inches() -> None:
    """Bow, scale and ruler of an inch job are in inches."""
    picture = draw_straightness(VARIANTS["after only, inch"])
    assert said(picture)["bow-vertical-after"].startswith("bow after −0.035 in, down at 25 9/16 in")
    assert "24 in" in words(picture)
    assert "+0.04" in words(picture)


def test_the_housing_is_outlined_where_the_job_is_known() -> None:
    """With a job the bare housing stands behind the axis, and the key says so."""
    job = demo("truss-only")
    outlined = draw_straightness(VARIANTS["both"], job)
    assert "housing outlined" in said(outlined)["scale"]
    assert len([a for a in outlined.findobj(PolyCollection) if a.get_gid() == "outline"]) == 2
    assert "outlined" not in said(draw_straightness(VARIANTS["both"]))["scale"]


def test_same_report_gives_the_same_picture() -> None:
    """Two drawings of one report are the same file."""
    first, second = (svg_bytes(draw_straightness(VARIANTS["both"])) for _ in range(2))
    assert first == second


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        (
            "bow up is -0.04 in (90 % band -0.08 in to -0.01 in)",
            "bow up is −0.04 in (90 % band −0.08 in to −0.01 in)",
        ),
        ("camber -0.31 deg at 300 degC, fore-aft, S-4", "camber −0.31° at 300 °C, fore-aft, S-4"),
        ("two degrees, 3 deg.", "two degrees, 3°."),
    ],
)
def test_sentences_are_printed_with_signs(text: str, shown: str) -> None:
    """Sentences get a true minus before numbers and degree signs; hyphens within words stay."""
    assert straightness_words.sentence(text) == shown


def test_twist_is_told_or_left_to_the_words_on_what_is_not() -> None:
    """Twist stands with its sign where it is told, and is not said twice where it is not."""
    report = VARIANTS["both"]
    assert report.after is not None
    assert "Twist +0.06°, band −0.06° to +0.18° (plus: top of the left flange rearward)." in words(
        draw_straightness(report)
    )
    untold = replace(report, after=replace(report.after, twist=UNTOLD))
    assert "Twist" not in words(draw_straightness(untold))
