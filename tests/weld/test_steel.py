"""Steel and castings: continuity, and the constants used for weld heat and stiffness."""

from __future__ import annotations

import numpy as np
import pytest

from axlewright.weld.steel import (
    MEAN_CONDUCTIVITY,
    MEAN_VOLUMETRIC_HEAT_CAPACITY,
    casting,
    conductivity,
    heat_capacity,
    steel,
    thermal_strain,
)


@pytest.mark.analytical
@pytest.mark.parametrize("border", [600.0, 735.0, 900.0])
def test_specific_heat_is_continuous(border: float) -> None:
    """Branches of the specific heat meet within 2 J/kgK (the standard rounds its coefficients)."""
    below, above = heat_capacity([border - 1e-7, border + 1e-7])
    assert below == pytest.approx(above, abs=2.0)


@pytest.mark.analytical
def test_strain_is_continuous_and_flat_in_the_phase_change() -> None:
    """Branches of the strain meet, and between 750 and 860 degC steel does not grow."""
    assert float(thermal_strain(749.999)) == pytest.approx(0.011, abs=1e-5)
    assert float(thermal_strain(800.0)) == float(thermal_strain(860.0)) == 0.011
    assert float(thermal_strain(860.001)) == pytest.approx(0.011, abs=1e-5)


@pytest.mark.analytical
def test_properties_are_held_beyond_the_range() -> None:
    """Below 20 and above 1200 degC the end values hold."""
    for formula in (conductivity, heat_capacity, thermal_strain):
        cold, edge, hot, top = formula([-20.0, 20.0, 1500.0, 1200.0])
        assert (cold, hot) == (edge, top)


@pytest.mark.analytical
def test_mean_conductivity_is_a_mean_of_the_standard() -> None:
    """The constants used near the arc lie within the standard's range from 20 to 1200 degC."""
    hot = np.linspace(20.0, 1200.0, 500)
    assert conductivity(hot).min() < MEAN_CONDUCTIVITY < conductivity(hot).max()
    assert 7850.0 * 440.0 < MEAN_VOLUMETRIC_HEAT_CAPACITY < 7850.0 * float(heat_capacity(hot).mean())


@pytest.mark.published
def test_elastic_constants() -> None:
    """Steel has 210 GPa, 0.3 and 12e-6 per K (EN 1993-1-1:2005 3.2.6), cast steel the same."""
    for found in (steel("S355"), casting("steel")):
        assert (found.youngs, found.poisson, found.expansion) == (210e9, 0.3, 12e-6)


@pytest.mark.published
def test_nodular_iron() -> None:
    """Nodular iron has 169 GPa, 0.275, 12.5e-6 per K (EN 1563, from memory); unknown is no stiffer."""
    iron = casting("nodular iron")
    assert (iron.youngs, iron.poisson, iron.expansion) == (169e9, 0.275, 12.5e-6)
    unknown = casting("unknown")
    assert (unknown.poisson, unknown.expansion) == (iron.poisson, iron.expansion)
    assert unknown.youngs == min(iron.youngs, casting("steel").youngs)
