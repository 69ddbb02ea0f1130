"""The demo jobs, and what a job knows about itself."""

from __future__ import annotations

import math

import pytest
from job_texts import CAST, RESCUE, TRUSS, changed
from pydantic import ValidationError

from axlewright.errors import JobFileError
from axlewright.job import demo_names, demo_text, parse_job
from axlewright.job.fit import check_fit
from axlewright.job.lines import line_of
from axlewright.job.outline import BRIDGE_RAMP, Outline
from axlewright.job.stretches import stretch_lengths

BRACKET_ON_REAR = """
[[bracket]]
name = "tab"
at = 100
clock = {clock}
length = 50
height = 40
thickness = 5
lies = "along"
"""


def test_there_are_three_demos() -> None:
    """The package brings three demo jobs, and each reads."""
    assert demo_names() == ("cast-centre", "rescue-truck", "truss-only")
    for name in demo_names():
        parse_job(demo_text(name), name)


def test_an_unknown_demo_is_refused() -> None:
    """Another name, even one that leads out of the folder, gets the list of demos."""
    for name in ("rescue", "../demo_jobs", ""):
        with pytest.raises(JobFileError, match="cast-centre, rescue-truck, truss-only"):
            demo_text(name)


def test_left_out_sections_get_the_usual_values() -> None:
    """Stands at 20 and 80 %, common habits, 20 degC and the order of the trade where a file says nothing."""
    job = parse_job(TRUSS, "demo")
    assert (job.supports.left, job.supports.right) == (0.26, 1.04)
    assert (job.bench.between_beads, job.bench.tack_seconds, job.bench.cool_down) == (25.0, 8.0, 900.0)
    assert job.bench.beads_between_cool_downs == 5
    assert job.bench.order == ("truss", "guard", "spacer", "gusset", "bracket")
    assert (job.limits.spot, job.limits.bearing_seat, job.limits.seal) == (None, 120.0, None)
    assert job.ambient.temperature == 20.0
    assert job.welder.efficiency is None


def test_usual_bead_and_tack_spacing_follow_the_unit() -> None:
    """Left out, they are 50 mm in mm jobs and 2 in in inch jobs."""
    metric = parse_job(
        changed(changed(TRUSS, "bead_length = 50", "#"), "tack_spacing = 50", ""), "demo"
    ).welder
    inch = parse_job(changed(changed(CAST, "bead_length = 2", ""), "tack_spacing = 2", ""), "demo").welder
    assert (metric.bead_length, metric.tack_spacing) == (0.05, 0.05)
    assert (inch.bead_length, inch.tack_spacing) == (0.0508, 0.0508)


def test_one_stand_may_be_left_out() -> None:
    """A stand that is given stays, the other takes its usual place."""
    job = parse_job(changed(RESCUE, "left = 260", ""), "demo")
    assert (job.supports.left, job.supports.right) == (0.26, 1.04)
    job = parse_job(changed(RESCUE, "right = 1040", "right = 1000"), "demo")
    assert (job.supports.left, job.supports.right) == (0.26, 1.0)


@pytest.mark.analytical
def test_x_counts_from_the_middle_to_the_drivers_left() -> None:
    """The left flange is at plus half the length, the right at minus, and the way back is the same."""
    job = parse_job(TRUSS, "demo")
    assert job.x_at(0.0) == 0.65
    assert job.x_at(1.3) == -0.65
    assert job.distance_at(job.x_at(0.4)) == pytest.approx(0.4, abs=1e-15)
    assert Outline(job).centre_at == pytest.approx(0.8)


def test_a_job_cannot_be_changed() -> None:
    """Models are frozen."""
    job = parse_job(TRUSS, "demo")
    with pytest.raises(ValidationError, match="frozen"):
        job.housing.length = 2.0  # type: ignore[misc]


def test_points_and_openings_unpack_and_have_names() -> None:
    """A point of the top is (at, height), a guard opening (from_clock, to_clock)."""
    job = parse_job(RESCUE, "demo")
    at, height = job.trusses[0].top[0]
    assert (at, height) == (job.trusses[0].top[0].at, job.trusses[0].top[0].height) == (0.206, 0.09)
    begin, end = job.guards[0].openings[0]
    assert begin == job.guards[0].openings[0].from_clock == pytest.approx(4 + 50 / 60)
    assert end == pytest.approx(5 + 20 / 60)


