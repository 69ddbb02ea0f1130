"""Deposition efficiency ranges of a public page, "Which Arc Welding Process is the Most Efficient?"."""

from __future__ import annotations

import pytest

from axlewright.weld.bead import deposition_efficiency


@pytest.mark.published
@pytest.mark.parametrize(
    ("process", "low", "high"),
    [
        (111, 0.60, 0.65),
        (136, 0.82, 0.88),
        (114, 0.75, 0.85),
        (131, 0.92, 0.99),
        (135, 0.92, 0.99),
        (121, 0.985, 0.995),
        (138, 0.94, 0.98),
        (141, 0.94, 0.97),
    ],
)
def test_deposition_efficiency(process: int, low: float, high: float) -> None:
    """Each process takes the middle of the page's range (rounded to 0.01)."""
    assert deposition_efficiency(process) == pytest.approx(0.5 * (low + high), abs=0.0051)
