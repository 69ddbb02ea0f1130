"""Cooling time t8/5 by EN 1011-2:2001, annex D.

Equations seen on a public calculator page; transition thickness and the shape factors of table D.1 from
memory of the standard. Expected values computed from the equations apart from this package; 0.5 per cent
covers the rounding of their constants.
"""

from __future__ import annotations

import pytest

from axlewright.weld.cooling import (
    cooling_time,
    en1011_transition_thickness,
    shape_factors,
    t85_three_dimensional,
    t85_two_dimensional,
)

ROUNDING = 5e-3
TRUSS_HEAT, WALL = 528.0e3, 9.5e-3


@pytest.mark.published
def test_three_dimensional_flow() -> None:
    """1 kJ/mm on a thick plate at 20 degC cools in 5.288 s."""
    assert t85_three_dimensional(1.0e6, 20.0) == pytest.approx(5.288, rel=ROUNDING)


@pytest.mark.published
def test_two_dimensional_flow() -> None:
    """1 kJ/mm on a 10 mm plate at 20 degC cools in 11.364 s."""
    assert t85_two_dimensional(1.0e6, 10e-3, 20.0) == pytest.approx(11.364, rel=ROUNDING)


@pytest.mark.published
@pytest.mark.parametrize(("preheat", "expected"), [(20.0, 14.66), (100.0, 15.66)])
def test_transition_thickness(preheat: float, expected: float) -> None:
    """The transition at 1 kJ/mm is 14.66 mm cold and 15.66 mm at 100 degC, where both forms agree."""
    thickness = en1011_transition_thickness(1.0e6, preheat)
    assert thickness * 1e3 == pytest.approx(expected, rel=ROUNDING)
    thin, thick = t85_two_dimensional(1.0e6, thickness, preheat), t85_three_dimensional(1.0e6, preheat)
    assert thin == pytest.approx(thick, rel=1e-9)


@pytest.mark.published
def test_shape_factors_of_table_d1() -> None:
    """Table D.1 as remembered: plate 1/1, butt 0.9/0.9, corner 0.9 to 0.67/0.67, T 0.45 to 0.67/0.67."""
    assert shape_factors("bead on plate") == (1.0, 1.0, 1.0)
    assert shape_factors("butt interpass") == (0.9, 0.9, 0.9)
    assert shape_factors("corner fillet") == (0.67, 0.9, 0.67)
    assert shape_factors("tee fillet") == (0.45, 0.67, 0.67)


@pytest.mark.published
def test_the_longer_cooling_time_governs() -> None:
    """On a 9.5 mm wall 2-D flow governs with F2 = 0.67 (2.352 s), 3-D flow with 0.45 (1.871 s)."""
    assert t85_two_dimensional(TRUSS_HEAT, WALL, 20.0, 0.45) == pytest.approx(1.580, rel=ROUNDING)
    assert cooling_time(TRUSS_HEAT, WALL, 20.0, "tee fillet", 0.67) == pytest.approx(2.352, rel=ROUNDING)
    assert cooling_time(TRUSS_HEAT, WALL, 20.0, "tee fillet", 0.45) == pytest.approx(1.871, rel=ROUNDING)


@pytest.mark.published
def test_the_shorter_time_is_the_default() -> None:
    """Left without a factor, the lower end of the joint's range is used, on the safe side of hardening."""
    assert cooling_time(TRUSS_HEAT, WALL, 20.0, "tee fillet") == pytest.approx(1.871, rel=ROUNDING)
