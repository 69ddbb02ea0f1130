"""A plan as a moving picture: the skin with its temperature, the axis, beads and tacks, moment by moment.

Temperatures are those of the reduced heat balance at every skin node. Of the shape only the axis is known on the way;
a picture moves whole cross-sections with it, which keep their form: no dent and no gap is to be seen in it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from axlewright.distortion.shape import cold_shape
from axlewright.heat.skin import SkinHeat
from axlewright.plan.bench import OnTheBench, Trial
from axlewright.plan.moments import COLD, STOPS, Moments, moments_of
from axlewright.plan.picture_lines import BeadLine, TackMark, bead_lines, tack_marks
from axlewright.plan.picture_surface import Surface, surface_of
from axlewright.solid.mesh import Floats

FIGURES = ("bow_vertical", "bow_fore_aft", "camber_left", "camber_right", "toe_left", "toe_right", "twist")
"""Figures of the shape at each moment, lengths in m and angles in deg."""


@dataclass(frozen=True)
class MovingAxis:
    """The axis of the housing at each of K moments.

    Args:
        stations: x of the R sections, left to right flange, shape (R,) [m].
        vertical: height over the line between the flanges, shape (K, R) [m].
        fore_aft: the same forward, shape (K, R) [m].
        figures: bow, camber, toe and twist as `FIGURES` lists them, shape (K, 7).
    """

    stations: Floats
    vertical: Floats
    fore_aft: Floats
    figures: Floats


@dataclass(frozen=True)
class MovingPicture:
    """Everything a view of a plan draws.

    Args:
        surface: faces and edges of the skin.
        places: of its nodes, shape (V, 3) [m].
        ambient_c: air temperature [degC].
        moments: the K moments.
        rises: rise of the skin over ambient, shape (V, K) [K].
        axis: the axis at each moment.
        beads: in the order of the plan.
        tacks: in the order of tacking.
        tack_loads: force over strength of each tack while it is a tack, when each bead starts and cold, (T, B + 1).
    """

    surface: Surface
    places: Floats
    ambient_c: float
    moments: Moments
    rises: NDArray[np.float32]
    axis: MovingAxis
    beads: tuple[BeadLine, ...]
    tacks: tuple[TackMark, ...]
    tack_loads: Floats


def moving_picture(bench: OnTheBench, trial: Trial, skin: SkinHeat) -> MovingPicture:
    """Picture a plan.

    Args:
        bench: the job on the bench, with the tacks of the plan.
        trial: the plan, tried on it.
        skin: the modes over the skin of the job's model as built.
    """
    assembly = bench.model.assembly
    surface = surface_of(assembly.mesh)
    skin = skin if bench.model is bench.unvaried else skin.varied(bench.inputs.flow)
    moments = moments_of(bench, trial, skin.modes)
    return MovingPicture(
        surface,
        assembly.mesh.nodes[surface.nodes],
        bench.job.ambient.temperature,
        moments,
        skin.rises(moments.states),
        moving_axis(bench, trial, moments, own=skin.modes is bench.model.modes),
        bead_lines(bench, trial),
        tack_marks(bench, trial),
        tack_loads(bench, trial),
    )


def moving_axis(bench: OnTheBench, trial: Trial, moments: Moments, own: bool = True) -> MovingAxis:
    """The axis at the moments of a plan.

    While an arc burns the steel beside it yields and no elastic shape holds; where it goes out, the axis is drawn on
    the straight way between the arc's start and the next moment.

    Args:
        bench: the job on the bench.
        trial: the plan.
        moments: its moments.
        own: whether their states are told in the modes of the bench's model.
    """
    states = (moments if own else moments_of(bench, trial, bench.model.modes)).states
    readings = bench.axis_at(trial.timeline, states, moments.laid)
    out = np.flatnonzero(moments.doing == STOPS)
    share = (moments.time[out] - moments.time[out - 1]) / (moments.time[out + 1] - moments.time[out - 1])
    readings[out] = readings[out - 1] + share[:, None] * (readings[out + 1] - readings[out - 1])
    shapes = [cold_shape(bench.model.stations, reading) for reading in readings]
    # At last the housing is let go of, where it was clamped.
    shapes = [trial.shape if doing == COLD else s for s, doing in zip(shapes, moments.doing, strict=True)]
    figures = [
        [s.bow_vertical, s.bow_fore_aft, *np.degrees([*s.camber, *s.toe, s.twist]).tolist()] for s in shapes
    ]
    return MovingAxis(
        bench.model.stations,
        np.array([s.vertical for s in shapes]),
        np.array([s.fore_aft for s in shapes]),
        np.array(figures),
    )


def tack_loads(bench: OnTheBench, trial: Trial) -> Floats:
    """Force over strength of each tack when each bead starts and when all is cold, 0 once welded over, (T, B + 1)."""
    forces = trial.walked.tack_forces
    moments = [replace(trial.walked, tack_forces=forces[:, :, [n]]) for n in range(forces.shape[2])]
    return np.stack([bench.tack_utilisation(moment) for moment in moments], axis=1)
