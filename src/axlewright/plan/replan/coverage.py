"""How much of each seam has been welded, wherever arcs really started and stopped."""

from __future__ import annotations

import numpy as np

from axlewright.housing.assembly import Assembly
from axlewright.solid.mesh import Floats, Ints

LEFT_OPEN = 0.2
"""A bead counts as laid when no more than this share of it is missing; a tie-in closes the rest [1]."""

LEAST = 1e-3
"""Shorter pieces than this are not worth an arc [m]."""

Span = tuple[float, float]


def overlaps(assembly: Assembly, seam: int, span: Span) -> tuple[Ints, Floats]:
    """The stretches of a seam that an arc over a span passes, in its order, and how much of each [m].

    A span on a closed seam may reach beyond its joint; `span` runs from where the arc starts to where it stops.
    """
    line, (low, high) = assembly.seams[seam], sorted(span)
    shifts = (0.0, line.length, -line.length) if line.closed else (0.0,)
    found = []
    for number, stretch in enumerate(assembly.stretches):
        if stretch.seam != seam:
            continue
        for shift in shifts:
            length = min(high, stretch.end + shift) - max(low, stretch.start + shift)
            if length > LEAST:
                found.append((stretch.start + shift, number, length))
    found.sort(reverse=span[1] < span[0])
    return np.array([n for _, n, _ in found], dtype=np.int64), np.array([length for *_, length in found])


class Coverage:
    """The welded spans of every seam; it only grows."""

    def __init__(self, assembly: Assembly) -> None:
        self.assembly = assembly
        self.spans: list[list[Span]] = [[] for _ in assembly.seams]

    def add(self, seam: int, span: Span) -> None:
        """Count a span as welded."""
        line, (low, high) = self.assembly.seams[seam], sorted(span)
        pieces = [(low, high)]
        if line.closed:
            pieces = [(low + shift, high + shift) for shift in (0.0, line.length, -line.length)]
        inside = [(max(a, 0.0), min(b, line.length)) for a, b in pieces]
        self.spans[seam] = _merged(self.spans[seam] + [(a, b) for a, b in inside if b > a])

    def of(self, seam: int, start: float, end: float) -> float:
        """Length welded between two places of a seam [m]."""
        return sum(max(0.0, min(b, end) - max(a, start)) for a, b in self.spans[seam])

    def share_left(self, bead: int) -> float:
        """Share of a bead that is not welded yet [1]."""
        piece = self.assembly.beads[bead]
        return 1.0 - self.of(piece.seam, piece.start, piece.end) / piece.length

    def is_laid(self, bead: int) -> bool:
        """Whether a bead counts as laid."""
        return self.share_left(bead) <= LEFT_OPEN

    def rest_of(self, bead: int) -> Span:
        """From where to where a bead is still to be welded, arc lengths [m]."""
        piece = self.assembly.beads[bead]
        marks = [piece.start]
        for a, b in self.spans[piece.seam]:
            marks += [max(a, piece.start), max(b, piece.start)]
        marks = [min(mark, piece.end) for mark in [*marks, piece.end]]
        open_spans = [(a, b) for a, b in zip(marks[::2], marks[1::2], strict=True) if b - a > LEAST]
        return (open_spans[0][0], open_spans[-1][1]) if open_spans else (piece.end, piece.end)


def _merged(spans: list[Span]) -> list[Span]:
    """Spans in order, those that touch made one."""
    merged: list[Span] = []
    for low, high in sorted(spans):
        if merged and low <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(merged[-1][1], high))
        else:
            merged.append((low, high))
    return merged
