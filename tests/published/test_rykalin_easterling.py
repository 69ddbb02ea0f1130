"""Cooling times and peak temperatures beside a fast run.

Rykalin, Calculation of Heat Flow in Welding, 1951; Easterling, Introduction to the Physical Metallurgy of
Welding, 1992. Formulas from memory of both, not re-read; expected values computed from them apart from this
package, for 0.528 kJ/mm net, 41 W/mK, 4.5e6 J/m3K, 20 degC.
"""

from __future__ import annotations

import pytest
from scipy.optimize import brentq

from axlewright.weld.cooling import t85_thick, t85_thin, transition_thickness
from axlewright.weld.near_zone import peak_temperature_thick, peak_temperature_thin, rosenthal_thin

HEAT, PREHEAT = 528.0e3, 20.0
POWER, SPEED = 3168.0, 0.006


@pytest.mark.published
def test_t85_on_thick_plate() -> None:
    """A thick plate cools from 800 to 500 degC in 1.642 s (printed to 0.1 per cent)."""
    assert t85_thick(HEAT, PREHEAT) == pytest.approx(1.642, rel=1e-3)


@pytest.mark.published
@pytest.mark.parametrize(("thickness", "expected"), [(6.0e-3, 9.007), (9.5e-3, 3.593)])
def test_t85_on_thin_plate(thickness: float, expected: float) -> None:
    """A thin plate cools from 800 to 500 degC in 9.007 s at 6 mm and 3.593 s at 9.5 mm (to 0.1 per cent)."""
    assert t85_thin(HEAT, thickness, PREHEAT) == pytest.approx(expected, rel=1e-3)


@pytest.mark.published
@pytest.mark.parametrize(("thickness", "exact"), [(6.0e-3, 9.005), (9.5e-3, 3.587)])
def test_t85_on_thin_plate_against_the_full_solution(thickness: float, exact: float) -> None:
    """The full thin-plate field gives the exact time; the short formula is within 0.2 per cent of it."""

    def time_at(temperature: float) -> float:
        def excess(behind: float) -> float:
            return float(rosenthal_thin(POWER, SPEED, thickness, -behind, 0.0)) - temperature

        return float(brentq(excess, 1e-4, 0.5)) / SPEED

    full = time_at(500.0) - time_at(800.0)
    assert full == pytest.approx(exact, abs=6e-4)  # printed to 1 ms
    assert t85_thin(HEAT, thickness, PREHEAT) == pytest.approx(full, rel=2e-3)


@pytest.mark.published
def test_transition_thickness() -> None:
    """Thick and thin plate cool alike at 14.05 mm (to 0.1 per cent), where the two formulas agree."""
    thickness = transition_thickness(HEAT, PREHEAT)
    assert thickness * 1e3 == pytest.approx(14.05, rel=1e-3)
    assert t85_thin(HEAT, thickness, PREHEAT) == pytest.approx(t85_thick(HEAT, PREHEAT), rel=1e-9)


@pytest.mark.published
def test_peak_temperatures() -> None:
    """A fast run peaks at 783.3 degC 6 mm away on thick plate, 318.9 degC 10 mm away on 9.5 mm (0.5 degC)."""
    assert float(peak_temperature_thick(HEAT, 6e-3)) == pytest.approx(783.3, abs=0.5)
    assert float(peak_temperature_thin(HEAT, 9.5e-3, 10e-3)) == pytest.approx(318.9, abs=0.5)
