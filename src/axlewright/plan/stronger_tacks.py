"""Tacks that hold: those a plan would overload are made longer, and where that is not enough, more are set."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from axlewright.plan.bench import OnTheBench
from axlewright.plan.timeline import Step
from axlewright.solid.mesh import Floats, Ints

HOLDS = 0.9
"""Tacks that carry more of their strength are made longer, once any tack is overloaded."""

AIM = 0.8
"""Share of its strength that a tack made longer should carry."""

STEP = 0.005
"""Tacks are made longer in steps of so much [m]."""

LONGEST = 0.8
"""Longest tack as a share of the distance between tacks; beyond that it is a bead, and beads are planned."""

ROUNDS = 12
"""A longer tack is stiffer and draws more load, so lengths are found in rounds."""


def strengthened(bench: OnTheBench, steps: tuple[Step, ...]) -> OnTheBench:
    """The bench with the tacks a plan needs; the same one if its tacks hold.

    If neither longer nor more tacks hold, the strongest set that was tried is given.

    Args:
        bench: the job with its tacks.
        steps: the plan.
    """
    for _ in range(ROUNDS):
        load = bench.try_plan(steps).tack_utilisation
        if load.max(initial=0.0) <= HOLDS:
            return bench
        wanted = _longer(bench, load)
        if not np.array_equal(wanted, bench.tack_lengths):
            bench = replace(bench, longer_tacks=tuple(wanted.tolist()))
            continue
        added = _beside(bench, np.flatnonzero(load > HOLDS))
        if not added:
            return bench
        lengths = (*bench.tack_lengths.tolist(), *(bench.job.welder.tack_length for _ in added))
        bench = replace(bench, extra_tacks=(*bench.extra_tacks, *added), longer_tacks=lengths)
    return bench


def _longer(bench: OnTheBench, load: Floats) -> Floats:
    """Lengths that carry the load, no longer than a tack may be [m]."""
    welder = bench.job.welder
    longest = max(welder.tack_length, np.floor(LONGEST * welder.tack_spacing / STEP + 1e-9) * STEP)
    needed = np.ceil(bench.tack_lengths * load / AIM / STEP - 1e-9) * STEP
    return np.where(load > HOLDS, np.minimum(needed, longest), bench.tack_lengths)


def _beside(bench: OnTheBench, tacks: Ints) -> list[int]:
    """Stretches next to overloaded tacks, on the same run of weld, that have no tack yet."""
    stretches, tacked = bench.model.assembly.stretches, set(bench.tack_places.tolist())
    found = []
    for tack in bench.tack_places[tacks].tolist():
        for beside in (tack - 1, tack + 1):
            if not 0 <= beside < len(stretches) or beside in tacked or beside in found:
                continue
            here, there = stretches[min(tack, beside)], stretches[max(tack, beside)]
            if here.seam == there.seam and abs(here.end - there.start) < 1e-9:
                found.append(beside)
    return found
