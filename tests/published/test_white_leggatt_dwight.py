"""The tendon force: White, Leggatt and Dwight, Cambridge University, about 1977 to 1980; from memory."""

from __future__ import annotations

import pytest

from axlewright.weld.shrinkage import tendon_force


@pytest.mark.published
def test_tendon_force() -> None:
    """528 J/mm net pull with 105.6 kN (exact by definition; the model itself is good to 25 per cent)."""
    assert tendon_force(528.0e3) == pytest.approx(105.6e3, rel=1e-12)
