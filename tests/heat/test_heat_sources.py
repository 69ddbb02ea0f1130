"""Heat released in an instant, in a thin plate and in a rod, against closed forms.

Source of both: Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed. 1959, section 10.3, instantaneous line and
plane sources (section number from memory). Plate and rod end so far away that their ends are not felt:
the nearest image adds less than 1e-4 of the rise.
"""

from __future__ import annotations

import numpy as np
import pytest
from reference.implicit_heat import FullOrder
from reference.plates import Halves, beads_of, joined, readings, through_the_thickness

from axlewright.heat.reduce import reduce_heat
from axlewright.heat.state import cold, cooled, welded
from axlewright.heat.system import PROPERTIES_AT, HeatSystem, heat_system
from axlewright.housing.assembly import Assembly
from axlewright.housing.seam import Bead, Seam
from axlewright.solid.mesh import Floats
from axlewright.weld.steel import DENSITY, conductivity, heat_capacity

CONDUCTIVITY = float(conductivity(PROPERTIES_AT))
RHO_C = DENSITY * float(heat_capacity(PROPERTIES_AT))
DIFFUSIVITY = CONDUCTIVITY / RHO_C
THICKNESS, HEAT, PULSE = 0.008, 5000.0, 0.01
TIMES = (15.0, 30.0, 60.0)
PITCH, SOURCES = 0.025, 5
STRUCK = SOURCES // 2
PLATE_POINTS = np.array([[0, 0, 0], [PITCH, 0, 0], [2 * PITCH, 0, 0], [0, 0.025, 0], [0.03, 0.03, 0]])
ROD_POINTS = np.array([[0.0, y, 0.0] for y in (0.0, 0.02, 0.04, 0.08)])


def plate(cell: float) -> Assembly:
    """A plate with five places for line sources, as far apart as the stretches of a seam."""
    fine = np.arange(0.0, 0.06 + 1e-9, cell)
    out = np.concatenate([fine, 0.06 + np.cumsum(np.linspace(cell, 0.02, 12))])
    halves = Halves(np.concatenate([-out[:0:-1], out]), out, THICKNESS)
    frame = np.tile([0.0, 1.0, 0.0], (2, 1)), np.tile([1.0, 0.0, 0.0], (2, 1))
    middles = PITCH * (np.arange(SOURCES) - STRUCK)
    seams = tuple(
        Seam(
            "half",
            "bracket",
            f"at {x}",
            0,
            1,
            np.add(through_the_thickness(THICKNESS), [x, 0.0, 0.0]),
            *frame,
        )
        for x in middles
    )
    parts = halves.part(-1.0, THICKNESS), halves.part(1.0, 2 * THICKNESS)
    return joined(parts, seams, tuple(Bead(n, 0.0, THICKNESS) for n in range(SOURCES)), THICKNESS)


def rod(cell: float) -> Assembly:
    """A rod along y, one cell in section, heated at its middle."""
    halves = Halves(np.array([-0.004, 0.004]), np.arange(0.0, 0.24 + 1e-9, cell), THICKNESS)
    return halves.joined(through_the_thickness(THICKNESS), (0.0, 1.0, 0.0))


def line_source(points: Floats, seconds: float) -> Floats:
    """T = (Q / d) / (4 pi lambda t) exp(-r^2 / (4 a t)); heat Q [J] over the thickness d."""
    squared = np.sum(points[:, :2] ** 2, axis=1)
    strength = HEAT / THICKNESS / (4 * np.pi * CONDUCTIVITY * seconds)
    return strength * np.exp(-squared / (4 * DIFFUSIVITY * seconds))


def plane_source(points: Floats, seconds: float) -> Floats:
    """T = (Q / S) / (rho c sqrt(4 pi a t)) exp(-y^2 / (4 a t)); heat Q / 20 [J] over the section S."""
    section, spread = 0.008 * THICKNESS, 4 * DIFFUSIVITY * seconds
    return HEAT / 20 / section / (RHO_C * np.sqrt(np.pi * spread)) * np.exp(-(points[:, 1] ** 2) / spread)


