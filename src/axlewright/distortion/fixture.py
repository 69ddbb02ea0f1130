"""Welding in a fixture: supports with clamps as springs that are there first and let go of last.

The fixture stands on its own bench and may move with the housing as a rigid body; all it holds on to is the bend of
the housing's axis. So in a plane with n supports there are n - 2 springs, one for each inner support with its two
neighbours: it reads how far the axis lies above the line of the neighbours, z_i - a z_(i-1) - b z_(i+1). Such a reading
is nought for every rigid motion, so these springs leave the ground springs unloaded. With D the n - 2 rows of
coefficients and k the supports' stiffnesses, the springs' flexibility is D diag(1/k) D^T, and shims of heights h put
their zero at D h. Two supports of a plane hold nothing.

With F = D times what reads the axis at the supports, C the compliance and A = D diag(1/k) D^T + F C F^T:

    clamped          C_c = C - C F^T A^-1 F C,  thermal likewise,  and every row moves by C F^T A^-1 D h
    welding          on that structure, as on any other; a bead is born stress-free in whatever shape it meets, so the
                     constant shift by the shims changes no force and is simply added at the end
    let go, cold     the springs' force p = (D diag(1/k) D^T)^-1 (F r - D h) at the clamped reading r is taken off with
                     the compliance C' of the welded structure: r' = r + C' F^T p

C' does not depend on the order of welding. So the released shape is affine in the shims, and costs a plan two small
products.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from scipy.linalg import block_diag, cho_factor, cho_solve, cholesky, solve_triangular

from axlewright.distortion.condense import Condensed
from axlewright.distortion.functionals import SPRINGS
from axlewright.solid.mesh import Floats, Ints

FLANGE_ROTATIONS = 6
"""Readings after those of the axis: rotations about x, y, z of the left flange and of the right one."""


@dataclass(frozen=True)
class Holding:
    """The supports that hold one plane, from left to right.

    Args:
        at: x of the supports, shape (n,) [m].
        stiffness: force for each unit they give way, shape (n,) [N/m].
        vertical: up and down if true, else forward and back.
    """

    at: Floats
    stiffness: Floats
    vertical: bool


@dataclass(frozen=True)
class Fixture:
    """Springs on the bend of the axis.

    Args:
        holdings: the planes held, each with three or more supports; supports are counted through all of them.
        over: how far each support stands over the line of its neighbours, D, shape (q, n).
        rows: the same read off the axis readings, F, shape (q, 2 R + 6).
        flexibility: of the springs, shape (q, q) [m/N].
    """

    holdings: tuple[Holding, ...]
    over: Floats
    rows: Floats
    flexibility: Floats

    @property
    def at(self) -> Floats:
        """x of all supports, shape (n,) [m]."""
        return np.concatenate([holding.at for holding in self.holdings])

    @property
    def parts(self) -> tuple[slice, ...]:
        """Where the supports of each holding stand among all of them."""
        ends = np.cumsum([0, *(len(holding.at) for holding in self.holdings)])
        return tuple(slice(int(a), int(b)) for a, b in pairwise(ends))


def fixture(holdings: tuple[Holding, ...], stations: Floats, middles: Floats) -> Fixture | None:
    """The springs of a fixture; None where no plane has the three supports it takes to hold anything.

    Args:
        holdings: the supports, plane by plane.
        stations: x of the sections at which the axis is read, shape (R,) [m].
        middles: y and z of the middle of what is read there, shape (2, R) [m].
    """
    holdings = tuple(holding for holding in holdings if len(holding.at) >= 3)
    if not holdings:
        return None
    overs = [over_neighbours(holding.at) for holding in holdings]
    rows = [
        over @ axis_rows(holding, stations, middles) for over, holding in zip(overs, holdings, strict=True)
    ]
    over = block_diag(*overs)
    yielding = np.concatenate([1.0 / holding.stiffness for holding in holdings])
    return Fixture(holdings, over, np.vstack(rows), over @ (yielding[:, None] * over.T))


def over_neighbours(at: Floats) -> Floats:
    """Rows D that read how far each inner support stands over the line of its two neighbours, shape (n - 2, n).

    Args:
        at: x of the supports in order, shape (n,) [m].
    """
    rows = np.zeros((len(at) - 2, len(at)))
    for n in range(len(at) - 2):
        first, middle, last = at[n : n + 3]
        share = (middle - first) / (last - first)
        rows[n, n : n + 3] = [share - 1.0, 1.0, -share]
    return rows


def axis_rows(holding: Holding, stations: Floats, middles: Floats) -> Floats:
    """Rows that read the axis at the supports from the readings of a housing, shape (n, 2 R + 6).

    A cubic goes through the four nearest stations. A section with a hole is read off-centre, so that a turn of the
    housing about its own axis moves the reading; what turns with the flanges is taken off. Then the rows of a rigid
    motion are linear in x, and `over_neighbours` makes nothing of them.
    """
    count = len(stations)
    rows = np.zeros((len(holding.at), 2 * count + FLANGE_ROTATIONS))
    first = count if holding.vertical else 0
    # Turned by t about x, a point moves up by t y and forward by -t z.
    aside = middles[0] if holding.vertical else -middles[1]
    left = (stations - stations[-1]) / (stations[0] - stations[-1])
    for row, x in zip(rows, holding.at, strict=True):
        near, weights = _cubic(stations, float(x))
        row[first + near] = weights
        row[2 * count] = -np.sum(weights * (aside * left)[near])
        row[2 * count + 3] = -np.sum(weights * (aside * (1.0 - left))[near])
    return rows


def _cubic(stations: Floats, x: float) -> tuple[Ints, Floats]:
    """The four stations about x, and the weights of the cubic through them (Lagrange)."""
    begin = int(np.clip(np.searchsorted(-stations, -x) - 2, 0, len(stations) - 4))
    near = np.arange(begin, begin + 4)
    at = stations[near]
    weights = [np.prod([(x - b) / (a - b) for b in at if b != a]) for a in at]
    return near, np.array(weights)


def clamped(base: Condensed, held_by: Fixture) -> Condensed:
    """The structure in its fixture, on supports without shims."""
    seen = base.compliance[:, -held_by.rows.shape[1] :] @ held_by.rows.T
    lower = _factor(base, held_by)
    across = solve_triangular(lower, seen.T, lower=True)
    warmed = held_by.rows @ base.thermal[-held_by.rows.shape[1] :]
    return Condensed(
        base.compliance - across.T @ across,
        base.thermal - across.T @ solve_triangular(lower, warmed, lower=True),
    )


def _factor(base: Condensed, held_by: Fixture) -> Floats:
    """Cholesky factor of A."""
    width = held_by.rows.shape[1]
    compliance = base.compliance[-width:, -width:]
    return np.asarray(cholesky(held_by.flexibility + held_by.rows @ compliance @ held_by.rows.T, lower=True))


@dataclass(frozen=True)
class Release:
    """What shims do to the clamped housing, and what is left when it is let go.

    Args:
        fixture: the fixture.
        lift: axis readings of the bare, clamped housing for each unit of shim at each support, shape (2 R + 6, n).
        yielding: axis readings of the welded, free housing for each unit of force of the springs, shape (2 R + 6, q).
    """

    fixture: Fixture
    lift: Floats
    yielding: Floats

    def on_shims(self, flat: Floats, shims: Floats) -> Floats:
        """Clamped readings on shims from those on supports without shims, shape (2 R + 6,).

        Args:
            flat: readings on supports without shims, cold, shape (2 R + 6,).
            shims: heights at all supports, shape (n,) [m].
        """
        return flat + self.lift @ shims

    def released(self, flat: Floats, shims: Floats) -> Floats:
        """Readings when the clamps have been let go, shape (2 R + 6,); arguments as for `on_shims`."""
        held = self.on_shims(flat, shims)
        return held + self.yielding @ self._springs(held, shims)

    def pushes(self, held: Floats, shims: Floats) -> Floats:
        """Force of each support on the clamped housing, upward or forward, shape (n,) [N].

        Args:
            held: clamped readings, cold, shape (2 R + 6,).
            shims: heights at all supports, shape (n,) [m].
        """
        return -self.fixture.over.T @ self._springs(held, shims)

    def _springs(self, held: Floats, shims: Floats) -> Floats:
        gap = self.fixture.rows @ held - self.fixture.over @ shims
        return np.asarray(np.linalg.solve(self.fixture.flexibility, gap), dtype=float)


def release(base: Condensed, held_by: Fixture, stiffness: Floats) -> Release:
    """Prepare letting go of a housing with all its beads laid.

    Args:
        base: the free structure before fit-up.
        held_by: the fixture.
        stiffness: of the springs of all stretches, tacks and beads together, shape (S, 4).
    """
    width, springs = held_by.rows.shape[1], SPRINGS * len(stiffness)
    seen = base.compliance[:, -width:] @ held_by.rows.T
    lower = _factor(base, held_by)
    lift = seen[-width:] @ cho_solve((lower, True), held_by.over)
    welds = base.compliance[:springs, :springs] + np.diag(1.0 / stiffness.ravel())
    taken = base.compliance[-width:, :springs] @ cho_solve(cho_factor(welds), seen[:springs])
    return Release(held_by, lift, seen[-width:] - taken)
