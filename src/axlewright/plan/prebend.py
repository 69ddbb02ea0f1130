"""The pre-bend that leaves a housing straightest, and the shims that make it.

The released shape is affine in the shims (`distortion.fixture`), and the distortion measure is the length of a vector
whose parts are linear in the shape but for the bow, which is the largest of 27 distances. So the best pre-bend is a
small convex problem: with the two bows as variables of their own, that no station may exceed, it is least squares with
bounds. Shims come in steps; the rounded answer is improved by moving one or two supports by a step for as long as that
helps.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import numpy as np
from scipy.optimize import minimize

from axlewright.distortion.fixture import Fixture, Holding, Release, fixture
from axlewright.distortion.model import Model
from axlewright.distortion.readings import section_middles
from axlewright.distortion.shape import ColdShape, cold_shape
from axlewright.housing.section import Section
from axlewright.job.schema import Job
from axlewright.plan.distortion_measure import distortion
from axlewright.plan.fixture_report import Plane
from axlewright.solid.mesh import Floats
from axlewright.weld.steel import steel

HIGHEST_SHIM = 0.02
"""Shims are piled no higher than this [m]; a housing that needs more is out of true for another reason."""

YIELD_SHARE = 0.5
"""Share of the tube's yield strength that the pre-bend may use [1].

The other half is left for the welding: steel at 500 degC, which some millimetres beside a bead reach, keeps 0.78 of its
yield strength (EN 1993-1-2:2005 table 3.1), and shrinking beads add to the clamps' forces.
"""

_MM = 1e-3
_MOST_ROUNDS = 200
PLANES: tuple[Plane, Plane] = ("vertical", "fore-aft")


def fixture_of(job: Job, model: Model) -> Fixture | None:
    """The springs of a job's fixture; None where there is none."""
    if job.fixture is None:
        return None
    holdings = tuple(
        Holding(
            np.array([job.x_at(support.at) for support in job.fixture.holding(plane)]),
            np.array([support.stiffness for support in job.fixture.holding(plane)]),
            plane == "vertical",
        )
        for plane in PLANES
    )
    return fixture(holdings, model.stations, section_middles(model.assembly))


def given_shims(job: Job, held_by: Fixture) -> Floats:
    """Shims of the job file at all supports of a fixture, none where it gives none, shape (n,) [m]."""
    assert job.fixture is not None
    planes = ["vertical" if holding.vertical else "fore-aft" for holding in held_by.holdings]
    return np.array([support.given_shim(plane) for plane in planes for support in job.fixture.holding(plane)])


@dataclass(frozen=True)
class Prebend:
    """The pre-bend of one welded plan, to be chosen.

    Args:
        release: what shims do.
        flat: axis readings, cold and clamped on supports without shims, shape (2 R + 6,).
        stations: x of the sections [m].
        job: the job.
    """

    release: Release
    flat: Floats
    stations: Floats
    job: Job

    def shape(self, shims: Floats) -> ColdShape:
        """The housing let go of."""
        return cold_shape(self.stations, self.release.released(self.flat, shims))

    def distortion(self, shims: Floats) -> float:
        """How far the housing is out of true when it is let go [m]."""
        return distortion(self.shape(shims), self.job.housing.length)

    def stress(self, shims: Floats) -> float:
        """Greatest bending stress in the tubes from the pre-bend, before the first arc [Pa]."""
        held = self.release.on_shims(np.zeros_like(self.flat), shims)
        return tube_stress(self.job, self.release.fixture, self.release.pushes(held, shims))

    @property
    def allowed(self) -> float:
        """The stress it may have [Pa]."""
        return YIELD_SHARE * steel(self.job.housing.steel).yield_strength

    def feasible(self, shims: Floats) -> bool:
        """Whether shims are low enough and strain the tubes little enough."""
        low = float(np.ptp(shims)) <= HIGHEST_SHIM + 1e-9
        return low and self.stress(shims) <= self.allowed * (1 + 1e-9)


def tube_stress(job: Job, held_by: Fixture, pushes: Floats) -> float:
    """Greatest bending stress in the tubes between the supports, sigma = M / W [Pa].

    The centre is taken to be no weaker than the tubes it joins. Both planes bend the round tube together.

    Args:
        job: the job.
        held_by: its fixture.
        pushes: force of each support, shape (n,) [N].

    Source: simple bending, M from the forces to one side of a section.
    Valid: elastic; W of a round tube, pi (D^4 - d^4) / (32 D).
    Raises: nothing.
    """
    section = Section(job.housing)
    x = np.concatenate([held_by.at, np.linspace(held_by.at.min(), held_by.at.max(), 101)])
    moments = [np.maximum(held_by.at[part] - x[:, None], 0.0) @ pushes[part] for part in held_by.parts]
    outer = section.tube_radius(x)
    inner = outer - section.tube_wall(x)
    return float(np.max(np.hypot.reduce(moments) * 4 * outer / (np.pi * (outer**4 - inner**4))))


