"""Shape functions and Gauss rules."""

from __future__ import annotations

import numpy as np
import pytest

from axlewright.solid.shape import CORNERS, gauss_hexahedron, gauss_line, shape_gradients, shape_values

# Round-off of a few products of numbers near 1.
ROUND_OFF = 1e-13
POINTS = np.random.default_rng(1).uniform(-1.2, 1.2, (50, 3))


@pytest.mark.analytical
def test_each_shape_function_is_one_at_its_own_corner_and_zero_at_the_others() -> None:
    """Each shape function is one at its own corner and zero at the other seven."""
    np.testing.assert_allclose(shape_values(CORNERS), np.eye(8), atol=ROUND_OFF)


@pytest.mark.analytical
def test_shape_functions_reproduce_constants_and_coordinates() -> None:
    """Shape functions add to one and give back the natural coordinates, outside the cell too."""
    np.testing.assert_allclose(shape_values(POINTS).sum(axis=1), 1.0, atol=ROUND_OFF)
    np.testing.assert_allclose(shape_values(POINTS) @ CORNERS, POINTS, atol=ROUND_OFF)


@pytest.mark.analytical
def test_gradients_equal_central_differences() -> None:
    """Gradients equal central differences, which are exact for functions linear in each coordinate."""
    step = 0.1
    for axis in range(3):
        shift = step * np.eye(3)[axis]
        differences = (shape_values(POINTS + shift) - shape_values(POINTS - shift)) / (2 * step)
        np.testing.assert_allclose(shape_gradients(POINTS)[:, :, axis], differences, atol=ROUND_OFF)


@pytest.mark.analytical
@pytest.mark.parametrize("order", [1, 2, 3])
def test_gauss_rule_is_exact_to_its_degree_and_no_further(order: int) -> None:
    """A rule of n points integrates x**(2n-2) exactly and x**(2n) not."""
    points, weights = gauss_hexahedron(order)
    assert points.shape == (order**3, 3)
    for power, exact in ((2 * order - 2, True), (2 * order, False)):
        integral = (weights * points[:, 1] ** power).sum()
        assert np.isclose(integral, 8 / (power + 1), rtol=ROUND_OFF) == exact


@pytest.mark.analytical
def test_gauss_rule_needs_a_point() -> None:
    """A Gauss rule without points is refused."""
    with pytest.raises(ValueError, match="order is 0"):
        gauss_line(0)
