"""An elastic beam seen from the same rows as a housing, for checks of the fixture against beam theory."""

from __future__ import annotations

import numpy as np

from axlewright.distortion.condense import Condensed
from axlewright.solid.mesh import Floats

STATIONS = np.linspace(0.5, -0.5, 27)
LENGTH, CELLS = 1.0, 26
YOUNGS, AREA, SECOND_MOMENT, ARM = 210e9, 2370e-6, 1.89e-6, 0.05
PLATE_AREA = 900e-6
"""Section of a plate that beads join to the beam at `ARM` from its axis; it has no stiffness of its own in bending."""


def beam() -> Condensed:
    """A beam in the vertical plane; each of its 26 cells is a stretch of seam at `ARM` above its axis.

    The first spring row of a stretch, and its tendon row, read how much the beam's fibre at the seam has lengthened;
    the other spring and across rows read nothing of the beam. Compliance by Castigliano from curvatures: a row that
    lengthens the fibre of cell j is a unit moment times the arm there, one that lifts a station bends the beam simply
    supported at its ends.
    """
    length = LENGTH / CELLS
    fibre = np.zeros((CELLS, CELLS))
    np.fill_diagonal(fibre, ARM)
    lift, turn = _lift_moments(), _end_moments()
    # Bending moment at the two Gauss points of each cell for a unit pull at each row; they integrate a product exactly.
    moment = [np.repeat(fibre, 2, axis=1), lift, turn]
    rows = 6 * CELLS + 2 * len(STATIONS) + 6
    field, axial = np.zeros((rows, 2 * CELLS)), np.zeros((rows, CELLS))
    springs, tendons = 4 * np.arange(CELLS), 4 * CELLS + np.arange(CELLS)
    for place in (springs, tendons):
        field[place], axial[place] = moment[0], np.eye(CELLS)
    first = 6 * CELLS
    field[first + len(STATIONS) : first + 2 * len(STATIONS)] = lift
    field[[first + 2 * len(STATIONS) + 1, first + 2 * len(STATIONS) + 4]] = turn
    compliance = field @ field.T * (length / 2) / (YOUNGS * SECOND_MOMENT)
    compliance += axial @ axial.T * length / (YOUNGS * AREA)
    idle = np.setdiff1d(np.arange(4 * CELLS), springs)
    compliance[idle, idle] += 1e-9
    return Condensed(compliance, np.zeros((rows, 0)))


def _points() -> Floats:
    """x of the Gauss points."""
    middles = (STATIONS[:-1] + STATIONS[1:]) / 2
    return (middles[:, None] + LENGTH / CELLS / 2 / np.sqrt(3) * np.array([1, -1])).ravel()


def _lift_moments() -> Floats:
    """Moment (positive with the fibre above long) at all points from a unit lift at each station."""
    x = _points()[None, :]
    at, left, right = STATIONS[:, None], STATIONS[0], STATIONS[-1]
    # A lift at the middle of a beam held at its ends presses its ends down: the fibre above gets longer.
    return np.where(x > at, (at - right) * (left - x), (left - at) * (x - right)) / LENGTH


def _end_moments() -> Floats:
    """Moment at all points from a unit torque about y at the left and at the right end."""
    x = _points()
    share = (x - STATIONS[-1]) / LENGTH
    # A rotation about y lowers what lies to the left: at the left end it makes the fibre above longer.
    return np.array([share, share - 1.0])


def plate_springs() -> Floats:
    """Stiffness of the plate's springs: E A / l along the seam, nothing to speak of elsewhere, shape (26, 4)."""
    springs = np.full((CELLS, 4), 1e-3)
    springs[:, 0] = YOUNGS * PLATE_AREA * CELLS / LENGTH
    return springs


def composite() -> tuple[float, float]:
    """Second moment of beam and plate together, and arm of the seam from their common axis."""
    inertia = SECOND_MOMENT + ARM**2 * AREA * PLATE_AREA / (AREA + PLATE_AREA)
    return inertia, ARM * AREA / (AREA + PLATE_AREA)
