"""Bending by beads against beam theory."""

from __future__ import annotations

from math import degrees, pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from axlewright.weld.bow import bead_rotation, blodgett_bow, tendon_bow, tendon_shortening
from axlewright.weld.shrinkage import tendon_force
from axlewright.weld.shrinkage_rules import intermittent_ratio

FORCE = tendon_force(528.0e3)
LENGTH, RADIUS = 1.0, 44.45e-3


def ring(outside: float, wall: float) -> float:
    """Second moment of area of a tube given in mm."""
    return pi / 64.0 * (outside**4 - (outside - 2.0 * wall) ** 4) * 1e-12


TUBE = ring(88.9, 9.5)


@pytest.mark.analytical
def test_bow_of_a_tube() -> None:
    """105.6 kN on a 1 m tube 88.9 x 9.5: 1.475 mm bow, 0.676 degrees, 0.212 mm shorter (0.1 per cent)."""
    assert tendon_bow(FORCE, RADIUS, LENGTH, TUBE) * 1e3 == pytest.approx(1.475, rel=1e-3)
    assert degrees(bead_rotation(FORCE, RADIUS, LENGTH, TUBE)) == pytest.approx(0.676, rel=1e-3)
    area = pi / 4.0 * (88.9e-3**2 - 69.9e-3**2)
    assert tendon_shortening(FORCE, LENGTH, area) * 1e3 == pytest.approx(
        0.212, abs=3e-4
    )  # three digits given


@pytest.mark.analytical
@pytest.mark.parametrize(
    ("outside", "wall", "expected"),
    [(76.2, 6.35, 0.0976), (88.9, 9.5, 0.0515), (88.9, 12.7, 0.0430), (101.6, 12.7, 0.0312)],
)
def test_one_bead(outside: float, wall: float, expected: float) -> None:
    """One bead of 76.2 mm turns four tubes by 0.0976, 0.0515, 0.0430 and 0.0312 degrees (0.5 per cent)."""
    turn = bead_rotation(FORCE, outside * 0.5e-3, 76.2e-3, ring(outside, wall))
    assert degrees(turn) == pytest.approx(expected, rel=5e-3)


@pytest.mark.analytical
def test_stitching_halves_the_bow() -> None:
    """Beads of 50 mm every 100 mm bow the tube 0.738 mm, half of a full seam (1 per cent: ends).

    Each bead is a hinge turned by its rotation; a hinge at x lifts mid-length by x / 2 times its angle.
    """
    bead, pitch = 0.050, 0.100
    middles = (np.arange(10) + 0.5) * pitch
    arms = np.minimum(middles, LENGTH - middles) / 2.0
    bow = float(np.sum(arms)) * bead_rotation(FORCE, RADIUS, bead, TUBE)
    assert bow * 1e3 == pytest.approx(0.738, rel=0.01)
    full = tendon_bow(FORCE, RADIUS, LENGTH, TUBE)
    assert bow / full == pytest.approx(intermittent_ratio(bead, pitch), rel=0.01)


@pytest.mark.analytical
@given(force=st.floats(1e3, 3e5), arm=st.floats(1e-3, 0.3))
def test_opposed_beads_cancel(force: float, arm: float) -> None:
    """Equal beads on opposite sides of the neutral axis leave no bow and no angle."""
    assert tendon_bow(force, arm, LENGTH, TUBE) + tendon_bow(force, -arm, LENGTH, TUBE) == 0.0
    assert bead_rotation(force, arm, 0.05, TUBE) + bead_rotation(force, -arm, 0.05, TUBE) == 0.0


@pytest.mark.analytical
@given(length=st.floats(0.2, 2.0))
def test_bow_grows_with_the_square_of_length(length: float) -> None:
    """Half the length bows a quarter, by beam theory and by the handbook's rule."""
    assert tendon_bow(FORCE, RADIUS, length, TUBE) == pytest.approx(
        4.0 * tendon_bow(FORCE, RADIUS, length / 2.0, TUBE), rel=1e-12
    )
    assert blodgett_bow(12.5e-6, RADIUS, length, TUBE) == pytest.approx(
        4.0 * blodgett_bow(12.5e-6, RADIUS, length / 2.0, TUBE), rel=1e-12
    )


@pytest.mark.analytical
@given(heat=st.floats(1e5, 1.5e6), arm=st.floats(1e-3, 0.3), length=st.floats(0.02, 0.2))
def test_rotation_follows_heat_arm_and_length(heat: float, arm: float, length: float) -> None:
    """Doubling heat, arm or length of a bead doubles the angle it turns."""
    once = bead_rotation(tendon_force(heat), arm, length, TUBE)
    for twice in (
        bead_rotation(tendon_force(2.0 * heat), arm, length, TUBE),
        bead_rotation(tendon_force(heat), 2.0 * arm, length, TUBE),
        bead_rotation(tendon_force(heat), arm, 2.0 * length, TUBE),
    ):
        assert twice == pytest.approx(2.0 * once, rel=1e-12)
