"""Seams: the lines where an attachment's edge meets what it is welded to; beads: how a seam is cut up."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from axlewright.solid.mesh import Floats, Ints

STRETCH = 0.025
"""Beads are followed in stretches of about this length [m], two to a bead of 2 in."""


@dataclass(frozen=True)
class Seam:
    """A line to be welded between a host part and a guest part.

    Args:
        attachment: name of what is welded on.
        kind: its kind: "truss", "guard", "spacer", "gusset" or "bracket".
        name: name of the seam on it, e.g. "front seam".
        host: number of the part welded to.
        guest: number of the part welded on.
        path: points along the seam, shape (P, 3) [m].
        normal: unit vectors out of the host at those points, shape (P, 3).
        weld_side: unit vectors along the host's skin toward the side the fillet lies on, shape (P, 3).
        clock: clock position at those points, counted on past 12, or None.
        openings: stretches left unwelded, arc lengths (from, to) [m].
        corners: arc lengths where no bead may run through [m].
        closed: True where the end joins the start.
        guest_side: unit vectors along the guest's skin away from the host, shape (P, 3), or None where it stands
            square on the host.
    """

    attachment: str
    kind: str
    name: str
    host: int
    guest: int
    path: Floats
    normal: Floats
    weld_side: Floats
    clock: Floats | None = None
    openings: tuple[tuple[float, float], ...] = ()
    corners: tuple[float, ...] = ()
    closed: bool = False
    guest_side: Floats | None = None

    @property
    def on_bare_skin(self) -> bool:
        """Whether it is a line on one part, which holds nothing together."""
        return self.host == self.guest

    @property
    def arc(self) -> Floats:
        """Arc length at the path's points, shape (P,) [m]."""
        return arc_length(self.path)

    @property
    def length(self) -> float:
        """Length of the seam, openings included [m]."""
        return float(self.arc[-1])

    def at(self, values: Floats, s: Floats) -> Floats:
        """Interpolate per-point values (P,) or (P, 3) to arc lengths `s`."""
        arc, columns = self.arc, values.reshape(len(values), -1)
        found = np.stack([np.interp(s, arc, column) for column in columns.T], axis=-1)
        return found.reshape(np.shape(s) + values.shape[1:])

    def tangent(self, s: Floats) -> Floats:
        """Unit vectors along the seam in the sense of rising arc length, shape (..., 3)."""
        step = min(1e-3, self.length / 10)
        ahead, behind = (
            self.at(self.path, np.asarray(s) + step / 2),
            self.at(self.path, np.asarray(s) - step / 2),
        )
        chord = ahead - behind
        return chord / np.linalg.norm(chord, axis=-1, keepdims=True)

    def welded(self) -> tuple[tuple[float, float], ...]:
        """The stretches between openings and corners that get beads, arc lengths [m]."""
        cuts = sorted({0.0, self.length, *self.corners, *(edge for pair in self.openings for edge in pair)})
        spans = [(a, b) for a, b in pairwise(cuts) if b - a > 1e-6]
        return tuple(span for span in spans if not self._open(sum(span) / 2))

    def _open(self, s: float) -> bool:
        return any(a <= s <= b for a, b in self.openings)


@dataclass(frozen=True)
class Bead:
    """A piece of seam welded in one go: seam number and arc lengths from and to [m]."""

    seam: int
    start: float
    end: float

    @property
    def length(self) -> float:
        """Length of the bead [m]."""
        return self.end - self.start


@dataclass(frozen=True)
class Stretch:
    """The smallest piece of seam the model follows: seam and bead number, arc lengths from and to [m]."""

    seam: int
    bead: int
    start: float
    end: float

    @property
    def middle(self) -> float:
        """Arc length of its middle [m]."""
        return (self.start + self.end) / 2

    @property
    def length(self) -> float:
        """Length [m]."""
        return self.end - self.start


def arc_length(path: Floats) -> Floats:
    """Arc length along a polyline, shape (P,) [m]."""
    return np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(path, axis=0), axis=1))])


def cut_into_beads(seams: tuple[Seam, ...], longest: float) -> tuple[Bead, ...]:
    """Cut every seam into equal beads no longer than `longest` [m], leaving openings out."""
    return tuple(
        Bead(number, float(a), float(b))
        for number, seam in enumerate(seams)
        for start, end in seam.welded()
        for a, b in _pieces(start, end, longest)
    )


def cut_into_stretches(beads: tuple[Bead, ...]) -> tuple[Stretch, ...]:
    """Cut every bead into stretches of about `STRETCH`; one that is alone on its seam into two at least.

    A single stretch is held at its middle only and could rock lengthwise.
    """
    on_seam = Counter(bead.seam for bead in beads)
    return tuple(
        Stretch(bead.seam, number, float(a), float(b))
        for number, bead in enumerate(beads)
        for a, b in _equal(
            bead.start, bead.end, max(1 if on_seam[bead.seam] > 1 else 2, round(bead.length / STRETCH))
        )
    )


def _pieces(start: float, end: float, longest: float) -> list[tuple[float, float]]:
    return _equal(start, end, max(1, int(np.ceil((end - start) / longest - 1e-3))))


def _equal(start: float, end: float, count: int) -> list[tuple[float, float]]:
    marks = np.linspace(start, end, count + 1)
    return list(pairwise(marks))


def stretches_of(stretches: tuple[Stretch, ...], bead: int) -> Ints:
    """Numbers of the stretches a bead is made of."""
    return np.array([n for n, stretch in enumerate(stretches) if stretch.bead == bead])
