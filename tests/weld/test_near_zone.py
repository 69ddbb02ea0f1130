"""Fields about the arc: limits, symmetry, and heat that must be conserved."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from axlewright.weld.near_zone import (
    peak_temperature_thick,
    peak_temperature_thin,
    rosenthal_thick,
    rosenthal_thin,
)


@pytest.mark.analytical
def test_heat_through_a_section_far_behind_on_thin_plate() -> None:
    """Far behind the arc a thin plate stores the net heat input per length (1e-3: fast source)."""
    power, speed, thickness = 3168.0, 0.006, 6e-3
    across = np.linspace(-0.5, 0.5, 20001)
    rise = rosenthal_thin(power, speed, thickness, -1.0, across) - 20.0
    stored = 4.5e6 * thickness * np.trapezoid(rise, across)
    assert stored == pytest.approx(power / speed, rel=1e-3)


@pytest.mark.analytical
def test_thick_plate_on_the_line_behind_the_arc() -> None:
    """Straight behind the arc the rise is q / (2 pi lambda r), whatever the speed."""
    for speed in (0.003, 0.012):
        rise = float(rosenthal_thick(3168.0, speed, -0.01, 0.0)) - 20.0
        assert rise == pytest.approx(3168.0 / (2.0 * np.pi * 41.0 * 0.01), rel=1e-12)


@pytest.mark.analytical
@given(ahead=st.floats(-0.05, 0.02), aside=st.floats(1e-3, 0.05))
def test_both_sides_are_alike(ahead: float, aside: float) -> None:
    """Left and right of the run are equally hot, and never colder than the plate was."""
    thick = rosenthal_thick(3168.0, 0.006, ahead, np.array([aside, -aside]))
    thin = rosenthal_thin(3168.0, 0.006, 6e-3, ahead, np.array([aside, -aside]))
    assert thick[0] == thick[1] >= 20.0
    assert thin[0] == thin[1] >= 20.0


@pytest.mark.analytical
def test_fast_source_peaks_meet_the_moving_source_far_from_slow_arcs() -> None:
    """For a fast arc the closed-form peak meets the highest value of the field (0.1 per cent at 100 mm/s)."""
    speed, heat, aside = 0.1, 3e5, 6e-3
    behind = -np.linspace(0.0, 2.0, 200001)
    thick = rosenthal_thick(heat * speed, speed, behind, aside).max()
    thin = rosenthal_thin(heat * speed, speed, 6e-3, behind, aside).max()
    assert float(peak_temperature_thick(heat, aside)) == pytest.approx(thick, rel=0.01)
    assert float(peak_temperature_thin(heat, 6e-3, aside)) == pytest.approx(thin, rel=1e-3)


@pytest.mark.analytical
def test_far_ahead_nothing_overflows() -> None:
    """A metre ahead of or behind the arc the thin-plate field is finite and sensible."""
    ahead, behind = rosenthal_thin(3168.0, 0.006, 6e-3, np.array([1.0, -1.0]), 0.0)
    assert ahead == pytest.approx(20.0, abs=1e-9)
    assert 20.0 < behind < 400.0
