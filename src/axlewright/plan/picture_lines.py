"""Beads as lines on the skin and tacks as marks on it, as a picture draws them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axlewright.housing.seam import Seam
from axlewright.plan.bead_words import distance_from_flange, hand_of_travel
from axlewright.plan.bench import OnTheBench, Trial
from axlewright.plan.positions import positions
from axlewright.plan.tags import bead_tags
from axlewright.solid.mesh import Floats

APART = 0.006
"""Points of a bead's line stand about so far apart [m]."""


@dataclass(frozen=True)
class BeadLine:
    """A bead as a line, from where its arc starts to where it stops.

    Args:
        number: its place in the order of the plan, from 1.
        tag: its name at the bench, e.g. "C7".
        attachment: what is welded on.
        seam: name of the seam on it.
        direction: the hand of travel in words.
        position: welding position at that turn (ISO 6947).
        start: when its arc starts, since the first arc [s].
        stop: when it stops [s].
        wait: planned cool-down before it [s].
        spot_c: spot temperature expected at its start [degC].
        turn: how the housing lies [deg].
        begin_x: where the arc starts, from the left flange [m].
        end_x: where it stops [m].
        points: on the root of the fillet, shape (P, 3) [m].
        outward: unit vectors in which the fillet's face looks there, shape (P, 3).
    """

    number: int
    tag: str
    attachment: str
    seam: str
    direction: str
    position: str
    start: float
    stop: float
    wait: float
    spot_c: float
    turn: float
    begin_x: float
    end_x: float
    points: Floats
    outward: Floats


@dataclass(frozen=True)
class TackMark:
    """A tack as a mark.

    Args:
        number: its place in the order of tacking, from 1.
        attachment: what it holds.
        seam: name of the seam it sits on.
        at_x: distance from the left flange [m].
        length: its length [m].
        point: where it is, shape (3,) [m].
        outward: unit vector in which its face looks, shape (3,).
        melted_by: place in the order, from 0, of the bead that runs over it; the count of beads where none does.
    """

    number: int
    attachment: str
    seam: str
    at_x: float
    length: float
    point: Floats
    outward: Floats
    melted_by: int


def bead_lines(bench: OnTheBench, trial: Trial) -> tuple[BeadLine, ...]:
    """The beads of a plan in its order."""
    assembly, job, line = bench.model.assembly, bench.job, trial.timeline
    tags, half = bead_tags(assembly), assembly.section.half_length
    lies = positions(assembly, job.bench.turns, job.bench.overhead)
    found = []
    for number, step in enumerate(line.steps):
        bead = assembly.beads[step.bead]
        seam = assembly.seams[bead.seam]
        begin, end = (bead.end, bead.start) if step.reverse else (bead.start, bead.end)
        arcs = np.linspace(begin, end, max(2, 1 + round(bead.length / APART)))
        found.append(
            BeadLine(
                number + 1,
                tags[step.bead],
                seam.attachment,
                seam.name,
                hand_of_travel(seam, begin, end),
                str(lies.names[step.bead, lies.turns.index(step.turn)]),
                float(line.starts[number]),
                float(line.starts[number] + line.arcs[number]),
                step.wait,
                job.ambient.temperature + float(line.spots[number]),
                step.turn,
                distance_from_flange(seam, half, begin),
                distance_from_flange(seam, half, end),
                seam.at(seam.path, arcs),
                _face(seam, arcs),
            )
        )
    return tuple(found)


def tack_marks(bench: OnTheBench, trial: Trial) -> tuple[TackMark, ...]:
    """The tacks in the order of tacking."""
    assembly, steps = bench.model.assembly, trial.timeline.steps
    half = assembly.section.half_length
    place_of = {step.bead: place for place, step in enumerate(steps)}
    found = []
    for number, (at, length) in enumerate(
        zip(bench.tacks.stretches, bench.tack_lengths.tolist(), strict=True)
    ):
        stretch = assembly.stretches[at]
        seam, middle = assembly.seams[stretch.seam], np.array([stretch.middle])
        found.append(
            TackMark(
                number + 1,
                seam.attachment,
                seam.name,
                distance_from_flange(seam, half, stretch.middle),
                length,
                seam.at(seam.path, middle)[0],
                _face(seam, middle)[0],
                place_of.get(stretch.bead, len(steps)),
            )
        )
    return tuple(found)


def _face(seam: Seam, arcs: Floats) -> Floats:
    """Unit vectors in which the open face of the fillet looks, between the skins it joins."""
    standing = seam.normal if seam.guest_side is None else seam.guest_side
    looks = seam.at(standing, arcs) + (0.0 if seam.on_bare_skin else seam.at(seam.weld_side, arcs))
    return np.asarray(looks / np.linalg.norm(looks, axis=1, keepdims=True))