def by_modes(body: Assembly, system: HeatSystem, stretch: int, heat: float, rows: Floats) -> list[Floats]:
    """Rises at `TIMES` after a short pulse, by the reduced model."""
    modes, shapes = reduce_heat(system, beads_of(body))
    hot = welded(modes, cold(modes), np.array([stretch]), heat / PULSE, np.array([PULSE]))
    return [rows @ (shapes @ cooled(modes, hot, t - PULSE / 2)) for t in TIMES]


def by_steps(system: HeatSystem, stretch: int, heat: float, rows: Floats) -> list[Floats]:
    """The same by full-order stepping: 0.1 s in the first second, then 0.25 s."""
    full = FullOrder(system, 0.1)
    full.pass_time(PULSE, stretch, heat / PULSE)
    full.pass_time(1.0)
    full.longest = 0.25
    now, rises = PULSE / 2 + 1.0, []
    for t in TIMES:
        full.pass_time(t - now)
        now = t
        rises.append(rows @ full.rise)
    return rises


@pytest.mark.analytical
def test_line_source_through_a_plate_full_order() -> None:
    """Stepped in full, the plate is right within 1 % of its highest rise, and three times better than on 5 mm cells."""
    # Tolerance 1 %: linear cells of width h with lumped capacity err at the source by 5 h^2 / (24 a t) (Taylor series
    # of the stencil), 0.95 % for 3 mm after 15 s, and so by (5 / 3)^2 = 2.8 times as much on the coarser mesh.
    errors = []
    for cell in (0.005, 0.003):
        body = plate(cell)
        rises = by_steps(heat_system(body, 20.0), STRUCK, HEAT, readings(body, PLATE_POINTS))
        exact = [line_source(PLATE_POINTS, t) for t in TIMES]
        errors.append([abs(got - want).max() / want.max() for got, want in zip(rises, exact, strict=True)])
    assert max(errors[1]) < 0.01
    assert 2.3 < errors[0][0] / errors[1][0] < 3.3


@pytest.mark.analytical
def test_line_source_through_a_plate_reduced() -> None:
    """The reduced model reads the plate within 1 K at the five places that could be welded, from 15 s on."""
    # Tolerance: 1 K at places with a spot temperature, of a rise of 65 K at 15 s; 2 % of the highest rise elsewhere, as
    # the modes are chosen for heat from the five places, not for points between.
    body = plate(0.003)
    rises = by_modes(body, heat_system(body, 20.0), STRUCK, HEAT, readings(body, PLATE_POINTS))
    for t, got in zip(TIMES, rises, strict=True):
        exact = line_source(PLATE_POINTS, t)
        np.testing.assert_allclose(got[:3], exact[:3], atol=1.0)
        np.testing.assert_allclose(got[3:], exact[3:], atol=0.02 * exact.max())


@pytest.mark.analytical
def test_plane_source_in_a_rod_full_order() -> None:
    """Stepped in full, the rod is right within 0.5 % of its highest rise, from 15 s on."""
    # Tolerance 0.5 %: lumped linear cells err by h^2 / (16 a t) at the source, 0.28 % for 3 mm after 15 s.
    body = rod(0.003)
    rises = by_steps(heat_system(body, 20.0), 0, HEAT / 20, readings(body, ROD_POINTS))
    for t, got in zip(TIMES, rises, strict=True):
        exact = plane_source(ROD_POINTS, t)
        np.testing.assert_allclose(got, exact, atol=0.005 * exact.max())


@pytest.mark.analytical
def test_plane_source_in_a_rod_reduced() -> None:
    """The reduced model of a rod with a single stretch is right within 1 % of its highest rise, from 15 s on."""
    # Tolerance 1 %: a single stretch gives only nine directions; a real seam's neighbours give more. Measured: 0.5 %.
    body = rod(0.003)
    rises = by_modes(body, heat_system(body, 20.0), 0, HEAT / 20, readings(body, ROD_POINTS))
    for t, got in zip(TIMES, rises, strict=True):
        exact = plane_source(ROD_POINTS, t)
        np.testing.assert_allclose(got, exact, atol=0.01 * exact.max())
