"""The thermometer's filter against textbook cases with a closed form."""

from __future__ import annotations

import numpy as np
import pytest

from axlewright.heat.reduce import HeatModes
from axlewright.plan.replan.thermometer import (
    EFFICIENCY,
    LOSS,
    Estimate,
    Physics,
    arced,
    corrected,
    fresh,
    passed,
)

RATE, LOST = 1e-3, 4e-4


def one_mode(rate: float = RATE) -> Physics:
    """A body of one temperature: 2 K a kilojoule, its reading the state itself."""
    modes = HeatModes(np.array([rate]), np.array([[2e-3]]), np.array([[1.0]]), ("seat",), np.array([[1.0]]))
    return Physics(modes, np.array([LOST]))


def unsure(variance: float) -> Estimate:
    """A state known to a variance, with factors known exactly."""
    return Estimate(np.array([50.0]), np.zeros(2), np.array([[np.sqrt(variance)], [0.0], [0.0]]))


@pytest.mark.analytical
@pytest.mark.parametrize("count", [1, 2, 10])
def test_readings_of_a_constant_average(count: int) -> None:
    """After n readings of a constant, P = 1 / (1 / P0 + n / r), and the mean weighs prior and readings by precision."""
    prior, error, readings = 9.0, 4.0, np.linspace(40.0, 70.0, count)
    estimate = unsure(prior)
    for reading in readings:
        estimate = corrected(estimate, np.array([1.0]), float(reading), error)
    precision = 1 / prior + count / error
    assert estimate.spread(np.array([1.0])) ** 2 == pytest.approx(1 / precision, rel=1e-12)
    mean = (50.0 / prior + readings.sum() / error) / precision
    assert estimate.state[0] == pytest.approx(mean, rel=1e-12)


@pytest.mark.analytical
def test_a_perfect_reading_leaves_no_doubt() -> None:
    """With an error of nought the state becomes the reading, and a second reading changes nothing."""
    row = np.array([1.0])
    estimate = corrected(corrected(unsure(9.0), row, 61.0, 0.0), row, 99.0, 0.0)
    assert estimate.state[0] == pytest.approx(61.0)
    assert estimate.spread(row) == pytest.approx(0.0, abs=1e-12)


@pytest.mark.analytical
def test_a_wait_lets_state_and_doubt_fade() -> None:
    """Without doubt about the loss, mean and standard deviation both fall by exp(-rate t)."""
    estimate = passed(one_mode(), unsure(9.0), 700.0)
    assert estimate.state[0] == pytest.approx(50.0 * np.exp(-0.7), rel=1e-12)
    assert estimate.spread(np.array([1.0])) == pytest.approx(3.0 * np.exp(-0.7), rel=1e-12)


@pytest.mark.analytical
def test_doubts_go_through_a_wait_as_the_derivative_says() -> None:
    """The columns of the root after arc and wait are the derivatives of the state by the two factors."""
    physics, step = one_mode(), 1e-5

    def state(heat: float, loss: float) -> float:
        start = Estimate(np.zeros(1), np.array([heat, loss]), np.zeros((3, 0)))
        arc = arced(physics, start, np.array([0]), 3e3, np.array([8.0]), spread=0.0)
        return float(passed(physics, arc, 900.0).state[0])

    start = fresh(physics.modes, efficiency_spread=1.0, loss_spread=1.0)
    arc = arced(physics, start, np.array([0]), 3e3, np.array([8.0]), spread=0.0)
    root = passed(physics, arc, 900.0).root
    by_heat = (state(step, 0.0) - state(-step, 0.0)) / (2 * step)
    by_loss = (state(0.0, step) - state(0.0, -step)) / (2 * step)
    assert root[0, 0] == pytest.approx(by_heat, rel=1e-8)
    # Loss during the arc itself is taken to its first order: 8 s of 2500 s.
    assert root[0, 1] == pytest.approx(by_loss, rel=1e-4)


@pytest.mark.analytical
def test_heat_is_learned_as_a_regression_would() -> None:
    """With a known loss, the log factor after one small misfit is the closed-form least-squares one."""
    physics = one_mode(rate=0.0)
    start = fresh(physics.modes, efficiency_spread=0.1, loss_spread=0.0)
    arc = arced(physics, start, np.array([0]), 3e3, np.array([8.0]), spread=0.0)
    rise, error = 2e-3 * 3e3 * 8.0, 4.0
    after = corrected(arc, np.array([1.0]), rise - 3.0, error)
    prior = (0.1 * rise) ** 2
    assert after.factors[EFFICIENCY] == pytest.approx(-3.0 / rise * prior / (prior + error), rel=1e-9)
    assert after.factor_spread(EFFICIENCY) == pytest.approx(0.1 * np.sqrt(error / (prior + error)), rel=1e-9)
    assert after.factors[LOSS] == 0.0


@pytest.mark.analytical
def test_the_root_is_a_covariance_update() -> None:
    """R R^T after a reading is (I - K h^T) P, on a random covariance of many columns."""
    chance = np.random.default_rng(1)
    root, row = chance.normal(size=(7, 9)), chance.normal(size=5)
    before = Estimate(chance.normal(size=5), np.zeros(2), root)
    whole, h = root @ root.T, np.append(row, [0.0, 0.0])
    gain = whole @ h / (h @ whole @ h + 2.0)
    after = corrected(before, row, 1.0, 2.0)
    assert np.allclose(after.root @ after.root.T, whole - np.outer(gain, h @ whole))
    assert np.allclose(after.state, before.state + gain[:5] * (1.0 - row @ before.state))
