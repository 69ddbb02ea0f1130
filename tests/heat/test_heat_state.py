"""Moving the thermal state in time is exact and linear."""

from __future__ import annotations

import numpy as np
import pytest
import truss_heat
from hypothesis import given, settings
from hypothesis import strategies as st

from axlewright.heat.reduce import HeatModes
from axlewright.heat.state import cold, cooled, welded

SECONDS = st.floats(1e-3, 5e3)
POWER = 2700.0


def modes() -> HeatModes:
    """Modes of the demo."""
    return truss_heat.reduced()[0]


def warm() -> np.ndarray:
    """A state some time after a bead."""
    path = truss_heat.path_of(5)
    return cooled(modes(), welded(modes(), cold(modes()), path, POWER, truss_heat.seconds_of(path)), 40.0)


@pytest.mark.analytical
@given(seconds=SECONDS, pieces=st.integers(2, 200))
def test_one_long_pause_is_many_short_ones(seconds: float, pieces: int) -> None:
    """Cooling for a time in one step or in many leaves the same state."""
    # Source: exp(-r (a + b)) = exp(-r a) exp(-r b). Tolerance: rounding over 200 products.
    state = warm()
    for _ in range(pieces):
        state = cooled(modes(), state, seconds / pieces)
    np.testing.assert_allclose(state, cooled(modes(), warm(), seconds), rtol=1e-9, atol=1e-12)


@pytest.mark.analytical
@given(seconds=SECONDS, pieces=st.integers(2, 200))
def test_one_long_arc_is_many_short_ones(seconds: float, pieces: int) -> None:
    """An arc on one stretch in one step or in many leaves the same state."""
    # Source: the exact solution for constant power. Tolerance: rounding over 200 steps of the warmest mode.
    path = np.full(pieces, 11)
    short = welded(modes(), warm(), path, POWER, np.full(pieces, seconds / pieces))
    long = welded(modes(), warm(), path[:1], POWER, np.array([seconds]))
    np.testing.assert_allclose(short, long, rtol=1e-9, atol=1e-11 * np.abs(long).max())


@pytest.mark.analytical
def test_arc_on_one_mode_follows_its_differential_equation() -> None:
    """A state driven by an arc obeys dq/dt = -rate q + inlet power, checked by a difference quotient."""
    # Source: the equation `HeatModes` states. Tolerance: central differences of 1 ms on rates up to 1 / s err by
    # (rate dt)^2 / 6 of the fastest term, 2e-7; rounding adds 1e-8.
    m, begin, step = modes(), warm(), 1e-3
    after, middle, before = (
        welded(m, begin, np.array([11]), POWER, np.array([t])) for t in (3.0 + step, 3.0, 3.0 - step)
    )
    expected = -m.rate * middle + m.inlet[:, 11] * POWER
    np.testing.assert_allclose((after - before) / (2 * step), expected, atol=1e-6 * np.abs(expected).max())


@pytest.mark.analytical
def test_welding_is_linear_in_state_and_power() -> None:
    """What two states and two powers do together is the sum of what each does alone."""
    # Source: linear heat balance. Tolerance: rounding.
    path, seconds = np.array([4, 5, 6]), np.array([5.0, 6.0, 7.0])
    one = welded(modes(), warm(), path, 1000.0, seconds)
    other = welded(modes(), cooled(modes(), warm(), 300.0), path, 1700.0, seconds)
    both = welded(modes(), warm() + cooled(modes(), warm(), 300.0), path, 2700.0, seconds)
    np.testing.assert_allclose(both, one + other, rtol=1e-9, atol=1e-12)


@pytest.mark.analytical
def test_stretches_are_passed_in_the_order_given() -> None:
    """An arc over a path equals arcs over its pieces one after another, and the last stretch stays hottest."""
    # Source: superposition in time; by symmetry of heat flow the stretch heated last has had least time to cool.
    path, seconds = np.array([4, 5, 6]), np.array([5.0, 6.0, 7.0])
    whole = welded(modes(), cold(modes()), path, POWER, seconds)
    first = welded(modes(), cold(modes()), path[:2], POWER, seconds[:2])
    np.testing.assert_allclose(
        welded(modes(), first, path[2:], POWER, seconds[2:]), whole, rtol=1e-12, atol=1e-14
    )
    back = welded(modes(), cold(modes()), path[::-1], POWER, seconds[::-1])
    forth_at, back_at = modes().spot @ whole, modes().spot @ back
    assert forth_at[6] > back_at[6] + 100.0
    assert back_at[4] > forth_at[4] + 100.0


@pytest.mark.analytical
@settings(max_examples=50)
@given(seconds=st.floats(60.0, 1e5))
def test_a_cooling_housing_never_warms_as_a_whole(seconds: float) -> None:
    """Stored heat falls in every pause and goes to nothing in the end."""
    # Source: second law with loss to air at ambient temperature; the slowest mode decays in under an hour.
    shapes, capacity = truss_heat.reduced()[1], truss_heat.system().capacity
    stored = [capacity @ (shapes @ cooled(modes(), warm(), t)) for t in (0.0, seconds, 10 * 3600 + seconds)]
    assert stored[0] > stored[1] > stored[2] >= -1e-6 * stored[0]
    assert stored[2] < 1e-4 * stored[0]
