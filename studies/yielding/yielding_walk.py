"""The lock-in walk with tacks and beads that yield: the same structure, heat and shrinkage, solved moment by moment."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from axlewright.distortion.functionals import SPRINGS
from axlewright.distortion.shape import ColdShape, cold_shape
from axlewright.distortion.tacked import spring_rows
from axlewright.plan.bench import OnTheBench
from axlewright.plan.timeline import Timeline
from axlewright.solid.mesh import Floats, Ints
from studies.yielding.laid_out import LaidOut, Yielding, laid_out, tack_strength
from studies.yielding.return_mapping import Limits, overload, throat_load
from studies.yielding.settle import Settled, settle

NONE: Ints = np.array([], dtype=np.int64)
"""No springs."""


@dataclass(frozen=True)
class Yielded:
    """What a walk with yielding leaves.

    Args:
        cold: every row of the structure when all is cold, shape (n,).
        shape: the cold shape.
        tack_forces: of each tack when each bead starts and when all is cold, zero once melted, shape (T, 4, B + 1).
        tack_demand: throat load each tack would carry at these moments had it not slipped, over its cold design
            strength, largest, shape (T,); above 1 it has slipped.
        tack_slips: path of each tack's slips along and across until it is melted, shape (T, 2) [m].
        bead_slips: the same for each stretch laid, shape (S, 2) [m].
        overload: largest force beyond what a spring carries at any moment, as a share of it.
    """

    cold: Floats
    shape: ColdShape
    tack_forces: Floats
    tack_demand: Floats
    tack_slips: Floats
    bead_slips: Floats
    overload: float


class YieldingWalker:
    """A job on the bench, ready to walk plans with yielding.

    Args:
        bench: the job, not in a fixture.
        rule: what is taken for yielding.

    Raises:
        ValueError: the housing lies in a fixture.
    """

    def __init__(self, bench: OnTheBench, rule: Yielding) -> None:
        if bench.fixture is not None:
            raise ValueError(
                "a housing in a fixture is not part of this study; take the fixture out of the job"
            )
        self.bench, self.rule = bench, rule
        compliance, lengths = bench.held.compliance, bench.model.lengths
        first, second = SPRINGS * len(lengths), (SPRINGS + 1) * len(lengths)
        along = compliance[first:second] * bench.shrink.tendon
        across = compliance[second : second + len(lengths)] * (bench.shrink.across * lengths)[:, None]
        self.shrunk = -along - across
        """Movement of every row (columns) by the whole shrinkage of each stretch (rows), shape (S, n)."""

    def walk(self, line: Timeline) -> Yielded:
        """Lay the beads of a plan."""
        return _Walk(self, line, laid_out(self.bench, self.rule, line.laying)).done()


@dataclass
class _Walk:
    """One plan being walked."""

    walker: YieldingWalker
    line: Timeline
    springs: LaidOut
    bead: int = field(default=-1, init=False)
    worst: float = field(default=0.0, init=False)

    def __post_init__(self) -> None:
        """Start before the first tack."""
        count = len(self.springs.stretches)
        self.beads, self.tacks = len(self.line.steps), self.springs.tacks
        self.zero, self.slips = np.zeros((count, SPRINGS)), np.zeros((count, 2))
        self.yielded, self.still_tacks = np.zeros(count, dtype=bool), np.ones(self.tacks, dtype=bool)
        held = self.walker.bench.held
        self.warm, self.moved = held.thermal[self.springs.rows], np.zeros(len(held.compliance))

    def done(self) -> Yielded:
        """Set the tacks, lay the beads, let all cool."""
        for tack, state in enumerate(self.walker.bench.tacks.states.T):
            self._let(state, tack, born=np.array([tack]))
        set_at, stiff = self.zero[: self.tacks].copy(), self.springs.stiffness[: self.tacks]
        forces, demand = np.zeros((self.tacks, SPRINGS, self.beads + 1)), np.zeros(self.tacks)
        for bead in range(self.beads + 1):
            self.bead = bead
            settled = self._let(self._state(), self._active(self.bead))
            alive = self.springs.melted_by >= self.bead
            pulls = settled.force[: self.tacks]
            forces[alive, :, self.bead] = pulls[alive]
            unslipped = throat_load(pulls + stiff * (self.zero[: self.tacks] - set_at))
            demand[alive] = np.maximum(demand, unslipped)[alive]
            if self.bead < self.beads:
                self._lay()
        cold = self.moved - self.walker.bench.held.compliance[:, self.springs.rows] @ settled.force.ravel()
        model = self.walker.bench.model
        shape = cold_shape(model.stations, cold[6 * len(model.lengths) :])
        tacks, beads = self.slips[: self.tacks], self.slips[self.tacks :]
        return Yielded(
            cold, shape, forces, demand / tack_strength(self.walker.bench), tacks, beads, self.worst
        )

    def _state(self) -> Floats:
        """Thermal state when the bead starts; cold after the last."""
        states = self.line.laying.states
        return states[:, self.bead] if self.bead < self.beads else np.zeros(len(states))

    def _active(self, bead: int) -> int:
        """Number of springs there are when a bead starts."""
        return self.tacks + int(self.line.laying.first[bead])

    def _lay(self) -> None:
        """Melt what is under the bead, lay it, let it shrink and cool until the next start."""
        rule, bench = self.springs.rule, self.walker.bench
        before, there = self._active(self.bead), self._active(self.bead + 1)
        own, melted = np.arange(before, there), np.flatnonzero(self.springs.melted_by == self.bead)
        self._let(self._state(), before, loose=melted, born=own)
        # From here on a melted tack's steel slips with its bead and is counted there.
        self.still_tacks[melted] = False
        self.moved = self.moved + self.walker.shrunk[self.springs.stretches[own]].sum(axis=0)
        turned = False
        for lag in self._moments():
            soft = rule.soft is not None and lag <= rule.soft
            if not soft and not turned:
                self.zero[own, 3] += bench.shrink.rotation
                turned = True
            loose = np.concatenate([melted, own]) if soft else NONE
            self._let(self._after_arc(lag), there, loose, yields=lag > 0 or rule.arc_end)
        if not turned:
            self.zero[own, 3] += bench.shrink.rotation

    def _moments(self) -> list[float]:
        """Times after the arc stops at which springs are let settle, before the next start [s]."""
        rule, line = self.springs.rule, self.line
        pause = np.inf
        if self.bead + 1 < self.beads:
            pause = line.starts[self.bead + 1] - line.starts[self.bead] - line.arcs[self.bead]
        wanted = {0.0, *rule.after} if not rule.elastic else set()
        if rule.soft is not None:
            wanted.add(min(rule.soft, pause))
        return sorted(lag for lag in wanted if lag <= pause)

    def _after_arc(self, lag: float) -> Floats:
        """Thermal state some time after the bead's arc has stopped."""
        bench, step = self.walker.bench, self.line.steps[self.bead]
        heat = bench.heated
        passed = bench.model.bead_pass(step.bead, step.reverse, heat.power, heat.travel_speed)
        return (self._state() * passed.kept + passed.gained) * np.exp(-bench.model.modes.rate * lag)

    def _let(
        self, state: Floats, active: int, loose: Ints = NONE, born: Ints = NONE, yields: bool = True
    ) -> Settled:
        """Let the springs there are come into balance at a thermal state.

        Args:
            state: the thermal state.
            active: number of springs there are.
            loose: those that carry nothing now; their zeros follow.
            born: those that are born into the shape found.
            yields: whether the others may yield now.
        """
        springs = self.springs
        free = (self.warm @ state + self.moved[springs.rows]).reshape(-1, SPRINGS)
        flags = np.zeros(active, dtype=bool)
        flags[loose] = True
        limits = springs.limits(state, active) if yields and not springs.rule.elastic else None
        hint = self.yielded[:active] & (limits is not None)
        stretch, stiff = free[:active] - self.zero[:active], springs.stiffness[:active]
        settled = settle(springs.inverse, stretch, stiff, limits, flags, hint)
        if len(born):
            rows, seen = spring_rows(springs.stretches[born]), springs.rows[: SPRINGS * active]
            pulled = self.walker.bench.held.compliance[np.ix_(rows, seen)] @ settled.force.ravel()
            self.zero[born] = free[born] - pulled.reshape(-1, SPRINGS)
        self.zero[:active] += settled.slip
        if limits is not None and active:
            self._note(settled, ~flags, limits)
        return settled

    def _note(self, settled: Settled, solid: np.ndarray, limits: Limits) -> None:
        """Keep the books of slips; what moves while it is molten is no slip of steel."""
        slip, active = settled.slip, len(settled.slip)
        self.yielded[:active] = solid & (np.abs(slip) > 0).any(axis=1)
        self.worst = max(self.worst, float(overload(settled.force, limits)[solid].max(initial=-1.0)))
        path = np.stack([np.abs(slip[:, 0]), np.hypot(slip[:, 1], slip[:, 2])], axis=1)
        counted = solid.copy()
        counted[: self.tacks] &= self.still_tacks[:active]
        self.slips[:active][counted] += path[counted]
