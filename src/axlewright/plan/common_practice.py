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
from axlewright.plan.tacking import attachments_in_order
from axlewright.plan.timeline import Step
from axlewright.solid.mesh import Ints

GUARD_CLOCK = (9.0, 3.0, 6.0, 10.0, 5.0)
"""Clock positions a guard is begun at."""


def common_practice(assembly: Assembly, bench: Bench) -> tuple[Step, ...]:
    """The common-practice plan of a job."""
    order = common_order(assembly, bench.order)
    pauses = (number > 0 and number % bench.beads_between_cool_downs == 0 for number in range(len(order)))
    return tuple(
        Step(bead, False, bench.cool_down if pause else 0.0)
        for bead, pause in zip(order, pauses, strict=True)
    )


def common_order(assembly: Assembly, kinds: tuple[str, ...]) -> list[int]:
    """Beads in the order of common practice, attachment after attachment."""
    return [
        bead
        for name in attachments_in_order(assembly, kinds)
        for bead in _order_of_attachment(assembly, name)
    ]


def beads_of_attachment(assembly: Assembly, name: str) -> Ints:
    """Numbers of the beads that weld one attachment on."""
    return np.array(
        [number for number, bead in enumerate(assembly.beads) if assembly.seams[bead.seam].attachment == name]
    )


def _order_of_attachment(assembly: Assembly, name: str) -> list[int]:
    beads = beads_of_attachment(assembly, name)
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
