"""Fillet weld strength by EN 1993-1-8:2005, clauses 4.5.3.2 and 4.5.3.3.

Formulas, correlation factors and strengths read on public pages; expected values computed from them apart
from this package.
"""

from __future__ import annotations

from math import sqrt

import pytest

from axlewright.weld.steel import steel
from axlewright.weld.strength import (
    directional_utilisation,
    tee_throat_stress,
    weld_resistance,
    weld_shear_strength,
)


@pytest.mark.published
@pytest.mark.parametrize(
    ("grade", "ultimate", "factor", "strength"),
    [("S235", 360, 0.80, 207.85), ("S275", 430, 0.85, 233.66), ("S355", 490, 0.90, 251.47)],
)
def test_simplified_strength(grade: str, ultimate: float, factor: float, strength: float) -> None:
    """S235, S275 and S355 carry 207.85, 233.66 and 251.47 MPa in the throat (tolerance 0.05)."""
    plate = steel(grade)
    assert plate.ultimate * 1e-6 == pytest.approx(ultimate)
    assert plate.correlation_factor == factor
    found = weld_shear_strength(plate.ultimate, plate.correlation_factor)
    assert found * 1e-6 == pytest.approx(strength, abs=0.05)


@pytest.mark.published
def test_yield_strength_is_the_name() -> None:
    """The grade names its yield strength in MPa (EN 1993-1-1 table 3.1, to 40 mm)."""
    for grade in ("S235", "S275", "S355"):
        assert steel(grade).yield_strength == pytest.approx(float(grade[1:]) * 1e6)


@pytest.mark.published
def test_two_side_fillets() -> None:
    """Two fillets of throat 4 mm and 120 mm length in S235 carry 199.5 kN (tolerance 0.1)."""
    assert 2.0 * weld_resistance(4e-3, 0.120, steel("S235")) * 1e-3 == pytest.approx(199.5, abs=0.1)


@pytest.mark.published
def test_directional_method_on_a_tee() -> None:
    """200 kN across two fillets a5 L100 in S355: 141.4 MPa each way, 0.649 used, simplified 0.795."""
    plate = steel("S355")
    normal, across = tee_throat_stress(200e3, 5e-3, 0.100)
    assert normal * 1e-6 == pytest.approx(141.4, abs=0.05)
    assert across * 1e-6 == pytest.approx(141.4, abs=0.05)
    used = float(directional_utilisation(normal, across, 0.0, plate))
    simple = 200e3 / (2.0 * weld_resistance(5e-3, 0.100, plate))
    assert used == pytest.approx(0.649, abs=0.001)
    assert simple == pytest.approx(0.795, abs=0.001)
    assert simple / used == pytest.approx(sqrt(1.5), rel=1e-9)


@pytest.mark.published
def test_directional_method_along_the_weld() -> None:
    """Pure shear along the weld is used as much by the directional as by the simplified method."""
    plate = steel("S275")
    strength = weld_shear_strength(plate.ultimate, plate.correlation_factor)
    assert float(directional_utilisation(0.0, 0.0, strength, plate)) == pytest.approx(1.0, rel=1e-12)


@pytest.mark.published
def test_normal_stress_has_its_own_limit() -> None:
    """A throat under pure normal stress of either sign is used up at 0.9 f_u / gamma_M2."""
    plate = steel("S355")
    limit = 0.9 * 490e6 / 1.25
    assert float(directional_utilisation(limit, 0.0, 0.0, plate)) == pytest.approx(1.0, rel=1e-12)
    assert float(directional_utilisation(-limit, 0.0, 0.0, plate)) == pytest.approx(1.0, rel=1e-12)
