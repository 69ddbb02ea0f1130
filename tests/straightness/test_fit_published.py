"""Published and hand values of the parts of the fit."""

from __future__ import annotations

import math

import numpy as np
import pytest
from reference.jobs import demo
from simulated import Housing, Shop, four_points, measured, origin

from axlewright.job.schema import Job
from axlewright.straightness.axis import PARAMETERS, Span
from axlewright.straightness.fit.figures import Line, zone
from axlewright.straightness.fit.fitting import fit_shape
from axlewright.straightness.fit.iso_13920 import straightness_tolerance
from axlewright.straightness.fit.shape_reports import shape_report
from axlewright.straightness.fit.turning import closure, four_point_offset, runout_offset
from axlewright.straightness.fit.tyre import toe_at_tyre
from axlewright.straightness.readings.reading import FourPoint, Runout

INCH = 0.0254


def bare(length: float) -> Job:
    """A housing with its centre in the middle and nothing welded on."""
    job = demo("truss-only")
    centre = job.housing.centre.model_copy(update={"offset": 0.0})
    housing = job.housing.model_copy(update={"length": length, "centre": centre})
    return job.model_copy(update={"housing": housing, "trusses": (), "guards": ()})


@pytest.mark.published
def test_the_four_point_worksheet() -> None:
    """N .3470, S .3590, E .3540, W .3525 in: offsets .0060 and .00075 in, closure -.0005 in."""
    # Source: turbine maintenance runout worksheet, figure 16, block at 0 deg. Tolerance: its last digit.
    # The worksheet reads gaps, larger where the shaft is farther away: toward N and W by its signs. A dial on the skin
    # reads the other way round.
    north, south, east, west = (-one * INCH for one in (0.3470, 0.3590, 0.3540, 0.3525))
    read = FourPoint(origin("block", 0.0), 0.5, (north, east, south, west), None)
    up, forward = four_point_offset(read)[0] / INCH
    assert up == pytest.approx(0.0060, abs=1e-6)
    assert forward == pytest.approx(-0.00075, abs=1e-6)
    assert closure(read) / INCH == pytest.approx(0.0005, abs=1e-6)


@pytest.mark.published
@pytest.mark.parametrize(
    ("clock", "up", "forward"), [(12.0, 0.5, 0.0), (3.0, 0.0, 0.5), (6.0, -0.5, 0.0), (9.0, 0.0, -0.5)]
)
def test_half_the_total_is_the_offset(clock: float, up: float, forward: float) -> None:
    """A total reading of 1 mm is an offset of 0.5 mm, toward the mark under the dial where it stands highest."""
    # Source: e = TIR / 2, a heat treater's page on straightness.
    found, _ = runout_offset(Runout(origin("turning", 1e-5), 0.5, 1e-3, clock, 1e-6, None))
    assert found * 1e3 == pytest.approx([up, forward], abs=1e-9)


@pytest.mark.analytical
def test_a_total_without_a_clock_may_point_anywhere() -> None:
    """With the clock off by seven hours the offset is nought up and forward, each give or take R / root 2."""
    # Source: a direction evenly spread over the circle. Tolerance: seven hours still are a wrapped normal, 0.15 %.
    found, covariance = runout_offset(Runout(origin("turning", 1e-9), 0.5, 0.1e-3, 4.0, 7.0, None))
    assert found == pytest.approx([0.0, 0.0], abs=0.05e-3 * 0.0015)
    assert np.sqrt(np.diag(covariance)) == pytest.approx([0.05e-3 / math.sqrt(2.0)] * 2, rel=2e-3)


@pytest.mark.analytical
def test_an_unsure_clock_spreads_the_offset_over_an_arc() -> None:
    """With the clock off by two hours, mean and spread are those of the arc along which the offset may lie."""
    # Source: moments of a point on a circle with a normal angle, integrated here. Tolerance: the integration.
    spread = 2.0 * math.pi / 6.0
    turn = np.linspace(-8.0 * spread, 8.0 * spread, 20001)
    weight = np.exp(-0.5 * (turn / spread) ** 2)
    weight /= weight.sum()
    along, across = 0.5 * np.cos(turn), 0.5 * np.sin(turn)
    found, covariance = runout_offset(Runout(origin("turning", 0.02), 0.5, 1.0, 12.0, 2.0, None))
    assert found == pytest.approx([weight @ along, 0.0], abs=1e-9)
    variances = [weight @ along**2 - (weight @ along) ** 2, weight @ across**2]
    assert np.diag(covariance) == pytest.approx(np.array(variances) + 0.01**2, rel=1e-9)
    assert covariance[0, 1] == pytest.approx(0.0, abs=1e-12)


