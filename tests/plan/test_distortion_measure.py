"""Bow, camber and toe as one number."""

from __future__ import annotations

import numpy as np
import pytest

from axlewright.distortion.shape import ColdShape
from axlewright.plan.distortion_measure import distortion

LENGTH = 1.3
STATIONS = np.linspace(LENGTH / 2, -LENGTH / 2, 27)


def bent(up: float, forward: float) -> ColdShape:
    """An evenly bent housing: parabolas of two bows, and the slopes 4 bow / L they have at the ends."""
    bulge = 1.0 - (2.0 * STATIONS / LENGTH) ** 2
    rise, sweep = 4.0 * up / LENGTH, 4.0 * forward / LENGTH
    return ColdShape(STATIONS, up * bulge, forward * bulge, (rise, rise), (-sweep, -sweep), 0.0)


@pytest.mark.analytical
@pytest.mark.parametrize(("up", "forward"), [(1e-3, 0.0), (-1e-3, 0.0), (0.0, 1e-3), (0.6e-3, -0.8e-3)])
def test_an_evenly_bent_housing_has_its_bow(up: float, forward: float) -> None:
    """A shallow arc of 1 mm bow, in one plane or slanting, has a distortion of 1 mm."""
    # End slope of a parabola of bow f over L: 4 f / L (geometry). Middle station is on the crown, so it is exact.
    assert distortion(bent(up, forward), LENGTH) == pytest.approx(1e-3, rel=1e-12)


@pytest.mark.analytical
def test_bow_and_ends_count_the_same() -> None:
    """Bow without bent ends, or bent ends without bow, is 1 over the root of 2 of the whole."""
    whole = bent(1e-3, 0.0)
    straight_ends = ColdShape(STATIONS, whole.vertical, whole.fore_aft, (0.0, 0.0), (0.0, 0.0), 0.0)
    ends_alone = ColdShape(STATIONS, 0 * whole.vertical, whole.fore_aft, whole.camber, whole.toe, 0.0)
    assert distortion(straight_ends, LENGTH) == pytest.approx(1e-3 / np.sqrt(2))
    assert distortion(ends_alone, LENGTH) == pytest.approx(1e-3 / np.sqrt(2))


@pytest.mark.analytical
def test_one_bent_end_counts_half() -> None:
    """Camber at one end alone counts by the mean over both ends: root of a half of what both count."""
    both = ColdShape(STATIONS, 0 * STATIONS, 0 * STATIONS, (2e-3, 2e-3), (0.0, 0.0), 0.0)
    one = ColdShape(STATIONS, 0 * STATIONS, 0 * STATIONS, (2e-3, 0.0), (0.0, 0.0), 0.0)
    assert distortion(one, LENGTH) == pytest.approx(distortion(both, LENGTH) / np.sqrt(2))
    toes = ColdShape(STATIONS, 0 * STATIONS, 0 * STATIONS, (0.0, 0.0), (0.0, -2e-3), 0.0)
    assert distortion(toes, LENGTH) == pytest.approx(distortion(one, LENGTH))


def test_a_straight_housing_has_none_and_mirrored_ones_the_same() -> None:
    """Nought for a straight housing; the sense of a bend does not count."""
    assert distortion(bent(0.0, 0.0), LENGTH) == 0.0
    assert distortion(bent(2e-4, -3e-4), LENGTH) == distortion(bent(-2e-4, 3e-4), LENGTH)
