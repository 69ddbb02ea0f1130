"""Walk a plan bead by bead: what stays locked in, and what the tacks carry on the way."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

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
        self.beads = len(laying.first) - 1
        self.rows = spring_rows(laying.stretches)
        self.stiffness = (laying.lengths[:, None] * per_length).ravel()
        self.place = self._places(tack_stretches)
        bead_of_place = np.append(np.repeat(np.arange(self.beads), np.diff(laying.first)), self.beads)
        self.melted_by = bead_of_place[self.place]
        self.shrunk = self._shrunk()
        self.springs = spring_set(tacked.compliance[np.ix_(self.rows, self.rows)], self.stiffness)
        self.free = self._free(self.rows)
        self.read = self.springs.forward(self.free)

    def _places(self, tack_stretches: Ints) -> Ints:
        """For each tack, the place of its stretch in the order laid; beyond the end if no bead reaches it."""
        place_of_stretch = np.full(len(self.shrink.across), len(self.laying.stretches))
        place_of_stretch[self.laying.stretches] = np.arange(len(self.laying.stretches))
        return place_of_stretch[tack_stretches]

    def _shrunk(self) -> Floats:
        """Movement of every row by the shrinkage of each bead, shape (n, B)."""
        stretches, total = self.laying.stretches, len(self.shrink.across)
        seen = self.tacked.compliance
        along = seen[:, SPRINGS * total + stretches] * self.shrink.tendon
        across = seen[:, (SPRINGS + 1) * total + stretches] * (
            self.shrink.across[stretches] * self.laying.lengths
        )
        return np.add.reduceat(-along - across, self.laying.first[:-1], axis=1)

    def _free(self, rows: Ints) -> Floats:
        """What rows would read without any bead's springs, at every moment."""
        free = np.zeros((len(rows), self.beads + 1))
        free[:, :-1] = self.tacked.thermal[rows] @ self.laying.states
        free[:, 1:] += np.cumsum(self.shrunk[rows], axis=1)
        return free + self.tacked.offset[rows, None]

    def run(self) -> Walked:
        """Go through the beads in order; each finds its springs' zeros from those before."""
        zero, let_go = np.zeros(len(self.rows)), np.zeros(len(self.rows))
        melting = self._melting()
        turn = np.array([0.0, 0.0, 0.0, self.shrink.rotation])
        for bead in range(self.beads):
            held, after = SPRINGS * self.laying.first[bead : bead + 2]
            block = self.springs.lower[held:after, held:after]
            born = self.read[held:after, bead]
            if bead in melting:
                below = self.springs.lower[held:after, :held] @ zero[:held]
                let_go[held:after] = self._let_go(melting[bead], held, block, block @ born + below)
            turned = np.linalg.solve(block, np.tile(turn, (after - held) // SPRINGS))
            zero[held:after] = born + turned + block.T @ let_go[held:after]
        return self._outcome(zero, let_go)

    def _melting(self) -> dict[int, Ints]:
        """Numbers of the tacks that each bead of the plan melts."""
        beads = self.melted_by
        return {int(bead): np.flatnonzero(beads == bead) for bead in np.unique(beads[beads < self.beads])}

    def _let_go(self, tacks: Ints, held: int, block: Floats, reading: Floats) -> Floats:
        """Pull on a bead's rows that takes the force out of the tacks under it.

        The tack stays as stiffness; its zero moves by what makes its force vanish, which acts on the
        structure as this pull. Afterwards the bead is born, and a constant pull on the very rows of its
        springs is no more than a shift of their zero: L_RR^T times the pull in the space of W.
        """
        own = (SPRINGS * self.place[tacks][:, None] + np.arange(SPRINGS)).ravel() - held
        theirs = spring_rows(tacks)
        stiffness = self.tacked.stiffness[theirs]
        lower = block[own]
        compliance = lower @ lower.T - np.diag(1.0 / self.stiffness[held + own])
        moved = np.linalg.solve(
            np.eye(len(own)) - compliance * stiffness, reading[own] - self.tacked.zero[theirs]
        )
        pull = np.zeros(len(block))
        pull[own] = stiffness * moved
        return pull

    def _outcome(self, zero: Floats, let_go: Floats) -> Walked:
        born_at = np.repeat(np.arange(self.beads), SPRINGS * np.diff(self.laying.first))
        carried = np.where(np.arange(self.beads + 1) > born_at[:, None], self.read - zero[:, None], 0.0)
        forces = self.springs.backward(carried[:, -1])
        cold = self.tacked.offset + self.shrunk.sum(axis=1)
        cold = cold - self.tacked.compliance[:, self.rows] @ forces
        return Walked(cold, self._tack_forces(carried), (forces + let_go).reshape(-1, SPRINGS))

    def _tack_forces(self, carried: Floats) -> Floats:
        """Force of each tack at every moment up to the start of the bead that melts it, (T, 3, B + 1)."""
        reading = np.empty((len(self.tacked.rows), self.beads + 1))
        reached = np.repeat(self.place < len(self.laying.stretches), SPRINGS)
        own = (SPRINGS * self.place[:, None] + np.arange(SPRINGS)).ravel()[reached]
        # A tack reads the very rows of the bead to come, so the bead's rows of L tell what it reads.
        reading[reached] = self.free[own] - self.springs.lower[own] @ carried
        if not reached.all():
            rows = self.tacked.rows[~reached]
            link = self.springs.forward(self.tacked.compliance[np.ix_(self.rows, rows)])
            reading[~reached] = self._free(rows) - link.T @ carried
        pulls = (self.tacked.stiffness[:, None] * (reading - self.tacked.zero[:, None])).reshape(
            -1, SPRINGS, self.beads + 1
        )
        alive = np.arange(self.beads + 1) <= self.melted_by[:, None]
        return pulls[:, :3] * alive[:, None, :]
