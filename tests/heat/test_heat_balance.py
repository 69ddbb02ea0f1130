"""What goes in stays in, what is lost goes to the air, what crosses a seam crosses it at its conductance."""

from __future__ import annotations

import numpy as np
import pytest
import truss_heat
from reference.plates import Halves, beads_of, through_the_thickness
from scipy.linalg import eigh
from scipy.optimize import brentq

from axlewright.heat.reduce import reduce_heat
from axlewright.heat.state import cold, cooled, welded
from axlewright.heat.system import LOSS_AT_RISE, PROPERTIES_AT, SEAM_CONDUCTANCE, heat_system
from axlewright.weld.steel import DENSITY, conductivity, heat_capacity
from axlewright.weld.surface_loss import surface_loss

CONDUCTIVITY = float(conductivity(PROPERTIES_AT))
RHO_C = DENSITY * float(heat_capacity(PROPERTIES_AT))


@pytest.mark.analytical
def test_without_loss_all_arc_heat_stays_in_the_steel() -> None:
    """With no surface loss the heat stored after arcs and pauses is the heat put in, to 1e-6."""
    # Source: conservation of energy. Tolerance 1e-6: rounding alone is left, as the uniform rise is one of the
    # directions that reduction keeps.
    modes, shapes = truss_heat.reduced(loss_factor=0.0)
    capacity = truss_heat.system(loss_factor=0.0).capacity
    state, put_in = cold(modes), 0.0
    for bead, pause in ((0, 25.0), (20, 900.0), (7, 3600.0)):
        path = truss_heat.path_of(bead)
        seconds = truss_heat.seconds_of(path)
        state = welded(modes, state, path, truss_heat.POWER, seconds)
        put_in += truss_heat.POWER * seconds.sum()
        assert capacity @ (shapes @ state) == pytest.approx(put_in, rel=1e-6)
        state = cooled(modes, state, pause)
        assert capacity @ (shapes @ state) == pytest.approx(put_in, rel=1e-6)


@pytest.mark.analytical
def test_matrices_neither_make_nor_lose_heat() -> None:
    """Conduction and seams pass heat on both ways alike; an arc's heat and a spot's weights add to one."""
    # Source: conservation of energy and symmetry of conductance. Tolerance: rounding of sums of terms of order 1 W/K.
    tight = truss_heat.system(loss_factor=0.0)
    assert abs(tight.flow.sum(axis=1)).max() < 1e-12
    assert abs(tight.flow - tight.flow.T).max() < 1e-12
    np.testing.assert_allclose(tight.inlet.sum(axis=0), 1.0, rtol=1e-12)
    np.testing.assert_allclose(tight.spot.sum(axis=1), 1.0, rtol=1e-12)
    np.testing.assert_allclose(tight.watch.sum(axis=1), 1.0, rtol=1e-12)


@pytest.mark.analytical
@pytest.mark.parametrize(("faces", "tolerance"), [(2, 1e-9), (1, 2e-3)])
def test_small_plate_cools_as_a_lump(faces: int, tolerance: float) -> None:
    """A uniformly warm plate with air on one or both faces cools by exp(-h A t / (M c))."""
    # Source: lumped body, Carslaw & Jaeger, Conduction of Heat in Solids, 1959, section 1.9 (from memory).
    # Tolerance 1e-9 with air on both faces: one cell through the thickness, loss and capacity lumped alike, so the
    # discrete body has no temperature differences and only rounding is left. With air on one face alone the bare
    # face is colder by the Biot number, h d / lambda = 0.0018.
    side, thickness, ambient = 0.040, 0.008, 20.0
    x, y = np.linspace(-side, side, 9), np.linspace(0.0, side, 5)
    plate = Halves(x, y, thickness, faces=faces).joined(through_the_thickness(thickness), (0.0, 1.0, 0.0))
    modes, shapes = reduce_heat(heat := heat_system(plate, ambient), beads_of(plate))
    state = shapes.T @ (heat.capacity * 100.0)
    area, mass = faces * (2 * side) ** 2, DENSITY * (2 * side) ** 2 * thickness
    coefficient = float(surface_loss(ambient + LOSS_AT_RISE, ambient, 0.0889))
    rate = coefficient * area / (mass * float(heat_capacity(PROPERTIES_AT)))
    for seconds in (0.0, 60.0, 1800.0):
        rise = shapes @ cooled(modes, state, seconds)
        np.testing.assert_allclose(rise, 100.0 * np.exp(-rate * seconds), rtol=tolerance)


@pytest.mark.analytical
def test_two_rods_even_out_across_a_seam() -> None:
    """A warm and a cold rod that meet at a seam even out at the rate of two slabs with contact resistance."""
    # Source: separation of variables, T = cos(k (l - y)) on one side and its negative on the other; flux at the seam
    # gives k l tan(k l) = 2 h l / lambda, rate a k^2 (Carslaw & Jaeger 1959, section 3.9, from memory). The contact
    # coefficient h is the seam's conductance per metre over the thickness. Tolerance 0.1 %: linear cells with
    # lumped capacity err by (k h)^2 / 12, 2e-4 for 20 cells.
    width, half, thickness = 0.008, 0.040, 0.008
    across = np.array([-width / 2, width / 2])
    rods = Halves(across, np.linspace(0.0, half, 21), thickness)
    ends = np.array([[-width / 2, 0.0, 0.0], [width / 2, 0.0, 0.0]])
    system = heat_system(rods.joined(ends, (0.0, 1.0, 0.0)), 20.0)
    rates = eigh(system.flow.toarray(), np.diag(system.capacity), eigvals_only=True)
    biot = 2 * SEAM_CONDUCTANCE / thickness * half / CONDUCTIVITY
    root = brentq(lambda kl: kl * np.tan(kl) - biot, 1e-6, np.pi / 2 - 1e-6)
    assert rates[0] == pytest.approx(0.0, abs=1e-12)
    assert rates[1] == pytest.approx(CONDUCTIVITY / RHO_C * (root / half) ** 2, rel=1e-3)
