"""Surface loss: limits and the price of making it linear."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.constants import Stefan_Boltzmann

from axlewright.weld.surface_loss import (
    air,
    convection_coefficient,
    linearisation_error,
    radiation_coefficient,
    surface_loss,
)

TUBE = 88.9e-3


@pytest.mark.analytical
@given(skin=st.floats(-20.0, 500.0), ambient=st.floats(-20.0, 40.0), emissivity=st.floats(0.05, 1.0))
def test_radiation_is_stefan_boltzmann(skin: float, ambient: float, emissivity: float) -> None:
    """Coefficient times difference is emissivity times sigma times the difference of fourth powers."""
    flux = float(radiation_coefficient(skin, ambient, emissivity)) * (skin - ambient)
    exact = emissivity * Stefan_Boltzmann * ((skin + 273.15) ** 4 - (ambient + 273.15) ** 4)
    assert flux == pytest.approx(exact, rel=1e-9, abs=1e-9)


@pytest.mark.analytical
def test_still_air_conducts() -> None:
    """With no difference of temperature Churchill and Chu leave Nu = 0.36: 0.6 squared."""
    h = float(convection_coefficient(26.85, 26.85, TUBE))
    assert h * TUBE / float(air(26.85).conductivity) == pytest.approx(0.36, rel=1e-12)


@pytest.mark.analytical
def test_loss_is_made_linear_at_the_stated_skin() -> None:
    """The secant coefficient is exact where it was taken, too small above and too large below."""
    skin = np.array([40.0, 80.0, 160.0])
    ratio = linearisation_error(skin, 80.0, 20.0, TUBE)
    assert ratio[1] == pytest.approx(1.0, rel=1e-12)
    assert ratio[0] > 1.05
    assert ratio[2] < 0.95
    flux = surface_loss(skin, 20.0, TUBE) * (skin - 20.0)
    np.testing.assert_allclose(ratio, surface_loss(80.0, 20.0, TUBE) * (skin - 20.0) / flux, rtol=1e-12)


@pytest.mark.regression
@pytest.mark.parametrize(
    ("skin", "ratio"), [(30.0, 1.42), (40.0, 1.27), (60.0, 1.10), (100.0, 0.92), (150.0, 0.77)]
)
def test_error_quoted_in_the_manual(skin: float, ratio: float) -> None:
    """The ratios printed in the manual for a coefficient taken at 80 degC are what the code gives."""
    assert float(linearisation_error(skin, 80.0, 20.0, TUBE)) == pytest.approx(ratio, abs=0.006)


@pytest.mark.analytical
def test_emissivity_counts() -> None:
    """Ground bright steel at 0.25 radiates a quarter of a black body, and convects the same."""
    black, bright = (float(surface_loss(100.0, 20.0, TUBE, e)) for e in (1.0, 0.25))
    convection = float(convection_coefficient(100.0, 20.0, TUBE))
    assert float(radiation_coefficient(100.0, 20.0)) == pytest.approx(0.8 * (black - convection), rel=1e-12)
    assert bright - convection == pytest.approx(0.25 * (black - convection), rel=1e-12)


@pytest.mark.published
@pytest.mark.parametrize(
    ("kelvin", "viscosity", "conductivity", "prandtl"),
    [
        (250.0, 11.44, 22.3, 0.720),
        (275.0, 13.665, 24.3, 0.7135),
        (300.0, 15.89, 26.3, 0.707),
        (350.0, 20.92, 30.0, 0.700),
        (400.0, 26.41, 33.8, 0.690),
        (450.0, 32.39, 37.3, 0.686),
        (500.0, 38.79, 40.7, 0.684),
        (550.0, 45.57, 43.9, 0.683),
        (600.0, 52.69, 46.9, 0.685),
        (700.0, 68.10, 52.4, 0.695),
        (800.0, 84.93, 57.3, 0.709),
    ],
)
def test_air(kelvin: float, viscosity: float, conductivity: float, prandtl: float) -> None:
    """Air is that of Incropera and DeWitt, table A.4, from memory (exact at its rows and half-way)."""
    found = air(kelvin - 273.15)
    assert float(found.viscosity) * 1e6 == pytest.approx(viscosity, rel=1e-9)
    assert float(found.conductivity) * 1e3 == pytest.approx(conductivity, rel=1e-9)
    assert float(found.prandtl) == pytest.approx(prandtl, rel=1e-9)
