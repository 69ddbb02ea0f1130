"""Invented results of a shop, for the tests of this folder."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from axlewright.shop.evidence import Evidence, Observation, observations
from axlewright.shop.factors import JOB_SCATTER
from axlewright.solid.mesh import Floats

FIGURES = ("camber left", "camber right", "left tube up", "right tube up", "twist")
PREDICTED = np.array([-0.10, -0.12, -0.48, -0.37, -0.02]) / 100.0
SLOPES = (
    np.array(
        [
            [-0.098, -0.013, -0.105, -0.001],
            [-0.096, -0.032, -0.120, 0.0],
            [-0.425, -0.089, -0.486, -0.003],
            [-0.293, -0.111, -0.373, -0.002],
            [-0.033, -0.001, -0.027, 0.0],
        ]
    )
    / 100.0
)
ERRORS, SCATTER = np.array([0.02, 0.02, 0.06, 0.06, 0.05]) / 100.0, 0.08 * np.abs(PREDICTED) + 1e-4
HEAT, LOSS = (
    Observation(name, "1", 0.0, error, 0.0, slopes, 0.02, "logarithm")
    for name, error, slopes in (
        ("arc heat", 0.04, (0.0, 0.0, 1.0, 0.0)),
        ("cooling", 0.1, (0.0, 0.0, 0.0, 1.0)),
    )
)
TRUE = np.log([1.4, 0.8, 1.1, 1.3])


def housing(name: str, chance: np.random.Generator, logs: Floats = TRUE) -> Evidence:
    """A housing of a shop with these factors, measured with errors that go together, and its thermometer."""
    alike = np.eye(5)
    alike[0, 1] = alike[1, 0] = 0.4
    alike[2, 0] = alike[0, 2] = -0.5
    errors = ERRORS[:, None] * alike * ERRORS
    named = [(figure, "rad", "factor") for figure in FIGURES]
    made, _ = observations(named, np.zeros(5), errors, PREDICTED, SLOPES, SCATTER)
    whole = np.eye(7)
    whole[:5, :5] = alike
    bare = Evidence(name, "2025-03-01", "housing", (*made, HEAT, LOSS), tuple(map(tuple, whole.tolist())))
    own = logs + JOB_SCATTER * chance.standard_normal(4)
    noise = np.linalg.cholesky(bare.errors) @ chance.standard_normal(7)
    return measured_as(bare, bare.shown(own) + noise)


def measured_as(result: Evidence, values: Floats) -> Evidence:
    """The same result with other figures measured."""
    pairs = zip(result.observations, values, strict=True)
    return replace(result, observations=tuple(replace(one, measured=float(value)) for one, value in pairs))


def housings(count: int, seed: int = 1) -> list[Evidence]:
    """Several housings of one shop."""
    chance = np.random.default_rng(seed)
    return [housing(f"job {n}", chance) for n in range(count)]


def spoilt(result: Evidence, figure: int, by: float) -> Evidence:
    """A result with one figure off by so many standard deviations of its error."""
    values = result.measured
    values[figure] += by * result.observations[figure].error
    return measured_as(result, values)
