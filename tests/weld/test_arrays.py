"""Formulas take arrays as well as floats, element by element."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from axlewright.weld import arc, bead, bow, cooling, shrinkage, shrinkage_rules, strength, surface_loss
from axlewright.weld.steel import steel

CASES: list[tuple[Callable[[Any], Any], list[float]]] = [
    (lambda v: arc.heat_input(v, 180.0, 6e-3, 0.8), [18.0, 22.0]),
    (lambda v: bead.bead_area(1e-3, v, 6e-3), [0.08, 0.12]),
    (bead.fillet_leg, [1e-5, 2e-5]),
    (bead.fillet_throat, [4e-3, 6e-3]),
    (shrinkage.tendon_force, [0.0, 5e5]),
    (shrinkage.okerblom_shrinkage_volume, [0.0, 5e5]),
    (lambda v: shrinkage.transverse_shrinkage(v, 8e-3), [2e5, 5e5]),
    (lambda v: shrinkage.flange_share(v, 6e-3), [6e-3, 9e-3]),
    (lambda v: shrinkage_rules.butt_transverse_blodgett(v, 8e-3), [2e-5, 5e-5]),
    (lambda v: shrinkage_rules.butt_transverse_spraragen(v, 8e-3, 1e-3), [2e-5, 5e-5]),
    (lambda v: shrinkage_rules.tee_transverse(v, 8e-3), [4e-3, 6e-3]),
    (lambda v: shrinkage_rules.lap_transverse(v, 8e-3), [4e-3, 6e-3]),
    (lambda v: shrinkage_rules.blodgett_flange_angular(v, 6e-3, 8e-3), [0.1, 0.2]),
    (lambda v: shrinkage_rules.intermittent_ratio(v, 0.1), [0.05, 0.06]),
    (lambda v: bow.blodgett_bow(v, 0.04, 1.0, 2e-6), [1e-5, 2e-5]),
    (bow.equivalent_tendon_force, [1e-5, 2e-5]),
    (lambda v: bow.tendon_bow(v, 0.04, 1.0, 2e-6), [5e4, 1e5]),
    (lambda v: bow.bead_rotation(v, 0.04, 0.05, 2e-6), [5e4, 1e5]),
    (lambda v: bow.tendon_shortening(v, 1.0, 2e-3), [5e4, 1e5]),
    (lambda v: cooling.t85_thick(v, 20.0), [4e5, 6e5]),
    (lambda v: cooling.t85_thin(v, 6e-3, 20.0), [4e5, 6e5]),
    (lambda v: cooling.transition_thickness(v, 20.0), [4e5, 6e5]),
    (lambda v: cooling.t85_three_dimensional(v, 20.0), [4e5, 6e5]),
    (lambda v: cooling.t85_two_dimensional(v, 6e-3, 20.0), [4e5, 6e5]),
    (lambda v: strength.weld_shear_strength(v, 0.8), [360e6, 430e6]),
    (lambda v: strength.weld_resistance(v, 0.1, steel("S235")), [3e-3, 4e-3]),
    (lambda v: surface_loss.surface_loss(v, 20.0, 0.09), [60.0, 100.0]),
]


@pytest.mark.analytical
@pytest.mark.parametrize(("formula", "values"), CASES)
def test_array_is_element_by_element(formula: Callable[[Any], Any], values: list[float]) -> None:
    """An array gives what its elements give one by one."""
    together = formula(np.array(values))
    assert together.shape == (len(values),)
    np.testing.assert_allclose(together, [float(formula(v)) for v in values], rtol=1e-13)
