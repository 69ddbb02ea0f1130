"""Half first: which lines that is, and how sure one may be of what comes after each stage."""

from __future__ import annotations

import numpy as np
import pytest
from lines_written import LIMITS, READ, bare_housing

from axlewright.solid.mesh import Floats
from axlewright.straightness.axis import PARAMETERS, AxisFit, span_of
from axlewright.straightness.correct.aims import aims_of
from axlewright.straightness.correct.stages import LINE_SCATTER, MOST_TRIED, Forecast, first_half, outcomes

JOB = bare_housing(straightness=LIMITS)


def lifting(*pulls: float) -> Floats:
    """Lines that lift the centre by so much each and do nothing else, shape (n, 11) [m]."""
    found = np.zeros((len(pulls), len(PARAMETERS)))
    found[:, 0] = pulls
    return found


def forecast(effects: Floats, spread: float, covariance: Floats | None = None) -> Forecast:
    """Lines on a housing bent down by 1 mm, known for sure unless wanted otherwise."""
    values = np.zeros(len(PARAMETERS))
    values[0] = -1e-3
    sure = np.zeros_like(READ) if covariance is None else covariance
    return Forecast(AxisFit(span_of(JOB), values, sure), effects, spread)


@pytest.mark.analytical
@pytest.mark.parametrize("spread", [0.08, 0.26, 0.40])
def test_the_band_after_lines_holds_nine_cases_of_ten(spread: float) -> None:
    """Drawn factor by factor, nine in ten bows fall within the band told for when all is done."""
    # The factor is log-normal, the band is of a normal with nearly its variance: 2 % beside the 0.2 % of 20000 draws.
    lines = lifting(0.3e-3, 0.4e-3, 0.2e-3)
    told = next(
        one for one in outcomes(JOB, forecast(lines, spread), np.array([0])) if one.name == "bow up"
    ).done
    chance = np.random.default_rng(3)
    factor = np.exp(spread * chance.standard_normal(20000))
    single = 1.0 + LINE_SCATTER * chance.standard_normal((20000, 3))
    bows = -1e-3 + factor * (single @ lines[:, 0])
    assert ((bows >= told.low) & (bows <= told.high)).mean() == pytest.approx(0.90, abs=0.02)
    assert told.value == pytest.approx(-0.1e-3)


@pytest.mark.analytical
def test_errors_of_reading_stay_in_the_outcome() -> None:
    """Lines that do nothing leave figure and band as they are; weak ones add variances, not widths."""
    axis = forecast(lifting(0.0), 0.26, READ)
    np.testing.assert_allclose(axis.after(np.array([0])).covariance, READ, rtol=1e-12)
    both = forecast(lifting(0.1e-3), 0.26, READ).after(np.array([0])).covariance[0, 0]
    own = np.expm1(0.26**2) + LINE_SCATTER**2
    assert both == pytest.approx(READ[0, 0] + 1e-8 * own, rel=1e-12)


@pytest.mark.analytical
def test_lines_that_are_sure_keep_the_limits_for_sure() -> None:
    """Without any spread the chance is that of the reading alone: one half where the figure lies on its limit."""
    aims = tuple(aim for aim in aims_of(JOB, forecast(lifting(0.0), 0.0).axis) if aim.name == "bow up")
    well = forecast(lifting(1e-3), 1e-6)
    assert well.inside(aims) == 1.0
    # Bow right at its limit of 0.6 mm after a line of 0.4 mm; scatter of the line and of the reading are even about it.
    edge = forecast(lifting(0.4e-3), 1e-6, READ)
    assert edge.inside(aims) == pytest.approx(0.5, abs=0.03)
    # One standard deviation of reading, 0.05 mm, below its limit: 84 of 100 (normal distribution).
    near = np.zeros(len(PARAMETERS))
    near[0] = -0.55e-3
    below = Forecast(AxisFit(edge.axis.span, near, READ), lifting(0.0), 0.26)
    assert below.inside(aims) == pytest.approx(0.841, abs=0.03)


@pytest.mark.analytical
def test_the_first_half_does_half_of_everything() -> None:
    """Of two pairs that do different things, one of each pair comes first; an odd line counts to the first half."""
    pairs = np.zeros((4, len(PARAMETERS)))
    pairs[[0, 1], 0] = 1e-3
    pairs[[2, 3], 5] = 1e-3
    first = set(first_half(pairs).tolist())
    assert len(first & {0, 1}) == len(first & {2, 3}) == 1
    uneven = lifting(3.0, 1.0, 2.1, 1.9)
    assert uneven[first_half(uneven), 0].sum() == pytest.approx(4.0)
    assert len(first_half(lifting(1e-3, 1e-3, 1e-3))) == 2
    assert first_half(lifting(3e-3, 1e-3, 1e-3, 1e-3)).tolist() in ([0, 1], [1, 2], [0, 2], [0, 3])
    assert first_half(lifting(1e-3)).tolist() == [0]


@pytest.mark.analytical
def test_many_lines_are_halved_alternately() -> None:
    """Beyond what can be tried in full every other line comes first."""
    many = MOST_TRIED + 4
    assert first_half(lifting(*[1e-3] * many)).tolist() == list(range(0, many, 2))