@pytest.mark.published
def test_a_tube_bent_a_third_of_a_degree() -> None:
    """A tube bent by 0.3 deg stands off 0.188 in after 36 in: read so, it is told as a kink of 0.3 deg in all."""
    # Source: owners' thread on a warped housing, printed 0.19 in; tan. Tolerance: its two digits.
    job = bare(72.0 * INCH)
    assert 36.0 * math.tan(math.radians(0.3)) == pytest.approx(0.188, abs=5e-4)
    values = np.zeros(len(PARAMETERS))
    # Only one tube points up: the line between the flanges takes half of it at the middle.
    values[PARAMETERS.index("offset up")] = -0.188 / 2.0 * INCH
    report = shape_report(fit_shape(job, measured(Shop(Housing(job, values)), four_points(job, 4))))
    bent = report.vertical.left.kink.value + report.vertical.right.kink.value
    assert bent == pytest.approx(0.3, abs=0.005)


@pytest.mark.published
def test_an_arc_and_a_kink_are_read_as_geometry_says() -> None:
    """1 mm over 1400 mm: flanges lean by 4 f / L = 0.1637 deg for an arc, 2 f / L = 0.0819 deg for a kink."""
    # Source: geometry. Tolerance: its last digit, and what the weak prior of 20 mm pulls.
    job = bare(1.4)
    for bows, wanted in ((0.25e-3, 0.1637), (0.0, 0.0819)):
        values = np.zeros(len(PARAMETERS))
        values[:3] = 1e-3, bows, bows
        camber = shape_report(
            fit_shape(job, measured(Shop(Housing(job, values)), four_points(job, 4)))
        ).camber
        assert camber.left.value == pytest.approx(wanted, abs=2e-4)
        assert camber.right.value == pytest.approx(wanted, abs=2e-4)


@pytest.mark.published
def test_toe_at_the_tyre() -> None:
    """24 in and 0.15 deg: 0.062832 in a wheel. 1 in in all on a 35 in tyre: 1.637 deg in all."""
    # Source: garage page on toe; a club's repair write-up (datum), angle worked out. Tolerance: the last digits.
    assert toe_at_tyre(math.radians(0.15), 24.0) == pytest.approx(0.062832, abs=1e-6)
    assert 2.0 * toe_at_tyre(math.radians(1.637 / 2.0), 35.0) == pytest.approx(1.0, abs=3e-4)


@pytest.mark.published
def test_classes_of_iso_13920() -> None:
    """At 1500 mm classes E to H allow 2, 4.5, 9 and 14 mm; a length on the border belongs to the shorter range."""
    # Source: ISO 13920:1996 table 3, E and F as read on a fabricator's page, G and H from memory.
    assert [straightness_tolerance(grade, 1.5) for grade in "EFGH"] == pytest.approx(  # type: ignore[arg-type]
        [2e-3, 4.5e-3, 9e-3, 14e-3]
    )
    assert [
        straightness_tolerance("E", at) * 1e3 for at in (0.1, 0.4, 1.0, 1.001, 4.0, 8.0)
    ] == pytest.approx([0.5, 1.0, 1.5, 2.0, 3.0, 4.0])
    for outside in (0.03, 8.001):
        with pytest.raises(ValueError, match="no straightness tolerance"):
            straightness_tolerance("E", outside)


@pytest.mark.analytical
def test_the_zone_along_the_line_between_the_ends() -> None:
    """Seven heights over the line between the first and the last lie in a zone of 0.19000 mm."""
    # Source: arithmetic, terms of ISO 12780; the end-point line from 0 to 0.02 mm. Tolerance: digits.
    y = np.array([0.0, 0.12, 0.08, 0.20, 0.05, 0.15, 0.02])
    values = y - np.linspace(0.0, y[-1], len(y))
    assert np.ptp(values) == pytest.approx(0.19000, abs=1e-5)
    # The same through the code: as many parameters as places, each its own.
    rows = np.zeros((len(y), len(PARAMETERS)))
    rows[:, : len(y)] = np.eye(len(y))
    line = Line("vertical", np.zeros(7), rows, values, np.zeros(7), np.ones(7, bool))
    axis = _Plain(np.concatenate([values, np.zeros(len(PARAMETERS) - 7)]))
    assert zone(axis, line).value == pytest.approx(0.19000, abs=1e-5)  # type: ignore[arg-type]
    turned = Line("vertical", np.zeros(7), rows, -values, np.zeros(7), np.ones(7, bool))
    assert zone(_Plain(-axis.values), turned).value == pytest.approx(-0.19000, abs=1e-5)  # type: ignore[arg-type]


class _Plain:
    """Parameters without a housing."""

    span = Span(0.7, 0.0, 0.1)

    def __init__(self, values: np.ndarray) -> None:
        self.values = values

    def read(self, rows: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        return rows @ self.values, np.full(len(rows), 1e-6)
