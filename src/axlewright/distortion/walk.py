"""Walk a plan bead by bead: what stays locked in, and what the tacks carry on the way."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.linalg import solve_triangular

from axlewright.distortion.functionals import SPRINGS
from axlewright.distortion.lock_in import spring_set
from axlewright.distortion.springs import Shrinkage
from axlewright.distortion.tacked import Tacked, spring_rows
from axlewright.solid.mesh import Floats, Ints


@dataclass(frozen=True)
class Laying:
    """The beads of a plan in order, as the mechanics sees them.

    Args:
        stretches: stretch numbers in the order they are laid, shape (S,).
        first: index into `stretches` where each bead begins, and their count at the end, shape (B + 1,).
        lengths: length of each stretch in that order, shape (S,) [m].
        states: thermal state when each bead starts, shape (m, B).
    """

    stretches: Ints
    first: Ints
    lengths: Floats
    states: Floats


@dataclass(frozen=True)
class Walked:
    """What a walk leaves.

    Args:
        cold: every row of the structure when all is cold, shape (n,).
        tack_forces: force of each tack along, normal and sideways while it is still a tack, when each bead
            starts and when all is cold; zero once it is welded over, shape (T, 3, B + 1) [N].
        bead_forces: force of each stretch along, normal, sideways [N], and its moment [N m], in the order
            laid, when all is cold, shape (S, 4).
    """

    cold: Floats
    tack_forces: Floats
    bead_forces: Floats


def walk(
    tacked: Tacked, tack_stretches: Ints, shrink: Shrinkage, stiffness_per_length: Floats, laying: Laying
) -> Walked:
    """Lay the beads of a plan on a tacked structure; `lock_in` explains the method.

    A bead appears stress-free in the shape the housing has when its arc starts; then its shrinkage pulls and
    its heat spreads. A tack that a bead runs over melts: it lets go of its force at that moment. Forces are
    read when a bead starts, not while an arc burns: just then the steel beside it yields, and an elastic
    force would be far too high.

    Args:
        tacked: the structure after fit-up.
        tack_stretches: the stretch each tack sits on, shape (T,).
        shrink: what a metre of bead pulls.
        stiffness_per_length: of a bead, along, normal, side and rotation, shape (4,).
        laying: the beads in order with the thermal states around them.
    """
    return _Walk(tacked, tack_stretches, shrink, stiffness_per_length, laying).run()


class _Walk:
    """The working arrays of one walk. Columns are moments: the start of each bead, then cold."""

    def __init__(
        self, tacked: Tacked, tack_stretches: Ints, shrink: Shrinkage, per_length: Floats, laying: Laying
    ) -> None:
        self.tacked, self.shrink, self.laying = tacked, shrink, laying
        self.rows = spring_rows(laying.stretches)
        self.beads = len(laying.first) - 1
        self.states = np.concatenate([laying.states, np.zeros((len(laying.states), 1))], axis=1)
        self.loads = self._loads()
        seen = tacked.compliance[np.ix_(self.rows, np.concatenate([self.rows, tacked.rows]))]
        self.springs = spring_set(seen[:, : len(self.rows)], (laying.lengths[:, None] * per_length).ravel())
        self.link = self.springs.forward(seen[:, len(self.rows) :])
        self.read = self.springs.forward(self._free(self.rows))
        self.tack_read = self._free(tacked.rows)
        self.tack_compliance = tacked.compliance[np.ix_(tacked.rows, tacked.rows)]
        self.covered_by = self._covering(tack_stretches)

    def _loads(self) -> Floats:
        """Movement of every row by the shrinkage of each bead, shape (n, B)."""
        stretches, lengths = self.laying.stretches, self.laying.lengths
        total = len(self.shrink.across)
        compliance = self.tacked.compliance
        along = compliance[:, SPRINGS * total + stretches] * self.shrink.tendon
        across = compliance[:, (SPRINGS + 1) * total + stretches] * (self.shrink.across[stretches] * lengths)
        return np.add.reduceat(-along - across, self.laying.first[:-1], axis=1)

    def _free(self, rows: Ints) -> Floats:
        """What rows would read without any bead's springs, at every moment."""
        free = self.tacked.thermal[rows] @ self.states
        free[:, 1:] += np.cumsum(self.loads[rows], axis=1)
        return free + self.tacked.offset[rows, None]

    def _covering(self, tack_stretches: Ints) -> Ints:
        """For each tack, the place in the plan of the bead that melts it; beyond the end if none does."""
        place_of_stretch = np.full(len(self.shrink.across), self.beads)
        place_of_stretch[self.laying.stretches] = np.repeat(np.arange(self.beads), np.diff(self.laying.first))
        return place_of_stretch[tack_stretches]

    def run(self) -> Walked:
        """Go through the beads in order."""
        carried = np.zeros_like(self.read)
        self.zero = np.zeros(len(self.rows))
        self.shift = np.zeros(len(self.rows))
        self.tack_shift = np.zeros(len(self.tacked.rows))
        self.tack_zero = self.tacked.zero.copy()
        self.tack_pull = np.zeros(len(self.tacked.rows))
        pulled_from = np.empty((len(self.tacked.rows), self.beads + 1))
        for bead in range(self.beads + 1):
            held = SPRINGS * self.laying.first[bead]
            pulled_from[:, bead] = self.tack_shift - self.tack_zero
            carried[:held, bead] = self._carried(held, bead)
            if bead < self.beads:
                self._melt_tacks(bead, held)
                self._give_birth(bead, held, SPRINGS * self.laying.first[bead + 1])
        return self._outcome(carried, pulled_from)

    def _carried(self, held: int, moment: int) -> Floats:
        """L^T times the forces of the first `held` springs."""
        return self.read[:held, moment] + self.shift[:held] - self.zero[:held]

    def _melt_tacks(self, bead: int, held: int) -> None:
        """Move the zero of the tacks under this bead so that they carry nothing."""
        (tacks,) = np.nonzero(self.covered_by == bead)
        if not len(tacks):
            return
        rows = spring_rows(tacks)
        link, stiffness = self.link[:held, rows], self.tacked.stiffness[rows]
        reading = self.tack_read[rows, bead] + self.tack_shift[rows] - link.T @ self._carried(held, bead)
        compliance = self.tack_compliance[np.ix_(rows, rows)] - link.T @ link
        moved = np.linalg.solve(np.eye(len(rows)) - compliance * stiffness, reading - self.tack_zero[rows])
        pull = stiffness * moved
        self.tack_zero[rows] += moved
        self.tack_pull[rows] += pull
        self.shift += self.link[:, rows] @ pull
        self.tack_shift += self.tack_compliance[:, rows] @ pull

    def _give_birth(self, bead: int, held: int, held_after: int) -> None:
        """Set the zero of this bead's springs: stress-free now, then turned by its angular shrinkage."""
        wanted = np.zeros(held_after - held)
        wanted[SPRINGS - 1 :: SPRINGS] = self.shrink.rotation
        block = self.springs.lower[held:held_after, held:held_after]
        turned = solve_triangular(block, wanted, lower=True, check_finite=False)
        born = self.read[held:held_after, bead] + self.shift[held:held_after]
        self.zero[held:held_after] = born + turned

    def _outcome(self, carried: Floats, pulled_from: Floats) -> Walked:
        tacked, rows = self.tacked, self.rows
        reading = self.tack_read - self.link.T @ carried + pulled_from
        forces = (tacked.stiffness[:, None] * reading).reshape(-1, SPRINGS, self.beads + 1)[:, :3]
        # A tack counts up to the start of the bead that melts it.
        alive = np.arange(self.beads + 1) <= self.covered_by[:, None]
        bead_forces = self.springs.backward(carried[:, -1])
        cold = tacked.offset + self.loads.sum(axis=1) - tacked.compliance[:, rows] @ bead_forces
        cold = cold + tacked.compliance[:, tacked.rows] @ self.tack_pull
        return Walked(cold, forces * alive[:, None, :], bead_forces.reshape(-1, SPRINGS))
