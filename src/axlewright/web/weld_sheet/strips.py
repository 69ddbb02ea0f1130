"""A seam unrolled as a strip: all its beads, and the openings that stay open between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

LENGTH = 1000.0
"""Length of a strip in its own drawing; its height is a matter of the template."""

LEAST_OPENING_MM = 4.0
"""Beads nearer to each other than this leave no opening: it is what rounding and the saw leave [mm]."""


@dataclass(frozen=True)
class StripBead:
    """A bead on a strip.

    Args:
        tag: its name.
        number: place in the order.
        x: its left end on the drawing.
        width: its length on the drawing.
        backwards: whether its arc travels to the left of the drawing.
    """

    tag: str
    number: int
    x: float
    width: float
    backwards: bool

    @property
    def middle(self) -> float:
        """Its middle on the drawing."""
        return self.x + self.width / 2.0


@dataclass(frozen=True)
class Strip:
    """A seam unrolled.

    Args:
        attachment: what is welded on.
        seam: which of its seams.
        letter: the letter its beads are called by.
        beads: from the left end of the drawing to the right.
        openings: left end and width of what stays open between them.
        ends: how the ends of the drawing are called.
    """

    attachment: str
    seam: str
    letter: str
    beads: tuple[StripBead, ...]
    openings: tuple[tuple[float, float], ...]
    ends: tuple[str, str]


def strips(beads: Sequence[Any]) -> tuple[Strip, ...]:
    """The seams of a plan, in the order of their letters.

    Args:
        beads: as plan.json has them.
    """
    by_seam: dict[tuple[str, str], list[Any]] = {}
    for bead in beads:
        by_seam.setdefault((bead["attachment"], bead["seam"]), []).append(bead)
    found = [_strip(seam, found) for seam, found in by_seam.items()]
    return tuple(sorted(found, key=lambda strip: (len(strip.letter), strip.letter)))


def _strip(seam: tuple[str, str], beads: list[Any]) -> Strip:
    spans = sorted(map(_span, beads))
    low, high = spans[0][0], max(end for _, end in spans)
    mirrored, ends = _ends(beads)
    scale = LENGTH / (high - low)

    def x_of(start: float, end: float) -> float:
        return scale * ((high - end) if mirrored else (start - low))

    drawn = sorted((_bead(bead, x_of, scale, mirrored) for bead in beads), key=lambda bead: bead.x)
    gaps = [(end, after) for (_, end), (after, _) in pairwise(spans) if after - end > LEAST_OPENING_MM]
    openings = sorted((x_of(start, end), scale * (end - start)) for start, end in gaps)
    letter = beads[0]["tag"].rstrip("0123456789")
    return Strip(*seam, letter, tuple(drawn), tuple(openings), ends)


def _span(bead: Any) -> tuple[float, float]:
    low, high = sorted((float(bead["from_s_mm"]), float(bead["to_s_mm"])))
    return low, high


def _ends(beads: list[Any]) -> tuple[bool, tuple[str, str]]:
    """Whether the seam runs to the left flange, and how both ends of the drawing are called.

    The drawing has the left flange at its left wherever the seam runs along the axle; others begin where they begin.
    """
    first, last = (end(beads, key=lambda bead: bead["from_s_mm"]) for end in (min, max))
    along = last["from_mm"] - first["from_mm"]
    reach = abs(last["from_s_mm"] - first["from_s_mm"])
    if first["from_clock"] is not None or abs(along) < 0.5 * reach or reach == 0.0:
        return False, ("start of the seam", "end of the seam")
    return along < 0.0, ("left", "right")


def _bead(bead: Any, x_of: Any, scale: float, mirrored: bool) -> StripBead:
    low, high = _span(bead)
    backwards = (bead["to_s_mm"] < bead["from_s_mm"]) != mirrored
    return StripBead(bead["tag"], bead["number"], x_of(low, high), scale * (high - low), backwards)
