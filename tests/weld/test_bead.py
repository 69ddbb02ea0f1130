"""Bead size by volume balance."""

from __future__ import annotations

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from axlewright.weld.bead import bead_area, deposition_efficiency, fillet_leg, fillet_throat


@pytest.mark.analytical
@given(diameter=st.floats(0.6e-3, 1.6e-3), feed=st.floats(0.02, 0.3), speed=st.floats(1e-3, 2e-2))
def test_no_metal_is_lost(diameter: float, feed: float, speed: float) -> None:
    """At efficiency 1 the metal laid in a second is the wire fed in a second; by default 0.95 of it."""
    fed = pi / 4.0 * diameter**2 * feed
    assert bead_area(diameter, feed, speed, 1.0) * speed == pytest.approx(fed, rel=1e-12)
    assert bead_area(diameter, feed, speed) * speed == pytest.approx(0.95 * fed, rel=1e-12)


@pytest.mark.analytical
@given(leg=st.floats(1e-3, 2e-2))
def test_leg_and_throat_of_the_triangle(leg: float) -> None:
    """Leg and throat are side and height of the right isosceles triangle of the bead's area."""
    area = leg**2 / 2.0
    assert fillet_leg(area) == pytest.approx(leg, rel=1e-12)
    hypotenuse = 2.0 * area / fillet_throat(leg)
    assert hypotenuse == pytest.approx(leg * 2.0**0.5, rel=1e-12)


@pytest.mark.analytical
def test_default_efficiency_is_that_of_mag() -> None:
    """Bead area takes the efficiency of MAG with solid wire unless told otherwise."""
    assert bead_area(1e-3, 0.1, 6e-3) == bead_area(1e-3, 0.1, 6e-3, deposition_efficiency(135))
