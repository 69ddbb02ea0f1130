"""Heat input and thermal efficiency by EN 1011-1 and ISO/TR 17671-1.

Factors read on a steelmaker's support page and a gas association's page, both titled "Heat input"; the
formula is from memory of the standards.
"""

from __future__ import annotations

import pytest

from axlewright.weld.arc import arc_efficiency, heat_input


@pytest.mark.published
@pytest.mark.parametrize(
    ("process", "factor"),
    [(111, 0.8), (131, 0.8), (135, 0.8), (136, 0.8), (138, 0.8), (141, 0.6), (121, 1.0)],
)
def test_thermal_efficiency(process: int, factor: float) -> None:
    """Stick and all gas-shielded metal arc processes have 0.8, TIG 0.6, submerged arc 1.0 (exact)."""
    assert arc_efficiency(process) == factor


@pytest.mark.published
@pytest.mark.parametrize(
    ("volts", "amps", "speed", "expected"), [(22.0, 180.0, 6.0e-3, 0.528), (24.0, 200.0, 0.3 / 60.0, 0.768)]
)
def test_heat_input(volts: float, amps: float, speed: float, expected: float) -> None:
    """22 V, 180 A at 6 mm/s give 0.528 kJ/mm; 24 V, 200 A at 300 mm/min give 0.768 (exact)."""
    assert heat_input(volts, amps, speed, 0.8) * 1e-6 == pytest.approx(expected, rel=1e-12)
