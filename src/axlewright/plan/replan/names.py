"""Beads, tacks, seams and watch places by the names and marks that people use for them.

A bead goes by its tag (`plan.tags`), a tack by its number in the order of tacking, T12, as on the work sheet.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from axlewright.housing.assembly import Assembly
from axlewright.plan.bead_words import distance_from_flange, seam_line
from axlewright.plan.pieces import SeamLine
from axlewright.plan.tags import bead_tags
from axlewright.solid.mesh import Ints

_TAG = re.compile(r"([A-Z]+?)[ .-]?([0-9]{1,4})")


@dataclass(frozen=True)
class Names:
    """The beads, tacks and places of a job by name.

    Args:
        assembly: the meshed job.
        tacks: the stretch each tack sits on, in the order of tacking, shape (T,).
        places: names of the watch places.
        half_length: half of the housing's length [m].
        backward: numbers of the beads that the plan welds from their end to their start.
    """

    assembly: Assembly
    tacks: Ints
    places: tuple[str, ...]
    half_length: float
    backward: frozenset[int] = frozenset()

    @cached_property
    def tags(self) -> tuple[str, ...]:
        """What each bead is called."""
        return bead_tags(self.assembly)

    @cached_property
    def lines(self) -> tuple[SeamLine, ...]:
        """The seams unrolled."""
        return tuple(seam_line(seam, self.half_length) for seam in self.assembly.seams)

    @cached_property
    def _bead_of_tag(self) -> dict[str, int]:
        return {tag: number for number, tag in enumerate(self.tags)}

    def bead(self, tag: str) -> int | None:
        """Number of the bead a tag names; blanks and lower case do no harm."""
        match = _TAG.fullmatch(tag.strip().upper())
        return self._bead_of_tag.get(f"{match[1]}{int(match[2])}") if match else None

    def tack(self, tag: str) -> int | None:
        """Number from 0 of the tack that "T12" or "12" names."""
        match = re.fullmatch(r"T?[ .-]?([0-9]{1,4})", tag.strip().upper())
        number = int(match[1]) - 1 if match else -1
        return number if 0 <= number < len(self.tacks) else None

    def seam(self, attachment: str, name: str) -> int | None:
        """Number of a seam by the names of attachment and seam, in any case of letters."""
        wanted = (attachment.strip().casefold(), name.strip().casefold())
        found = [
            number
            for number, seam in enumerate(self.assembly.seams)
            if (seam.attachment.casefold(), seam.name.casefold()) == wanted
        ]
        return found[0] if found else None

    def place(self, name: str) -> int | None:
        """Number of a watch place by its name."""
        names = [place.casefold() for place in self.places]
        wanted = name.strip().casefold()
        return names.index(wanted) if wanted in names else None

    def ends(self, bead: int) -> tuple[float, float]:
        """Arc lengths from which to which the plan welds a bead [m]."""
        piece = self.assembly.beads[bead]
        return (piece.end, piece.start) if bead in self.backward else (piece.start, piece.end)

    def bead_at(self, seam: int, s: float, toward: float | None) -> int | None:
        """The bead to which a mark on a seam belongs, or None where nothing is to be welded.

        Where two beads meet, `toward` tells them apart; without it the one that the plan begins there is meant.
        """
        beads = [number for number, bead in enumerate(self.assembly.beads) if bead.seam == seam]
        looked_at = s if toward is None else s + np.sign(toward - s) * min(abs(toward - s) / 2, 1e-3)
        near = [number for number in beads if self._reaches(number, looked_at)]
        begun = [number for number in near if abs(self.ends(number)[0] - s) < 1e-3]
        return next(iter(begun or near), None)

    def _reaches(self, bead: int, s: float) -> bool:
        piece = self.assembly.beads[bead]
        return bool(piece.start - 1e-6 <= s <= piece.end + 1e-6)

    def stretch_at(self, seam: int, s: float) -> int:
        """The stretch nearest to a mark on a seam."""
        away = [
            max(stretch.start - s, s - stretch.end, 0.0) if stretch.seam == seam else np.inf
            for stretch in self.assembly.stretches
        ]
        return int(np.argmin(away))

    def distance_of(self, seam: int, s: float) -> float:
        """Distance from the left flange of a place on a seam [m]."""
        return distance_from_flange(self.assembly.seams[seam], self.half_length, s)

    def where(self, bead: int) -> str:
        """A bead in words: "A3 (main truss, front seam)"."""
        seam = self.assembly.seams[self.assembly.beads[bead].seam]
        return f"{self.tags[bead]} ({seam.attachment}, {seam.name})"
