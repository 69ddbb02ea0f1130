"""Walk a plan bead by bead: what stays locked in, and what the tacks carry on the way."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axlewright.distortion.births import TacksUnder, births
from axlewright.distortion.functionals import SPRINGS
from axlewright.distortion.lock_in import SpringSet, factorised
from axlewright.distortion.springs import Shrinkage
from axlewright.distortion.tacked import Tacked
from axlewright.solid.mesh import Floats, Ints

TACK_GROUPS = 4
"""Tacks are read in so many groups, the first melted first: a group's readings end with its last tack."""


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


@dataclass(frozen=True)
class _Born:
    """The springs of a plan's beads, n in all, with the zeros they were born with.

    `at` is the bead each belongs to; `free` what they would read without any of them, `carried` what they carry in the
    space of `lock_in`, both when each bead starts and cold, shape (n, B + 1); `let_go` what melted tacks let go.
    """

    springs: SpringSet
    tacks: TacksUnder
    at: Ints
    free: Floats
    zero: Floats
    let_go: Floats
    carried: Floats


class Walker:
    """A tacked structure ready to have plans walked on it; `lock_in` explains the method.

    A bead appears stress-free in the shape the housing has when its arc starts; then its shrinkage pulls and
    its heat spreads. A tack that a bead runs over melts: it lets go of its force at that moment. Forces are
    read when a bead starts, not while an arc burns: just then the steel beside it yields, and an elastic
    force would be far too high.

    What every plan uses is laid out once, stretch by stretch, so that a plan only picks its own order.

    Args:
        tacked: the structure after fit-up.
        tack_stretches: the stretch each tack sits on, shape (T,).
        shrink: what a metre of bead pulls.
        stiffness_per_length: of a bead, along, normal, side and rotation, shape (4,).
        whole: length of every stretch, shape (number of stretches,) [m].
    """

    def __init__(
        self,
        tacked: Tacked,
        tack_stretches: Ints,
        shrink: Shrinkage,
        stiffness_per_length: Floats,
        whole: Floats,
    ) -> None:
        self.tacked, self.tack_stretches, self.shrink = tacked, tack_stretches, shrink
        self.per_length, self.whole = stiffness_per_length, whole
        count, springs = len(whole), SPRINGS * len(whole)
        seen = tacked.compliance
        self.between = np.ascontiguousarray(seen[:springs, :springs]).reshape(count, SPRINGS, count, SPRINGS)
        self.of_springs = np.ascontiguousarray(seen[:, :springs])
        along = seen[springs : springs + count] * shrink.tendon
        across = seen[springs + count : springs + 2 * count] * (shrink.across * whole)[:, None]
        self.shrunk = -along - across
        """Movement of every row (columns) by the whole shrinkage of each stretch (rows), shape (S, n)."""
        self.moved = np.concatenate(
            [tacked.thermal[:springs].T, self.shrunk[:, :springs], tacked.offset[None, :springs]]
        )
        """What moves the springs' rows (columns): each thermal mode, each stretch's shrinkage, fit-up."""

    def walk(self, laying: Laying) -> Walked:
        """Lay the beads of a plan."""
        order = laying.stretches
        born = self._born(laying)
        forces = born.springs.backward(born.carried[:, -1])
        spread, share = np.zeros((len(self.whole), SPRINGS)), np.zeros(len(self.whole))
        spread[order], share[order] = forces.reshape(-1, SPRINGS), laying.lengths / self.whole[order]
        cold = self.tacked.offset + share @ self.shrunk - self.of_springs @ spread.ravel()
        pulls = self._tack_forces(laying, born)
        return Walked(cold, pulls, (forces + born.let_go).reshape(-1, SPRINGS))

    def readings(self, laying: Laying, states: Floats, laid: Ints, first: int) -> Floats:
        """The last rows of the structure, which read the axis, at moments of a plan, shape (K, n - first).

        A bead counts as laid once its arc is out: its springs are there and all its shrinkage pulls.

        Args:
            laying: the beads of the plan.
            states: thermal state at each moment, shape (m, K).
            laid: how many beads are laid by then, shape (K,).
            first: the first of the rows to be read.
        """
        order, born = laying.stretches, self._born(laying)
        moving = self._moving(laying, states, laid)
        there = laid[None, :] > born.at[:, None]
        carried = (born.springs.forward(self._seen_by(order, moving)) - born.zero[:, None]) * there
        forces = np.zeros((len(laid), len(self.whole), SPRINGS))
        forces[:, order] = born.springs.backward(carried).T.reshape(len(laid), -1, SPRINGS)
        moved = np.vstack([self.tacked.thermal[first:].T, self.shrunk[:, first:], self.tacked.offset[first:]])
        return moving @ moved - forces.reshape(len(laid), -1) @ self.of_springs[first:].T

    def _born(self, laying: Laying) -> _Born:
        beads = len(laying.first) - 1
        stiffness = (laying.lengths[:, None] * self.per_length).ravel()
        springs = self._springs(laying.stretches, stiffness)
        free = self._free(laying, laying.stretches)
        read = springs.forward(free)
        tacks = self._under_beads(laying)
        turn = np.array([0.0, 0.0, 0.0, self.shrink.rotation])
        zero, let_go = births(springs.lower, laying.first, read, turn, stiffness, tacks)
        at = np.repeat(np.arange(beads), SPRINGS * np.diff(laying.first))
        carried = (read - zero[:, None]) * (np.arange(beads + 1) > at[:, None])
        return _Born(springs, tacks, at, free, zero, let_go, carried)

    def _springs(self, order: Ints, stiffness: Floats) -> SpringSet:
        size = SPRINGS * len(order)
        picked = self.between.take(order, axis=0).take(order, axis=2).reshape(size, size)
        picked[np.diag_indices(size)] += 1.0 / stiffness
        return factorised(picked)

    def _free(self, laying: Laying, rows_of: Ints) -> Floats:
        """What springs over some stretches would read without any bead's springs, at each bead's start and cold."""
        states = np.append(laying.states, np.zeros((len(laying.states), 1)), axis=1)
        return self._seen_by(rows_of, self._moving(laying, states, np.arange(len(laying.first))))

    def _moving(self, laying: Laying, states: Floats, laid: Ints) -> Floats:
        """How much of everything in `moved` acts at moments with some states and beads laid, shape (K, ...)."""
        modes, beads = len(states), len(laying.first) - 1
        moving = np.zeros((len(laid), len(self.moved)))
        moving[:, :modes] = states.T
        there = laid[:, None] > np.repeat(np.arange(beads), np.diff(laying.first))
        moving[:, modes + laying.stretches] = there * (laying.lengths / self.whole[laying.stretches])
        moving[:, -1] = 1.0
        return moving

    def _seen_by(self, rows_of: Ints, moving: Floats) -> Floats:
        """What springs over some stretches read when that moves them, no bead's springs there, shape (n, K)."""
        free = (moving @ self.moved).reshape(len(moving), -1, SPRINGS)
        return free[:, rows_of].reshape(len(moving), -1).T

    def _under_beads(self, laying: Laying) -> TacksUnder:
        count, beads = len(laying.stretches), len(laying.first) - 1
        place_of = np.full(len(self.whole), count)
        place_of[laying.stretches] = np.arange(count)
        place = place_of[self.tack_stretches]
        melted_by = np.append(np.repeat(np.arange(beads), np.diff(laying.first)), beads)[place]
        return TacksUnder(
            place,
            melted_by,
            self.tacked.stiffness.reshape(-1, SPRINGS),
            self.tacked.zero.reshape(-1, SPRINGS),
        )

    def _tack_forces(self, laying: Laying, born: _Born) -> Floats:
        """Force of each tack at every moment up to the start of the bead that melts it, (T, 3, B + 1)."""
        springs, tacks, free, carried = born.springs, born.tacks, born.free, born.carried
        moments = len(laying.first)
        reading = np.zeros((moments, len(tacks.place), SPRINGS))
        reached = tacks.place < len(laying.stretches)
        by_place = np.argsort(tacks.place)[: np.count_nonzero(reached)]
        for group in np.array_split(by_place, TACK_GROUPS):
            if not len(group):
                continue
            # A tack reads the very rows of the bead to come, so the bead's rows of L tell what it reads; it
            # is gone after that bead, and until then nothing laid later carries anything.
            until = int(tacks.melted_by[group].max()) + 1
            held = SPRINGS * int(laying.first[until - 1])
            own = (SPRINGS * tacks.place[group][:, None] + np.arange(SPRINGS)).ravel()
            found = free.T[:until, own] - carried[:held, :until].T @ springs.lower[own, :held].T
            reading[:until, group] = found.reshape(until, -1, SPRINGS)
        if not reached.all():
            reading[:, ~reached] = self._beside(laying, springs, self.tack_stretches[~reached], carried)
        pulls = tacks.stiffness * (reading - tacks.zero)
        alive = np.arange(moments)[:, None] <= tacks.melted_by
        return (pulls[:, :, :3] * alive[:, :, None]).transpose(1, 2, 0)

    def _beside(self, laying: Laying, springs: SpringSet, stretches: Ints, carried: Floats) -> Floats:
        """What tacks read that no bead of the plan reaches, shape (B + 1, tacks, 4)."""
        free = self._free(laying, stretches)
        size = SPRINGS * len(stretches)
        across = self.between.take(laying.stretches, axis=0).take(stretches, axis=2).reshape(-1, size)
        read = free.T - carried.T @ springs.forward(np.asfortranarray(across))
        return read.reshape(len(laying.first), -1, SPRINGS)
