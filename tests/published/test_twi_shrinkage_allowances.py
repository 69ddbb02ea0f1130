"""Workshop allowances of TWI's public answer "How much shall I allow for weld shrinkage?".

Rules of thumb, so they are held against our rules within a factor of 2 only.
"""

from __future__ import annotations

import pytest

from axlewright.weld.shrinkage_rules import butt_transverse_spraragen, tee_transverse


@pytest.mark.published
def test_fillet_allowance() -> None:
    """At the largest leg it covers (three quarters of the plate) the fillet rule gives the page's 0.8 mm."""
    assert 0.4 < tee_transverse(7.5e-3, 10e-3) * 1e3 < 1.6


@pytest.mark.published
def test_butt_allowance() -> None:
    """A 60 degree V butt in 12 mm plate shrinks within a factor of 2 of the page's 1.5 to 3 mm."""
    assert 0.75 < butt_transverse_spraragen(81.7e-6, 12e-3, 2e-3) * 1e3 < 6.0
