"""In which welding position each bead lies at each turn of the housing (ISO 6947), and where it may be welded.

A bead may be welded flat or horizontal (PA, PB), sideways or upward (PC, PF); overhead (PD, PE) only where the job
file allows it and no turn gives anything better. Of the turns that may be used the most comfortable is preferred
where the housing is turned anyway; for comfort alone it is not turned. Vertical down (PG) is never planned: the
pool runs ahead of the arc, and a fillet that carries load may then lie on the plate without being fused to it
(lack of fusion).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from axlewright.errors import Fault, JobFileError
from axlewright.housing.assembly import Assembly
from axlewright.housing.position import NAMES, PG, bead_directions, bead_positions
from axlewright.solid.mesh import Ints

QUARTER_TURNS = {0.0: "as on the vehicle", 90.0: "front side up", 180.0: "upside down", 270.0: "rear side up"}
"""Turns that are proposed where those of the job file are not enough [deg]."""

_COMFORT = {"PA": 0, "PB": 0, "PC": 1, "PF": 1, "PD": 2, "PE": 2, "PG": 3}
_OVERHEAD, _NEVER = 2, 3
_CLASS = np.array([_COMFORT[name] for name in NAMES])
"""Class of comfort of each position in `NAMES`."""


@dataclass(frozen=True)
class Positions:
    """Welding positions of all beads at all turns the stands allow.

    Args:
        turns: the turns [deg], shape (T,).
        names: position of every bead at every turn, e.g. "PB", shape (B, T).
        allowed: whether the bead may be welded at that turn, shape (B, T); every bead has at least one.
        comfortable: whether it lies flat or horizontal then (PA, PB), shape (B, T).
        reverse: the sense the position demands (an upright seam is welded upward): 0 either,
            1 from start to end, -1 from end to start, shape (B, T).
    """

    turns: tuple[float, ...]
    names: NDArray[np.str_]
    allowed: NDArray[np.bool_]
    comfortable: NDArray[np.bool_]
    reverse: NDArray[np.int64]


def positions(assembly: Assembly, turns: tuple[float, ...], overhead: bool) -> Positions:
    """Welding positions of a job's beads.

    Args:
        assembly: the meshed job with its beads.
        turns: turns the stands allow [deg].
        overhead: whether beads may be welded overhead.

    Raises:
        JobFileError: some beads can be welded at none of the turns.
    """
    number, sense = _at(assembly, turns)
    classes = _CLASS[number]
    best = classes.min(axis=1)
    stuck = np.flatnonzero(best > (_OVERHEAD if overhead else _OVERHEAD - 1))
    if len(stuck):
        raise JobFileError(*_faults(assembly, turns, number, stuck))
    allowed = classes <= np.maximum(best, _OVERHEAD - 1)[:, None]
    return Positions(turns, np.array(NAMES)[number], allowed, classes == 0, sense)


def _at(assembly: Assembly, turns: tuple[float, ...]) -> tuple[Ints, Ints]:
    """Number in `NAMES` and climbing sense of every bead at every turn, shapes (B, T)."""
    beads = bead_directions(assembly)
    found = [bead_positions(beads, turn) for turn in turns]
    number, sense = (np.stack(columns, axis=1) for columns in zip(*found, strict=True))
    return number, sense


def _faults(assembly: Assembly, turns: tuple[float, ...], number: Ints, stuck: Ints) -> list[Fault]:
    """One fault for every seam with beads that can be welded at no turn."""
    on_seam = np.array([assembly.beads[bead].seam for bead in stuck])
    by_quarters = _CLASS[_at(assembly, tuple(QUARTER_TURNS))[0]]
    return [
        _fault(assembly, seam, turns, number[beads], by_quarters[beads])
        for seam in np.unique(on_seam)
        for beads in [stuck[on_seam == seam]]
    ]


def _fault(assembly: Assembly, seam: int, turns: tuple[float, ...], number: Ints, by_quarters: Ints) -> Fault:
    """What is wrong with the beads of one seam and what would help."""
    where = assembly.seams[seam]
    met = ", ".join(name for n, name in enumerate(NAMES) if n in number)
    beads = "1 bead" if len(number) == 1 else f"{len(number)} beads"
    allowed = (
        f'{beads} of the {where.name} of "{where.attachment}" can be welded at none of these turns ({met})'
    )
    value = "[" + ", ".join(f"{turn:g}" for turn in turns) + "]"
    return Fault("turns in [bench]", value, allowed, _remedy(number, by_quarters))


def _remedy(number: Ints, by_quarters: Ints) -> str:
    """The turn that suits all the beads best, and leave to weld overhead or shorter beads."""
    worst = by_quarters.max(axis=0)
    helpful = [
        f"{turn:g} ({words})"
        for (turn, words), comfort in zip(QUARTER_TURNS.items(), worst, strict=True)
        if comfort == worst.min() < _OVERHEAD
    ]
    turn = f"Allow another turn: {' or '.join(helpful)}" if helpful else "Allow more turns"
    if (number == PG).all(axis=1).any():
        return f"{turn}; or set a smaller bead_length, so that no bead runs over the top of a curve."
    return f"{turn}; or write overhead = true, where the welder is practised in it."