def best_shims(prebend: Prebend, step: float | None) -> Floats:
    """Shims that leave the housing straightest, the lowest of each plane nought, shape (n,) [m].

    Args:
        prebend: the plan they are for.
        step: thinnest step of the shims [m]; None for shims of any height.
    """
    inner = _inner(prebend.release.fixture)
    exact = _continuous(prebend, inner)
    if step is None:
        return seated(prebend.release.fixture, exact)
    return seated(prebend.release.fixture, _stepped(prebend, inner, exact, step))


def seated(held_by: Fixture, shims: Floats) -> Floats:
    """The same bend with the lowest shim of each plane nought: shims can only be put in."""
    lowest = np.concatenate([np.full(part.stop - part.start, shims[part].min()) for part in held_by.parts])
    return np.asarray(shims - lowest)


def _inner(held_by: Fixture) -> Floats:
    """Columns that lift one inner support each, shape (n, q): outer ones only tilt or shift the housing."""
    columns = [np.eye(held_by.over.shape[1])[:, part.start + 1 : part.stop - 1] for part in held_by.parts]
    return np.hstack(columns)


def _continuous(prebend: Prebend, inner: Floats) -> Floats:
    """Shims of any height: least squares with the bows as variables; all in millimetres."""
    count, length = inner.shape[1], prebend.job.housing.length
    bent = _shapes(prebend, inner)
    flat, each = bent[0], bent[1:].T
    stations = len(prebend.stations)
    # Rows: vertical offsets, fore-aft offsets, then camber and toe as lengths.
    weights = np.concatenate([np.ones(2 * stations), np.full(4, length / 4 / np.sqrt(2))])
    flat, each = weights * flat / _MM, weights[:, None] * each
    owner = np.repeat(np.eye(2), stations, axis=0)
    bounds_of_bow = np.vstack([np.hstack([-s * each[: 2 * stations], owner]) for s in (1.0, -1.0)])
    offsets = np.concatenate([-flat[: 2 * stations], flat[: 2 * stations]])
    ends, ends_flat = each[2 * stations :], flat[2 * stations :]

    def cost(v: Floats) -> tuple[float, Floats]:
        slope = ends_flat + ends @ v[:count]
        value = (np.sum(v[count:] ** 2) + np.sum(slope**2)) / 2
        return float(value), np.concatenate([ends.T @ slope, v[count:]])

    def unstrained(v: Floats) -> float:
        return 1.0 - (prebend.stress(_MM * (inner @ v[:count])) / prebend.allowed) ** 2

    start = np.concatenate([np.zeros(count), np.abs(flat[: 2 * stations].reshape(2, -1)).max(axis=1)])
    most = HIGHEST_SHIM / _MM
    found = minimize(
        cost,
        start,
        jac=True,
        method="SLSQP",
        bounds=[(-most, most)] * count + [(0.0, None)] * 2,
        constraints=[
            {"type": "ineq", "fun": lambda v: bounds_of_bow @ v + offsets, "jac": lambda v: bounds_of_bow},
            {"type": "ineq", "fun": unstrained},
        ],
        options={"ftol": 1e-12, "maxiter": _MOST_ROUNDS},
    )
    return np.asarray(_MM * (inner @ found.x[:count]))


def _shapes(prebend: Prebend, inner: Floats) -> Floats:
    """Offsets, camber and toe without shims, then what a metre of shim at each inner support adds, (1 + q, 2 R + 4)."""
    rows = [_row(prebend.shape(shims)) for shims in (np.zeros(len(inner)), *inner.T)]
    return np.array([rows[0], *(row - rows[0] for row in rows[1:])])


def _row(shape: ColdShape) -> Floats:
    return np.array([*shape.vertical, *shape.fore_aft, *shape.camber, *shape.toe])


def _stepped(prebend: Prebend, inner: Floats, exact: Floats, step: float) -> Floats:
    """The best shims in whole steps near the exact ones."""
    steps = np.trunc(inner.T @ exact / step)
    if not prebend.feasible(step * (inner @ steps)):
        steps = np.zeros_like(steps)
    moves = _moves(len(steps))
    best = prebend.distortion(step * (inner @ steps))
    for _ in range(_MOST_ROUNDS):
        tried = [steps + move for move in moves]
        costs = [
            prebend.distortion(step * (inner @ each)) if prebend.feasible(step * (inner @ each)) else np.inf
            for each in tried
        ]
        if min(costs) >= best:
            break
        best, steps = min(costs), tried[int(np.argmin(costs))]
    return np.asarray(step * (inner @ steps))


def _moves(count: int) -> list[Floats]:
    """A step up or down at one support, or at two."""
    single = [sign * row for row in np.eye(count) for sign in (1.0, -1.0)]
    double = [a + b for a, b in combinations(single, 2) if np.abs(a + b).sum() > 0]
    return single + double
