"""What is laid and what is to come as one walk: the shape locked so far, and the shape to expect."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from axlewright.distortion.walk import Laying
from axlewright.plan.bench import OnTheBench, Trial
from axlewright.plan.replan.standing import Met, Standing
from axlewright.plan.timeline import Step, Timeline
from axlewright.solid.mesh import Floats, Ints

NO_TACK = 1e-9
"""Length of a tack that is not there: as good as no stiffness, and no division by nought [m]."""

Piece = tuple[Ints, Floats, Floats]
"""Stretches of an arc, how much of each counts [m], and the thermal state it met."""


def without_lost_tacks(bench: OnTheBench, lost: frozenset[int]) -> OnTheBench:
    """The bench as if tacks that were left out or have cracked had never been."""
    if not lost:
        return bench
    lengths = tuple(
        NO_TACK if number in lost else float(length) for number, length in enumerate(bench.tack_lengths)
    )
    return replace(bench, longer_tacks=lengths)


def locked_so_far(bench: OnTheBench, standing: Standing) -> Trial | None:
    """The beads laid so far walked as they were really laid; None before the first.

    Its cold shape is the one the housing would have if it cooled down now.
    """
    line = whole_line(bench, standing, None)
    return None if line is None else bench.judged(line)


def whole_line(bench: OnTheBench, standing: Standing, ahead: Timeline | None) -> Timeline | None:
    """Beads laid, as they were really laid, followed by those to come; None where there are neither.

    Spots and seats are those of the beads to come only: what is past cannot be changed any more.

    Args:
        bench: the job on the bench.
        standing: where things stand.
        ahead: the beads to come, in time from now on.
    """
    pieces = _laid_pieces(bench, standing)
    taken = set(np.concatenate([stretches for stretches, *_ in pieces]).tolist()) if pieces else set()
    if ahead is not None:
        pieces += _pieces_ahead(ahead, taken)
    pieces = [piece for piece in pieces if len(piece[0])]
    if not pieces:
        return None
    laying = Laying(
        np.concatenate([stretches for stretches, *_ in pieces]),
        np.concatenate([[0], np.cumsum([len(stretches) for stretches, *_ in pieces])]),
        np.concatenate([lengths for _, lengths, _ in pieces]),
        np.array([state for *_, state in pieces]).T,
    )
    if ahead is not None:
        return replace(ahead, laying=laying)
    arcs = [met.arc for met in standing.met]
    return Timeline(
        tuple(step_of(met) for met in standing.met),
        np.array([arc.start for arc in arcs]),
        np.array([arc.end - arc.start for arc in arcs]),
        np.array([met.spot_c - standing.ambient for met in standing.met]),
        laying,
        np.zeros(len(bench.model.modes.places)),
    )


def step_of(met: Met) -> Step:
    """A bead laid as a step of a plan."""
    return Step(met.arc.bead, met.arc.span[1] < met.arc.span[0], 0.0, met.turn)


def _laid_pieces(bench: OnTheBench, standing: Standing) -> list[Piece]:
    """A stretch passed by several arcs counts for the one that laid most of it, with all that they laid.

    A bead laid with more heat than planned pulls more in proportion, as if it were longer.
    """
    stretches = bench.model.assembly.stretches
    most = np.zeros(len(stretches))
    owner = np.full(len(stretches), -1)
    for number, met in enumerate(standing.met):
        better = met.arc.lengths > most[met.arc.stretches] + 1e-9
        mine = met.arc.stretches[better]
        most[mine], owner[mine] = met.arc.lengths[better], number
    pieces = []
    for number, met in enumerate(standing.met):
        mine = met.arc.stretches[owner[met.arc.stretches] == number]
        covered = [
            standing.coverage.of(stretches[n].seam, stretches[n].start, stretches[n].end) for n in mine
        ]
        pieces.append((mine, met.heat * np.array(covered), met.state))
    return pieces


def _pieces_ahead(ahead: Timeline, taken: set[int]) -> list[Piece]:
    """Beads to come; what an arc has already passed in part counts there."""
    first, laying = ahead.laying.first, ahead.laying
    pieces = []
    for number in range(len(first) - 1):
        span = slice(first[number], first[number + 1])
        free = np.array([stretch not in taken for stretch in laying.stretches[span].tolist()], dtype=bool)
        pieces.append((laying.stretches[span][free], laying.lengths[span][free], laying.states[:, number]))
    return pieces
