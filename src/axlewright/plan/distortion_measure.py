"""One number for how far a housing has gone out of true."""

from __future__ import annotations

import numpy as np

from axlewright.distortion.shape import ColdShape


def distortion(shape: ColdShape, length: float) -> float:
    """Bow, camber and toe as one length.

    D = sqrt((v^2 + f^2 + (L/4)^2 times the mean over both ends of (camber^2 + toe^2)) / 2). An evenly bent housing
    has end slopes of 4 bow / L, so for it the part from the bow and the part from the ends are equal, and D is its bow.
    A kink or an S bend, which a small bow can hide, shows in the ends.

    Args:
        shape: the cold shape: bows v, f [m], camber and toe [rad].
        length: of the housing between its flanges L [m].

    Returns:
        [m], never below zero.

    Source: a definition of ours; 4 bow / L is the end slope of a shallow circular arc (geometry).
    Valid: slopes far below one.
    Raises: nothing.
    """
    ends = np.mean(np.square(shape.camber) + np.square(shape.toe))
    bows = shape.bow_vertical**2 + shape.bow_fore_aft**2
    return float(np.sqrt((bows + (length / 4) ** 2 * ends) / 2))
