"""The shape of an axis in eleven figures: signs, slopes, and what is read off them."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from reference.benches import bench_for
from reference.jobs import demo

from axlewright.plan.common_practice import common_practice
from axlewright.straightness.axis import (
    PARAMETERS,
    PLANES,
    AxisFit,
    Plane,
    Span,
    projected,
    span_of,
)

MIDDLE = Span(0.7, 0.0, 0.1)
spans = st.builds(
    Span,
    half_length=st.floats(0.4, 1.2),
    middle=st.floats(-0.2, 0.2),
    half_width=st.floats(0.05, 0.15),
    bent_to=st.tuples(st.floats(0.5, 1.0), st.floats(0.5, 1.0)),
)
shapes = st.lists(st.floats(-2e-3, 2e-3), min_size=11, max_size=11).map(np.array)


def shape(**figures: float) -> np.ndarray:
    """Parameters of which only some are not nought; names with underscores."""
    values = np.zeros(len(PARAMETERS))
    for name, value in figures.items():
        values[PARAMETERS.index(name.replace("_", " "))] = value
    return values


@pytest.mark.published
def test_an_arc_and_a_kink_turn_the_flanges_as_geometry_says() -> None:
    """1 mm over 1400 mm: an arc turns its ends by 4 f / L = 0.1637 deg, a kink by 2 f / L = 0.0819 deg."""
    # Source: geometry (circle of small sagitta, triangle). Half an arc has a quarter of its sagitta.
    arc = shape(offset_up=1e-3, left_bow_up=0.25e-3, right_bow_up=0.25e-3)
    kink = shape(offset_up=1e-3)
    assert np.rad2deg(MIDDLE.angles() @ arc)[:2] == pytest.approx([0.1637, 0.1637], abs=5e-5)
    assert np.rad2deg(MIDDLE.angles() @ kink)[:2] == pytest.approx([0.0819, 0.0819], abs=5e-5)


@pytest.mark.analytical
def test_ends_up_is_negative_camber_and_ends_forward_is_toe_in() -> None:
    """A centre that hangs below the line between the flanges, or lies behind it, has its ends up or forward."""
    # Source: rigid body.
    camber_left, camber_right, toe_left, toe_right, twist = MIDDLE.angles() @ shape(
        offset_up=-1e-3, offset_forward=-1e-3
    )
    assert camber_left < 0 and camber_right < 0
    assert toe_left > 0 and toe_right > 0
    assert twist == 0


@pytest.mark.analytical
@pytest.mark.parametrize(("end", "column"), [("left", 0), ("right", 1)])
def test_a_flange_out_of_square_moves_its_own_angle_only(end: str, column: int) -> None:
    """An outer face that leans up has negative camber there, one that leans forward toes in."""
    up = MIDDLE.angles() @ shape(**{f"{end}_flange_up": 2e-3})
    forward = MIDDLE.angles() @ shape(**{f"{end}_flange_forward": 2e-3})
    assert up == pytest.approx(-2e-3 * np.eye(5)[column])
    assert forward == pytest.approx(2e-3 * np.eye(5)[2 + column])


@given(spans, shapes)
def test_the_axis_starts_and_ends_on_its_datum(span: Span, values: np.ndarray) -> None:
    """At both flanges the axis lies on the line between them, whatever its shape."""
    ends = np.array([span.half_length, -span.half_length])
    for plane in PLANES:
        assert span.heights(ends, plane) @ values == pytest.approx([0, 0], abs=1e-12)


@given(spans, shapes, st.floats(-0.98, 0.98))
def test_slopes_are_the_derivative_of_heights(span: Span, values: np.ndarray, share: float) -> None:
    """Rows of slopes agree with differences of rows of heights away from the kink at the centre."""
    x = share * span.half_length
    step = 1e-6
    if abs(x - span.middle) < 2 * step:
        return
    for plane in PLANES:
        ahead, behind = span.heights(np.array([x + step, x - step]), plane) @ values
        # Tolerance: rounding of the difference (1e-16 / 1e-6) and the curvature's jump at the truss end.
        assert span.slopes(np.array([x]), plane) @ values == pytest.approx(
            (ahead - behind) / (2 * step), abs=1e-6
        )


@given(spans)
def test_a_bow_is_as_high_as_its_figure_says(span: Span) -> None:
    """The bow of a tube reaches its own value and no more, wherever a truss ends."""
    x = np.linspace(span.middle, span.half_length, 2001)
    height = span.heights(x, "vertical") @ shape(left_bow_up=1e-3)
    # Tolerance: the highest point may fall between two of the 2001 looked at.
    assert height.max() == pytest.approx(1e-3, rel=1e-5)
    assert height.min() >= -1e-15


@pytest.mark.analytical
def test_a_tube_is_straight_beyond_its_truss() -> None:
    """Where no truss is welded on, the axis runs straight to the flange."""
    span = Span(0.7, 0.0, 0.1, bent_to=(0.6, 1.0))
    slopes = span.slopes(np.array([0.45, 0.55, 0.69]), "vertical") @ shape(left_bow_up=1e-3)
    assert slopes == pytest.approx(slopes[0])
    assert span_of(demo("truss-only")).bent_to == pytest.approx((0.7425, 0.668), abs=1e-4)


@given(spans, shapes)
def test_a_shape_of_the_family_is_found_again(span: Span, values: np.ndarray) -> None:
    """Projecting a shape that is known everywhere gives the figures it was made from."""
    stations = np.linspace(span.half_length, -span.half_length, 41)
    offsets = [span.heights(stations, plane) @ values for plane in PLANES]
    found = projected(span, stations, offsets[0], offsets[1], span.angles() @ values)
    assert found == pytest.approx(values, abs=1e-9)


@pytest.mark.regression
@pytest.mark.parametrize(("name", "misfit"), [("truss-only", 0.06e-3), ("cast-centre", 0.13e-3)])
def test_the_family_meets_the_shapes_of_the_model(name: str, misfit: float) -> None:
    """A welded demo's axis lies within a feeler gauge of the family's nearest shape, outside its centre."""
    job = demo(name)
    bench = bench_for(job)
    found = bench.try_plan(common_practice(bench.model.assembly, job.bench)).shape
    span = span_of(job)
    angles = np.array([*found.camber, *found.toe, found.twist])
    values = projected(span, found.stations, found.vertical, found.fore_aft, angles)
    tubes = np.abs(found.stations - span.middle) > span.half_width
    for plane, offsets in zip(PLANES, (found.vertical, found.fore_aft), strict=True):
        assert np.abs(span.heights(found.stations, plane) @ values - offsets)[tubes].max() < misfit
    assert span.angles() @ values == pytest.approx(angles, abs=1e-12)
    # The tube's end, without the flange's own lean, tells the camber to some hundredths of a degree.
    leans = [PARAMETERS.index(f"{end} flange up") for end in ("left", "right")]
    assert np.abs(np.rad2deg(values[leans])).max() < 0.025


@pytest.mark.analytical
def test_a_fit_reads_figures_with_their_spread() -> None:
    """The spread of a row is that of its figures together."""
    fit = AxisFit(MIDDLE, shape(offset_up=1e-3), 4e-8 * np.eye(11))
    value, spread = fit.read(MIDDLE.heights(np.array([0.0]), "vertical"))
    assert value == pytest.approx(1e-3)
    assert spread == pytest.approx(2e-4)


@pytest.mark.analytical
def test_a_truss_that_hardly_leaves_the_centre_bends_no_tube_by_itself() -> None:
    """Without a truss, or with one as short as the centre, a tube may bend all along."""
    job = demo("truss-only")
    span = span_of(job)
    (truss,) = job.trusses
    short = truss.model_copy(update={"start": 0.60, "end": 1.0})
    assert span_of(job.bare).bent_to == (1.0, 1.0)
    assert span_of(job.model_copy(update={"trusses": (short,)})).bent_to == (1.0, 1.0)
    assert max(span.bent_to) < 0.8


@pytest.mark.analytical
@pytest.mark.parametrize("plane", PLANES)
def test_kinks_are_how_tubes_leave_the_centre(plane: Plane) -> None:
    """A centre below the line between the flanges has both tubes rise from it, each by its own length."""
    span = Span(0.7, -0.1, 0.1)
    name = "offset_up" if plane == "vertical" else "offset_forward"
    assert span.kinks(plane) @ shape(**{name: -1e-3}) == pytest.approx([1e-3 / 0.8, 1e-3 / 0.6])
