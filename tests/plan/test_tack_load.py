"""The load of a tack against its strength, by hand."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest
from plan.planned import common_for, small_job
from reference.benches import bench_for

PULL = 1000.0
"""Force on the one loaded tack [N]."""


def loaded(along: float, normal: float, side: float) -> float:
    """Utilisation of a tack with a given force [N] over PULL / (throat x length x fu / (beta_w gamma_M2))."""
    job = small_job()
    bench, walked = bench_for(job), common_for(job).walked
    forces = np.zeros_like(walked.tack_forces)
    forces[0, :, 3] = along, normal, side
    found = bench.tack_utilisation(dataclasses.replace(walked, tack_forces=forces))
    assert np.count_nonzero(found) <= 1
    area = bench.settings.throat * job.welder.tack_length
    # S355: fu 490 MPa, beta_w 0.9, gamma_M2 1.25 (EN 1993-1-8:2005, table 4.1; EN 1993-1-1 table 3.1, memory).
    return float(found[0] * 490e6 / (0.9 * 1.25) * area / PULL)


@pytest.mark.analytical
@pytest.mark.parametrize(
    ("force", "expected", "why"),
    [
        ((PULL, 0.0, 0.0), np.sqrt(3.0), "along the seam: shear alone"),
        ((0.0, PULL, 0.0), np.sqrt(2.0), "off the skin: half the square is normal stress, half is shear"),
        ((0.0, 0.0, PULL), np.sqrt(2.0), "toward the fillet: the same"),
        ((0.0, 0.0, -PULL), np.sqrt(2.0), "away from the fillet: the same"),
        ((0.0, PULL, PULL), np.sqrt(6.0), "off and toward the fillet: in the throat's plane, all shear"),
        (
            (0.0, PULL, -PULL),
            np.sqrt(2.0) / 0.81,
            "off and away from the fillet: torn; 0.9 fu / gamma_M2 governs",
        ),
        ((0.0, -PULL, 0.0), 0.0, "pressed on: contact carries it"),
    ],
)
def test_a_tacks_load_by_hand(force: tuple[float, float, float], expected: float, why: str) -> None:
    """sqrt(s^2 + 3 (t1^2 + t2^2)) on a throat at 45 degrees, for forces along, off the skin and sideways."""
    # A fillet between skin (normal n) and guest has its throat along n + s, s pointing from the guest to the fillet,
    # so its normal is n - s. Source: EN 1993-1-8:2005, 4.5.3.2; statics. Tolerance: round-off.
    assert loaded(*force) == pytest.approx(expected, rel=1e-9), why
