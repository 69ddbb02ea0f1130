"""Steady temperature about a moving arc.

Rosenthal, "Mathematical Theory of Heat Distribution during Welding and Cutting", Welding Journal 20 (1941)
(thin plate: formula from memory) and "The Theory of Moving Sources of Heat and Its Application to Metal
Treatments", Transactions of the ASME 68 (1946) (thick plate: formula read). Expected values were computed
from those formulas apart from this package, for 22 V, 180 A, 6 mm/s, k = 0.8; 41 W/mK; 4.5e6 J/m3K; 20 degC.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from axlewright.weld.near_zone import rosenthal_thick, rosenthal_thin

POWER, SPEED = 22.0 * 180.0 * 0.8, 0.006
#: Values are given to 0.1 degC.
PRINTED = 0.1


@pytest.mark.published
@pytest.mark.parametrize(
    ("ahead", "aside", "expected"),
    [(-10, 0, 1249.8), (-20, 0, 634.9), (0, 5, 494.1), (-5, 5, 899.4), (5, 0, 111.4)],
)
def test_thick_plate(ahead: float, aside: float, expected: float) -> None:
    """Temperature about an arc on a thick plate follows Rosenthal 1946."""
    found = rosenthal_thick(POWER, SPEED, ahead * 1e-3, aside * 1e-3)
    assert float(found) == pytest.approx(expected, abs=PRINTED)


@pytest.mark.published
def test_depth_counts_as_distance_to_the_side() -> None:
    """On a thick plate 5 mm below the arc is as hot as 5 mm beside it."""
    assert float(rosenthal_thick(POWER, SPEED, 0.0, 0.0, 5e-3)) == pytest.approx(494.1, abs=PRINTED)


@pytest.mark.published
@pytest.mark.parametrize(
    ("thickness", "ahead", "aside", "expected"),
    [(6.0, -20, 0, 1003.4), (6.0, -30, 5, 720.0), (9.5, -20, 0, 641.1), (9.5, -30, 5, 462.1)],
)
def test_thin_plate(thickness: float, ahead: float, aside: float, expected: float) -> None:
    """Temperature about an arc on a thin plate follows Rosenthal 1941."""
    found = rosenthal_thin(POWER, SPEED, thickness * 1e-3, ahead * 1e-3, aside * 1e-3)
    assert float(found) == pytest.approx(expected, abs=PRINTED)


@pytest.mark.published
def test_peak_at_six_millimetres_on_thick_plate() -> None:
    """At 6 mm beside the arc the thick plate peaks at 662.5 degC, 6.78 mm behind it."""
    peak = minimize_scalar(
        lambda x: -float(rosenthal_thick(POWER, SPEED, x, 6e-3)), bounds=(-0.03, 0.0), options={"xatol": 1e-9}
    )
    assert -peak.fun == pytest.approx(662.5, abs=PRINTED)
    assert peak.x * 1e3 == pytest.approx(-6.78, abs=0.01)


@pytest.mark.published
def test_peak_at_ten_millimetres_on_thin_plate() -> None:
    """At 10 mm beside the arc a 9.5 mm plate peaks at 312.6 degC."""
    behind = -np.linspace(0.0, 0.1, 20001)
    peak = rosenthal_thin(POWER, SPEED, 9.5e-3, behind, 10e-3).max()
    assert peak == pytest.approx(312.6, abs=PRINTED)
