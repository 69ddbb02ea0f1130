"""Tacks: where they sit and in which order they are set.

Common practice: three tacks to hold, then a tack every 2 in all round.
"""

from __future__ import annotations

import numpy as np

from axlewright.housing.assembly import Assembly
from axlewright.plan.places import distances, farthest_first, stretch_middles
from axlewright.solid.mesh import Ints


def tack_order(assembly: Assembly, spacing: float, kinds: tuple[str, ...]) -> Ints:
    """Stretches that get a tack, attachment by attachment, the three that hold first.

    A tack sits in the middle of a stretch, so its place is exact to half a stretch.

    Args:
        assembly: the meshed job.
        spacing: longest distance between tacks along a seam [m].
        kinds: kinds of attachment in the order they are fitted.
    """
    chosen = _spread(assembly, spacing)
    groups = [
        [n for n in chosen if assembly.seams[assembly.stretches[n].seam].attachment == name]
        for name in attachments_in_order(assembly, kinds)
    ]
    return np.array([n for group in groups if group for n in _far_and_alternate(assembly, np.array(group))])


def attachments_in_order(assembly: Assembly, kinds: tuple[str, ...]) -> list[str]:
    """Names of attachments, by kind as ordered, then as they stand in the job file."""
    names = {seam.attachment: seam.kind for seam in assembly.seams}
    return [name for kind in in_full(kinds) for name, its_kind in names.items() if its_kind == kind]


def in_full(kinds: tuple[str, ...]) -> tuple[str, ...]:
    """The order of kinds with any that the shop did not mention at the end, in the order of the trade."""
    trade = ("truss", "guard", "spacer", "gusset", "bracket")
    return kinds + tuple(kind for kind in trade if kind not in kinds)


def _spread(assembly: Assembly, spacing: float) -> Ints:
    """One stretch at every spacing along the beads of each seam, and at least one on each bead run."""
    chosen: list[int] = []
    last: tuple[int, float] | None = None
    for number, stretch in enumerate(assembly.stretches):
        # Half a stretch of slack: tacks sit in the middle of stretches, so spacing cannot be met exactly.
        new_run = (
            last is None or last[0] != stretch.seam or stretch.middle - last[1] > spacing - stretch.length / 2
        )
        if new_run:
            chosen.append(number)
            last = (stretch.seam, stretch.middle)
    return np.array(chosen)


def _far_and_alternate(assembly: Assembly, stretches: Ints) -> Ints:
    middles = stretch_middles(assembly)[stretches]
    side = np.array([assembly.stretches[n].seam for n in stretches])
    return stretches[farthest_first(distances(middles), side, start=0)]
