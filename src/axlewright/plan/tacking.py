"""Tacks: where they sit and in which order they are set.

Common practice: three tacks to hold, then a tack every 2 in all round.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from axlewright.housing.assembly import Assembly
from axlewright.plan.places import distances, farthest_first, stretch_middles
from axlewright.solid.mesh import Floats, Ints


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
    """As few stretches as keep tacks no farther apart than the spacing, evenly over each run of weld."""
    middles = np.array([stretch.middle for stretch in assembly.stretches])
    return np.concatenate([_evenly(run, middles[run], spacing) for run in _runs(assembly)])


def _runs(assembly: Assembly) -> list[Ints]:
    """Stretches that follow one another without a gap."""
    stretches = assembly.stretches
    joined = [a.seam == b.seam and abs(a.end - b.start) < 1e-9 for a, b in pairwise(stretches)]
    return np.split(np.arange(len(stretches)), np.flatnonzero(~np.array(joined, dtype=bool)) + 1)


def _evenly(run: Ints, middles: Floats, spacing: float) -> Ints:
    for count in range(1, len(run) + 1):
        chosen = ((np.arange(count) + 0.5) * len(run) / count).astype(int)
        # A run's ends may stand half a spacing beyond its first and last tack, so that neighbouring runs join up.
        reach = np.concatenate([[middles[0] - spacing / 2], middles[chosen], [middles[-1] + spacing / 2]])
        if np.diff(reach).max() <= spacing + 1e-6:
            break
    return run[chosen]


def _far_and_alternate(assembly: Assembly, stretches: Ints) -> Ints:
    middles = stretch_middles(assembly)[stretches]
    side = np.array([assembly.stretches[n].seam for n in stretches])
    return stretches[farthest_first(distances(middles), side, start=0)]