def _beads(text: str) -> int:
    """Beads of a job whose stretches are cut into pieces no longer than bead_length, by closed forms."""
    job = parse_job(text, "demo")
    lengths = list(stretch_lengths(job))
    # a spacer's two edges and a gusset's two legs stand twice on the plate
    plates = [edge for s in job.spacers for edge in (s.length, s.width)]
    plates += [edge for g in job.gussets for edge in (g.length, g.height)]
    return sum(math.ceil(length / job.welder.bead_length - 1e-9) for length in [*lengths, *plates])


def test_demos_have_the_promised_number_of_beads() -> None:
    """The truss alone has 36 beads, the rescue truck about 100 (98)."""
    assert _beads(TRUSS) == 36
    assert _beads(RESCUE) == 98


@pytest.mark.analytical
def test_outline_at_known_places() -> None:
    """On the tube the outline is the tube's radius; at the middle of the centre it is half the centre's size.

    The power mean that joins them adds (44.5/150)^6/6 = 0.01 % and (44.5/75)^6/6 = 0.7 % there.
    """
    outline = Outline(parse_job(TRUSS, "demo"))
    assert outline.half_height(0.3) == pytest.approx(0.0445, rel=1e-12)
    assert outline.half_height(0.8) == pytest.approx(0.15, rel=2e-4)
    assert outline.half_depth(0.8) == pytest.approx(0.075, rel=8e-3)
    assert outline.half_height(0.8 + 0.075) == pytest.approx(0.15 * math.sqrt(0.75), rel=1e-3)
    assert outline.skin_height(0.3, 0.03) == pytest.approx(math.sqrt(0.0445**2 - 0.03**2), rel=1e-9)
    assert outline.skin_length(0.3, 0.5, 0.03) == pytest.approx(0.2, rel=1e-9)


@pytest.mark.analytical
def test_skin_length_over_a_round_centre() -> None:
    """Over a centre as wide as high, 60 degrees either side of the top are a third of a circle.

    Tolerance 0.8 %: the power mean adds (44.5/75)^6/6 = 0.7 % to the height at the ends.
    """
    outline = Outline(parse_job(TRUSS, "demo"))
    half_chord = 0.15 * math.sin(math.pi / 3)
    arc = outline.skin_length(0.8 - half_chord, 0.8 + half_chord, 0.0)
    assert arc == pytest.approx(0.15 * 2 * math.pi / 3, rel=5e-3)


def test_welded_stretches_leave_out_openings_and_bridge() -> None:
    """A seam is welded between its openings, and not over the bridged centre and its ramps."""
    job = parse_job(CAST, "demo")
    outline, truss = Outline(job), job.trusses[0]
    begin, end = outline.centre_span
    front = outline.welded_spans(truss, "front")
    assert front == [(truss.start, begin - BRIDGE_RAMP), (end + BRIDGE_RAMP, truss.end)]
    assert len(outline.welded_spans(truss, "rear")) == 3


def test_demos_fit_by_direct_check() -> None:
    """The fit check can be called on a job made without a file."""
    for name in demo_names():
        check_fit(parse_job(demo_text(name), name))


def test_line_of_finds_keys_tables_and_nothing() -> None:
    """Keys, repeated tables, nested tables and dotted keys are found; multi-line text is skipped."""
    text = 'a = 1\n[b]\nnotes = """\na = 2\n[x]\n"""\nc.d = 3\n[[e]]\nf = 1\n[[e]]\nf = 2\n[[e.g]]\nh = 1\n'
    assert line_of(text, ("a",)) == 1
    assert line_of(text, ("b",)) == 2
    assert line_of(text, ("b", "c", "d")) == 7
    assert line_of(text, ("e", 1, "f")) == 11
    assert line_of(text, ("e", 1, "g", 0, "h")) == 13
    assert line_of(text, ("e", 1, "missing")) == 10
    assert line_of(text, ("x",)) is None


@pytest.mark.parametrize(
    ("written", "hours"), [("0", 12.0), ('"12:30"', 0.5), ("12.5", 0.5), ('"5:30"', 5.5), ("12", 12.0)]
)
def test_clock_positions_count_above_nought_to_twelve(written: str, hours: float) -> None:
    """Twelve o'clock is 12, half past is 0.5, whether written as a number or as text."""
    job = parse_job(changed(TRUSS, "[welder]", BRACKET_ON_REAR.format(clock=written) + "[welder]"), "demo")
    assert job.brackets[0].clock == hours
