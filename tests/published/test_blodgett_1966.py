"""Blodgett, Design of Welded Structures, 1966, section 7.7: control of shrinkage and distortion.

Formulas from memory, except the butt rule, which was read in a contractor's public method statement. That
statement's printed table does not follow from its own formula (0.98 mm printed, 0.57 computed for a 10 mm
plate), so only the formula is used. Expected values computed from the formulas apart from this package.
"""

from __future__ import annotations

from math import pi

import pytest

from axlewright.weld.bow import blodgett_bow, equivalent_tendon_force, tendon_bow
from axlewright.weld.shrinkage_rules import blodgett_flange_angular, butt_transverse_blodgett

#: Tube 88.9 x 9.5 mm.
SECOND_MOMENT = pi / 64.0 * (88.9e-3**4 - 69.9e-3**4)
INCH = 0.0254


@pytest.mark.published
def test_bow_of_a_tube() -> None:
    """A 5 mm fillet on the crown of a 1 m tube 88.9 x 9.5 bows it 1.467 mm (printed to 1 um)."""
    bow = blodgett_bow(12.5e-6, 44.45e-3, 1.0, SECOND_MOMENT)
    assert bow * 1e3 == pytest.approx(1.467, abs=6e-4)


@pytest.mark.published
def test_bow_rule_is_a_tendon_in_disguise() -> None:
    """Blodgett's bow is that of a tendon of 8.40 kN per mm2 of weld (exact)."""
    assert equivalent_tendon_force(1e-6) == pytest.approx(8400.0, rel=1e-12)
    force = equivalent_tendon_force(12.5e-6)
    assert tendon_bow(force, 44.45e-3, 1.0, SECOND_MOMENT) == pytest.approx(
        blodgett_bow(12.5e-6, 44.45e-3, 1.0, SECOND_MOMENT), rel=1e-12
    )


@pytest.mark.published
def test_butt_weld_shrinkage() -> None:
    """A 12 mm plate with 60 degree V, 81.7 mm2 of weld, shrinks 0.681 mm (printed to 1 um)."""
    assert butt_transverse_blodgett(81.7e-6, 12e-3) * 1e3 == pytest.approx(0.681, abs=6e-4)


@pytest.mark.published
@pytest.mark.parametrize(
    ("width", "leg", "thickness", "expected"), [(8.0, 0.25, 0.375, 0.188), (12.0, 0.3125, 0.5, 0.212)]
)
def test_flange_angular_rule_in_inches(width: float, leg: float, thickness: float, expected: float) -> None:
    """Flanges of 8 and 12 in lift by 0.188 and 0.212 in (printed to 0.001 in); metres in, metres out."""
    found = blodgett_flange_angular(width * INCH, leg * INCH, thickness * INCH)
    assert found / INCH == pytest.approx(expected, abs=6e-4)
