"""The rule-of-thumb plan that ours is held against (common practice, no published source).

Change side after each bead, as far from the last as possible, the third between the first two; after every
four or five beads let it cool 15 to 20 minutes. A guard by the clock face 9, 3, 6, 10, 5, then the rest; a
spacer all round. Attachments one after another.
"""

from __future__ import annotations

import numpy as np

from axlewright.housing.assembly import Assembly
from axlewright.job.schema import Bench
from axlewright.plan.places import bead_middles, distances, farthest_first
from axlewright.plan.positions import Positions, positions
from axlewright.plan.tacking import attachments_in_order
from axlewright.plan.timeline import Step
from axlewright.solid.mesh import Ints

GUARD_CLOCK = (9.0, 3.0, 6.0, 10.0, 5.0)
"""Clock positions a guard is begun at."""


def common_practice(assembly: Assembly, bench: Bench) -> tuple[Step, ...]:
    """The common-practice plan of a job.

    Of each attachment, what can be reached as the housing lies is welded before it is turned.

    Raises:
        JobFileError: a bead can be reached at none of the turns the job allows.
    """
    reach = positions(assembly, bench.turns, bench.overhead)
    steps: list[Step] = []
    for name in attachments_in_order(assembly, bench.order):
        left = beads_of_attachment(assembly, name)
        while len(left):
            turn = _turn(reach, left, steps[-1].turn if steps else 0.0)
            column = reach.turns.index(turn)
            here = reach.allowed[left, column]
            for bead in _in_order(assembly, left[here]):
                pause = len(steps) > 0 and len(steps) % bench.beads_between_cool_downs == 0
                upward = int(reach.reverse[bead, column])
                steps.append(Step(bead, upward < 0, bench.cool_down if pause else 0.0, turn))
            left = left[~here]
    return tuple(steps)


def _turn(reach: Positions, beads: Ints, lies: float) -> float:
    """As the housing lies already if any of the beads can be welded so, else where most of them can."""
    if lies in reach.turns and reach.allowed[beads, reach.turns.index(lies)].any():
        return lies
    return reach.turns[int(np.argmax(reach.allowed[beads].sum(axis=0)))]


def beads_of_attachment(assembly: Assembly, name: str) -> Ints:
    """Numbers of the beads that weld one attachment on."""
    return np.array(
        [number for number, bead in enumerate(assembly.beads) if assembly.seams[bead.seam].attachment == name]
    )


def _in_order(assembly: Assembly, beads: Ints) -> list[int]:
    """Beads of one attachment in the order of common practice."""
    kind = assembly.seams[assembly.beads[beads[0]].seam].kind
    if kind == "spacer":
        return beads.tolist()
    distance = distances(bead_middles(assembly)[beads])
    side = np.array([assembly.beads[bead].seam for bead in beads])
    if kind == "guard":
        return [int(beads[n]) for n in _by_the_clock(assembly, beads, distance)]
    return [int(beads[n]) for n in farthest_first(distance, side, start=0)]


def _by_the_clock(assembly: Assembly, beads: Ints, distance: np.ndarray) -> list[int]:
    """The five clock positions first, then the rest, each as far from the last as possible."""
    clocks = np.array([_clock(assembly, bead) for bead in beads])
    order: list[int] = []
    for wanted in GUARD_CLOCK:
        away = np.abs((clocks - wanted + 6.0) % 12.0 - 6.0)
        away[order] = np.inf
        # Half an hour of the clock face more than a bead is long: the guard does not reach this position.
        if away.min() < 1.0:
            order.append(int(np.argmin(away)))
    left = [n for n in range(len(beads)) if n not in order]
    while left:
        order.append(max(left, key=lambda n: (round(float(distance[n, order[-1:]].sum()), 3), -n)))
        left.remove(order[-1])
    return order


def _clock(assembly: Assembly, bead: int) -> float:
    seam = assembly.seams[assembly.beads[bead].seam]
    assert seam.clock is not None
    return float(seam.at(seam.clock, np.array((assembly.beads[bead].start + assembly.beads[bead].end) / 2)))
