"""When the housing is turned, and which tacks are longer than usual: what a list of beads or tacks must shout."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import groupby, pairwise

from axlewright.plan.pieces import PlannedBead, PlannedTack
from axlewright.sheets import wording


def turns_before(beads: Sequence[PlannedBead]) -> tuple[str, ...]:
    """How the housing is turned to lie before each bead, or "" where it stays; it is tacked as on the vehicle."""
    lies = [0.0, *(bead.turn_deg for bead in beads)]
    return tuple(wording.turned(now) if now != before else "" for before, now in pairwise(lies))


def enlarged_tacks(tacks: Iterable[PlannedTack], inch: bool) -> str:
    """Which tacks are made longer than the job's own and how long, in a sentence; empty where none is."""
    every = tuple(tacks)
    longer = sorted(
        (tack for tack in every if tack.enlarged), key=lambda tack: (round(tack.length, 4), tack.number)
    )
    if not longer:
        return ""
    groups = groupby(longer, key=lambda tack: wording.length(tack.length, inch))
    named = [f"{', '.join(f'T{tack.number}' for tack in group)}: {length}" for length, group in groups]
    usual = Counter(wording.length(tack.length, inch) for tack in every if not tack.enlarged)
    others = f", all others {usual.most_common(1)[0][0]}" if usual else ""
    return f"Make these tacks longer: {'; '.join(named)}{others}."
