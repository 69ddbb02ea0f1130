"""Throat and leg of a fillet by ISO 2553, as compared with AWS A2.4 on a public page."""

from __future__ import annotations

import pytest

from axlewright.weld.bead import fillet_leg, fillet_throat


@pytest.mark.published
def test_throat_and_leg() -> None:
    """A throat of 4 mm belongs to a leg of 5.66 mm (printed to 0.01 mm)."""
    assert fillet_throat(5.66e-3) * 1e3 == pytest.approx(4.0, abs=0.01)


@pytest.mark.published
def test_leg_of_an_area() -> None:
    """A flat fillet of 12.5 mm2 has legs of 5 mm (exact)."""
    assert fillet_leg(12.5e-6) == pytest.approx(5e-3, rel=1e-12)
