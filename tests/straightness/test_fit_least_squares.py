"""The solver behind the fit, held against certified and hand values."""

from __future__ import annotations

import numpy as np
import pytest

from axlewright.straightness.fit.least_squares import least_squares

# NIST Statistical Reference Datasets, linear regression, "Norris" (ozone monitors), 36 observations: y, x. Written from
# memory; that all three certified values come out is the proof that it is the certified set.
NORRIS = """
0.1 0.2 | 338.8 337.4 | 118.1 118.2 | 888.0 884.6 | 9.2 10.1 | 228.1 226.5 | 668.5 666.3 | 998.5 996.3 | 449.1 448.6
778.9 777.0 | 559.2 558.2 | 0.3 0.4 | 0.1 0.6 | 778.1 775.5 | 668.8 666.9 | 339.3 338.0 | 448.9 447.5 | 10.8 11.6
557.7 556.0 | 228.3 228.1 | 998.0 995.8 | 888.8 887.6 | 119.6 120.2 | 0.3 0.3 | 0.6 0.3 | 557.6 556.8 | 339.3 339.1
888.0 887.2 | 998.5 999.0 | 778.9 779.0 | 10.2 11.1 | 117.6 118.3 | 228.9 229.2 | 668.4 669.1 | 449.2 448.9 | 0.2 0.5
"""


@pytest.mark.published
def test_the_solver_meets_the_certified_line_of_norris() -> None:
    """Slope, intercept, both standard deviations and the sum of squares agree with the certified ten digits."""
    # Source: NIST StRD, Norris. Tolerance: 1e-10 relative, the certificate has 15 digits.
    pairs = NORRIS.replace("|", "\n").split("\n")
    y, x = np.array([[float(one) for one in pair.split()] for pair in pairs if pair.strip()]).T
    assert len(x) == 36
    found = least_squares(np.column_stack([np.ones_like(x), x]), y)
    squares = found.residuals @ found.residuals
    assert found.values == pytest.approx([-0.262323073774029, 1.00211681802045], rel=1e-10)
    assert squares == pytest.approx(26.6173985294224, rel=1e-10)
    deviations = np.sqrt(np.diag(found.covariance) * squares / 34)
    assert deviations == pytest.approx([0.232818234301152, 0.429796848199937e-3], rel=1e-10)


@pytest.mark.analytical
def test_a_line_through_seven_readings() -> None:
    """The least-squares line through seven heights and the width of the zone along it are those worked out by hand."""
    # Source: arithmetic with the terms of ISO 12780 (peak to valley about the least-squares line). Tolerance: digits.
    x = np.arange(0.0, 1201.0, 200.0)
    y = np.array([0.0, 0.12, 0.08, 0.20, 0.05, 0.15, 0.02])
    found = least_squares(np.column_stack([np.ones_like(x), x]), y)
    assert found.values[1] == pytest.approx(1.607e-5, abs=5e-9)
    assert np.ptp(found.residuals) == pytest.approx(0.19036, abs=1e-5)


@pytest.mark.analytical
def test_the_solver_keeps_digits_where_normal_equations_lose_them() -> None:
    """Columns that are nearly alike, as a long lever's are, still give the solution they were made from."""
    # Source: Lauchli's matrix; its normal equations are singular in double precision. Tolerance: condition 1e7 x 1e-16.
    small = 1e-7
    rows = np.vstack([np.ones((1, 3)), small * np.eye(3)])
    wanted = np.array([1.0, -2.0, 3.0])
    assert least_squares(rows, rows @ wanted).values == pytest.approx(wanted, abs=1e-7)


def test_an_unknown_in_no_row_is_refused() -> None:
    """A column of noughts is an error of ours, not a division by nought."""
    with pytest.raises(np.linalg.LinAlgError):
        least_squares(np.array([[1.0, 0.0], [2.0, 0.0]]), np.ones(2))
