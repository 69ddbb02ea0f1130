"""Plans none of which beats another on everything that counts."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from axlewright.plan.search.orders import Order
from axlewright.plan.timeline import Step
from axlewright.solid.mesh import Floats


@dataclass(frozen=True)
class Found:
    """A plan the search has tried.

    Args:
        order: what it was made from.
        steps: its beads.
        counts: bench time [s], hottest spot over ambient [K], distortion [m], worst tack utilisation.
        too_warm: how far seats and seals get beyond their limits, as a share, 0 where they keep them.
    """

    order: Order
    steps: tuple[Step, ...]
    counts: Floats
    too_warm: float


@dataclass
class Archive:
    """The best plans so far.

    A plan is let in unless one that is in is as good in every count, to within what does not matter; it drives out
    those that it beats in every count.

    Args:
        fine: difference that does not matter in each count, shape (4,).
    """

    fine: Floats
    plans: list[Found] = field(default_factory=list)

    def offer(self, found: Found) -> bool:
        """Let a plan in if it deserves it."""
        if found.too_warm > 0 and any(plan.too_warm == 0 for plan in self.plans):
            return False
        if self.plans:
            there = np.array([plan.counts for plan in self.plans])
            same_limits = np.array([plan.too_warm <= found.too_warm for plan in self.plans])
            if (np.all(there <= found.counts + self.fine, axis=1) & same_limits).any():
                return False
            beaten = np.all(found.counts <= there, axis=1)
            if found.too_warm == 0:
                beaten |= np.array([plan.too_warm > 0 for plan in self.plans])
            self.plans = [plan for plan, out in zip(self.plans, beaten, strict=True) if not out]
        self.plans.append(found)
        return True

    def thinned(self, most: int, kept: list[Found]) -> list[Found]:
        """At most so many plans, as different as can be: those named, the best in each count, the farthest apart."""
        if not self.plans:
            return []
        counts = np.array([plan.counts for plan in self.plans])
        spans = np.maximum(np.ptp(counts, axis=0), self.fine)
        chosen = [next(n for n, plan in enumerate(self.plans) if plan is one) for one in kept]
        chosen = list(dict.fromkeys(chosen + [int(n) for n in counts.argmin(axis=0)]))
        while len(chosen) < min(most, len(counts)):
            apart = np.abs((counts[:, None] - counts[chosen]) / spans).sum(axis=2).min(axis=1)
            apart[chosen] = -1.0
            chosen.append(int(np.argmax(apart)))
        return sorted((self.plans[n] for n in chosen), key=lambda plan: float(plan.counts[0]))
