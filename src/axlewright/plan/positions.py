"""In which welding position each bead lies at each turn of the housing (ISO 6947)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from axlewright.housing.assembly import Assembly


@dataclass(frozen=True)
class Positions:
    """Welding positions of all beads at all turns the stands allow.

    Args:
        turns: the turns [deg], shape (T,).
        names: position of every bead at every turn, e.g. "PB", shape (B, T).
        allowed: whether the bead may be welded at that turn, shape (B, T); every bead has at least one.
        reverse: the sense the position demands (an upright seam is welded upward): 0 either,
            1 from start to end, -1 from end to start, shape (B, T).
    """

    turns: tuple[float, ...]
    names: NDArray[np.str_]
    allowed: NDArray[np.bool_]
    reverse: NDArray[np.int64]


def positions(assembly: Assembly, turns: tuple[float, ...], overhead: bool) -> Positions:
    """Welding positions of a job's beads."""
    shape = (len(assembly.beads), len(turns))
    return Positions(turns, np.full(shape, "PB"), np.ones(shape, dtype=bool), np.zeros(shape, dtype=np.int64))
