"""Shrinkage and heat input of the Okerblom and Nikolaev school.

Okerblom, The Calculations of Deformations of Welded Metal Structures, 1958, and the textbooks after it. All
from memory, not re-read; expected values computed from the stated formulas.
"""

from __future__ import annotations

import pytest

from axlewright.weld.bead import energy_from_leg, leg_from_energy
from axlewright.weld.shrinkage import (
    flange_share,
    okerblom_shrinkage_volume,
    tendon_force,
    transverse_shrinkage,
)

STEEL = 7850.0


@pytest.mark.published
@pytest.mark.parametrize(("specific_heat", "pull"), [(600.0, 0.181), (650.0, 0.165)])
def test_shrinkage_volume_as_a_pull(specific_heat: float, pull: float) -> None:
    """E times the shrinkage volume is 0.165 to 0.181 kN per J/mm (1.2 per cent: rounded constants)."""
    volume = okerblom_shrinkage_volume(1.0, volumetric_heat_capacity=specific_heat * STEEL)
    assert 210e9 * volume == pytest.approx(pull, rel=0.012)


@pytest.mark.published
def test_shrinkage_volume_per_joule() -> None:
    """The shrinkage volume is about 0.86e-3 mm3/J; the default constants stay within 5 per cent of that."""
    assert okerblom_shrinkage_volume(1.0) * 1e12 == pytest.approx(0.86, rel=0.05)


@pytest.mark.published
def test_two_schools_agree() -> None:
    """Okerblom's pull at 600 J/kgK is 10 per cent below the tendon force (0.179 against 0.2)."""
    pull = 210e9 * okerblom_shrinkage_volume(528.0e3, volumetric_heat_capacity=600.0 * STEEL)
    assert pull / tendon_force(528.0e3) == pytest.approx(0.9, abs=0.01)


@pytest.mark.published
def test_transverse_shrinkage_from_energy() -> None:
    """0.528 kJ/mm shrinks a 9.5 mm plate by 0.136 mm; a T-fillet's flange by 0.091 mm (printed to 1 um)."""
    plate = transverse_shrinkage(528.0e3, 9.5e-3)
    assert plate * 1e3 == pytest.approx(0.136, abs=6e-4)
    assert plate * flange_share(9.5e-3, 9.5e-3) * 1e3 == pytest.approx(0.091, abs=6e-4)


@pytest.mark.published
@pytest.mark.parametrize(
    ("leg", "process", "expected"),
    [(5e-3, 121, 750.0), (5e-3, 111, 1000.0), (6e-3, 121, 1080.0), (6e-3, 111, 1440.0)],
)
def test_heat_of_a_leg(leg: float, process: int, expected: float) -> None:
    """A 5 mm leg takes 750 J/mm submerged and 1000 by stick, 6 mm 1080 and 1440; and back again."""
    assert energy_from_leg(leg, process) * 1e-3 == pytest.approx(expected, rel=1e-9)
    assert leg_from_energy(expected * 1e3, process) == pytest.approx(leg, rel=1e-9)
