"""Hot steel by EN 1993-1-2:2005, section 3.

First branch of the specific heat and the reduction factors of table 3.1 were read in open-source code that
quotes the standard; conductivity, strain and the other branches are from memory.
"""

from __future__ import annotations

import pytest

from axlewright.weld.steel import DENSITY, conductivity, heat_capacity, reduction_factors, thermal_strain

#: degC, conductivity, specific heat, strain x 1000, k_y, k_p, k_E.
TABLE = [
    (20, 53.33, 439.8, 0.0, 1.0, 1.0, 1.0),
    (200, 47.34, 529.8, 2.318, 1.0, 0.807, 0.9),
    (400, 40.68, 605.9, 5.198, 1.0, 0.42, 0.7),
    (500, 37.35, 666.5, 6.758, 0.78, 0.36, 0.6),
    (600, 34.02, 760.2, 8.398, 0.47, 0.18, 0.31),
    (700, 30.69, 1008.2, 10.118, 0.23, 0.075, 0.13),
    (800, 27.3, 803.3, 11.0, 0.11, 0.05, 0.09),
    (1000, 27.3, 650.0, 13.8, 0.04, 0.025, 0.045),
]


@pytest.mark.published
@pytest.mark.parametrize("row", TABLE)
def test_properties(row: tuple[float, ...]) -> None:
    """Conductivity, specific heat, strain and reduction factors agree to the digits printed."""
    hot, lam, c, strain, *factors = row
    assert float(conductivity(hot)) == pytest.approx(lam, abs=0.006)
    assert float(heat_capacity(hot)) == pytest.approx(c, abs=0.06)
    assert float(thermal_strain(hot)) * 1e3 == pytest.approx(strain, abs=6e-4)
    assert [float(k) for k in reduction_factors(hot)] == pytest.approx(factors, abs=1e-12)


@pytest.mark.published
def test_the_peak_of_the_phase_change() -> None:
    """Specific heat peaks at 735 degC with 5000 J/kgK from both sides; just below, 29.5 W/mK, 10.74e-3."""
    assert float(heat_capacity(735.0)) == pytest.approx(5000.0, abs=1e-6)
    assert float(heat_capacity(735.0 - 1e-6)) == pytest.approx(5000.0, abs=0.01)
    assert float(conductivity(734.9)) == pytest.approx(29.5, abs=0.06)
    assert float(thermal_strain(734.9)) * 1e3 == pytest.approx(10.74, abs=0.006)


@pytest.mark.published
def test_beyond_the_phase_change() -> None:
    """Branches rule up to their borders: 545 + 17820/19 at 750 degC, 650 at 920, strain 0.0118 at 900."""
    assert float(heat_capacity(750.0)) == pytest.approx(545.0 + 17820.0 / 19.0, rel=1e-12)
    assert float(heat_capacity(920.0)) == 650.0
    assert float(thermal_strain(900.0)) == pytest.approx(0.0118, rel=1e-12)


@pytest.mark.published
def test_rows_of_table_3_1_between() -> None:
    """The other rows are those of table 3.1, too; between rows lines are straight."""
    assert [float(k) for k in reduction_factors(100.0)] == [1.0, 1.0, 1.0]
    assert [float(k) for k in reduction_factors(300.0)] == [1.0, 0.613, 0.8]
    assert [float(k) for k in reduction_factors(900.0)] == [0.06, 0.0375, 0.0675]
    assert [float(k) for k in reduction_factors(1100.0)] == [0.02, 0.0125, 0.0225]
    assert [float(k) for k in reduction_factors(1200.0)] == [0.0, 0.0, 0.0]
    assert [float(k) for k in reduction_factors(150.0)] == pytest.approx([1.0, 0.9035, 0.95])
    assert [float(k) for k in reduction_factors(450.0)] == pytest.approx([0.89, 0.39, 0.65])


@pytest.mark.published
def test_density() -> None:
    """Density is 7850 kg/m3 at every temperature (clause 3.2.2)."""
    assert DENSITY == 7850.0
