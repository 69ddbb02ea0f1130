"""The plate with a start, a stop and edges against closed forms."""

from __future__ import annotations

from math import exp

import numpy as np
import pytest
from scipy.special import exp1

from axlewright.weld.near_zone import rosenthal_thin
from axlewright.weld.plate_history import Plate, Run, plate_temperature

LAMBDA, RHO_C = 41.0, 4.5e6
WIDE = Plate(3.0, 2.0, 6e-3, LAMBDA, RHO_C)
SMALL = Plate(0.12, 0.08, 6e-3, LAMBDA, RHO_C)
#: The quadrature is good to about 1e-9; closed forms below are exact.
EXACT = 1e-7


@pytest.mark.analytical
@pytest.mark.parametrize(("ahead", "aside"), [(-0.020, 0.001), (-0.030, 0.005), (0.002, 0.003), (0.0, 0.010)])
def test_long_run_on_a_wide_plate_is_rosenthal(ahead: float, aside: float) -> None:
    """Four minutes into a run on a wide plate the field about the arc is Rosenthal's (1e-4: settling)."""
    run = Run(3168.0, 0.006, 0.5, 1.0, 300.0)
    arc_x = 0.5 + 0.006 * 240.0
    found = float(plate_temperature(240.0, arc_x + ahead, 1.0 + aside, WIDE, run))
    assert found == pytest.approx(float(rosenthal_thin(3168.0, 0.006, 6e-3, ahead, aside)), rel=1e-4)


@pytest.mark.analytical
def test_standing_arc_is_the_exponential_integral() -> None:
    """An arc that hardly moves heats a wide plate by q / (4 pi lambda d) E1(r^2 / 4 a t)."""
    run = Run(500.0, 1e-9, 1.5, 1.0, 60.0)
    radius = 0.02
    expected = 500.0 / (4.0 * np.pi * LAMBDA * 6e-3) * exp1(radius**2 / (4.0 * LAMBDA / RHO_C * 60.0))
    found = float(plate_temperature(60.0, 1.5, 1.0 + radius, WIDE, run, 0.0, 0.0))
    assert found == pytest.approx(expected, rel=1e-6)  # the arc creeps 0.06 um


@pytest.mark.analytical
def test_insulated_plate_keeps_all_heat() -> None:
    """Long after the run an insulated plate is level, at the arc's heat over its heat capacity."""
    run = Run(3000.0, 0.006, 0.01, 0.03, 15.0)
    level = 20.0 + 3000.0 * 15.0 / (RHO_C * 0.12 * 0.08 * 6e-3)
    for x, y in [(0.0, 0.0), (0.12, 0.08), (0.05, 0.02)]:
        assert float(plate_temperature(4000.0, x, y, SMALL, run)) == pytest.approx(level, rel=EXACT)


@pytest.mark.analytical
def test_no_heat_is_lost_while_it_spreads() -> None:
    """Soon after the run the uneven plate holds the heat of the arc in its mean (1e-4: grid)."""
    run = Run(3000.0, 0.006, 0.01, 0.03, 15.0)
    x, y = (np.arange(24) + 0.5) * 0.005, (np.arange(16) + 0.5) * 0.005
    rise = np.array([[float(plate_temperature(20.0, a, b, SMALL, run, 0.0, 0.0)) for b in y] for a in x])
    assert rise.max() > 2.0 * rise.min()
    assert rise.mean() == pytest.approx(3000.0 * 15.0 / (RHO_C * 0.12 * 0.08 * 6e-3), rel=1e-4)


@pytest.mark.analytical
def test_surface_loss_empties_the_plate() -> None:
    """A level plate with loss falls as exp(-b t), each second's heat from the moment it came in."""
    lossy = Plate(0.12, 0.08, 6e-3, LAMBDA, RHO_C, 10.0)
    rate, end = 10.0 / (RHO_C * 6e-3), 4000.0
    run = Run(3000.0, 0.006, 0.01, 0.03, 15.0)
    heat_left = 3000.0 * (exp(-rate * (end - 15.0)) - exp(-rate * end)) / rate
    expected = 20.0 + 80.0 * exp(-rate * end) + heat_left / (RHO_C * 0.12 * 0.08 * 6e-3)
    found = float(plate_temperature(end, 0.1, 0.01, lossy, run, 100.0))  # ambient 20 degC by default
    assert found == pytest.approx(expected, rel=EXACT)


@pytest.mark.analytical
def test_plate_is_at_its_initial_temperature_before_the_arc() -> None:
    """At time zero the plate is as it was, and the shape of the answer is that of the times asked for."""
    run = Run(3000.0, 0.006, 0.01, 0.03, 15.0)
    assert float(plate_temperature(0.0, 0.05, 0.03, SMALL, run, 98.0)) == 98.0
    assert plate_temperature([[0.0, 1.0]], 0.05, 0.02, SMALL, run).shape == (1, 2)
    assert plate_temperature(1.0, 0.05, 0.02, SMALL, run).shape == ()


@pytest.mark.analytical
def test_mirror() -> None:
    """A run and a point mirrored across the plate's middle give the same history."""
    time = np.array([3.0, 12.0, 40.0])
    left = plate_temperature(time, 0.06, 0.02, SMALL, Run(3000.0, 0.006, 0.01, 0.03, 15.0))
    right = plate_temperature(time, 0.06, 0.06, SMALL, Run(3000.0, 0.006, 0.01, 0.05, 15.0))
    np.testing.assert_allclose(left, right, rtol=1e-12)


@pytest.mark.analytical
def test_edge_passes_no_heat() -> None:
    """Temperature is level across an edge, seen by a finite difference at it."""
    run = Run(3000.0, 0.006, 0.01, 0.03, 15.0)
    step = 1e-4
    edge, inside = (float(plate_temperature(20.0, 0.06, y, SMALL, run)) for y in (0.0, step))
    further = float(plate_temperature(20.0, 0.06, 2.0 * step, SMALL, run))
    # An even function grows with the square of the distance: four times as much at twice the distance.
    assert (further - edge) / (inside - edge) == pytest.approx(4.0, rel=1e-3)
