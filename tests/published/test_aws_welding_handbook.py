"""Shrinkage rules of the AWS Welding Handbook.

Forms from memory of the handbook (butt: Spraragen and Ettinger); the constants 1.02 and 1.52 were read on a
public page. Values printed to 1 um; the rules themselves are good to 50 per cent.
"""

from __future__ import annotations

import pytest

from axlewright.weld.shrinkage_rules import (
    butt_transverse_spraragen,
    intermittent_ratio,
    lap_transverse,
    tee_transverse,
)


@pytest.mark.published
def test_butt_weld_shrinkage() -> None:
    """A 12 mm plate with 81.7 mm2 of weld and 2 mm gap shrinks 1.462 mm."""
    assert butt_transverse_spraragen(81.7e-6, 12e-3, 2e-3) * 1e3 == pytest.approx(1.462, abs=6e-4)


@pytest.mark.published
def test_tee_and_lap_shrinkage() -> None:
    """Two 6 mm fillets on 10 mm plate shrink a T-joint by 0.612 mm and a lap joint by 0.912 mm."""
    assert tee_transverse(6e-3, 10e-3) * 1e3 == pytest.approx(0.612, abs=6e-4)
    assert lap_transverse(6e-3, 10e-3) * 1e3 == pytest.approx(0.912, abs=6e-4)


@pytest.mark.published
def test_intermittent_welds_shrink_in_proportion() -> None:
    """Beads of 50 mm every 100 mm shrink half as much as a full seam (rule from memory)."""
    ratio = intermittent_ratio(50e-3, 100e-3)
    assert ratio == pytest.approx(0.5, rel=1e-12)
    assert tee_transverse(6e-3, 10e-3, ratio) * 1e3 == pytest.approx(0.306, abs=6e-4)
    assert lap_transverse(6e-3, 10e-3, ratio) * 1e3 == pytest.approx(0.456, abs=6e-4)
