"""What a plan says about the fixture: data for screens, files and sheets, in metres, newtons, pascals and degrees."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Plane = Literal["vertical", "fore-aft"]


@dataclass(frozen=True)
class FixtureSupportLine:
    """A support in one plane.

    Args:
        number: from the left, from 1, all supports of the job file counted.
        at_x: distance from the left flange [m].
        plane: "vertical" or "fore-aft".
        stiffness: of bench, block and clamp together [N/m].
        shim: what to put between block and housing [m].
        exact_shim: what would be best if shims came in any height [m].
        prebend: height of the clamped axis here over the line through the outer supports, before the first arc [m].
        push_before: force on the clamped housing before the first arc, upward or forward [N].
        push_after: the same when all is welded and cold, just before letting go [N].
    """

    number: int
    at_x: float
    plane: Plane
    stiffness: float
    shim: float
    exact_shim: float
    prebend: float
    push_before: float
    push_after: float


@dataclass(frozen=True)
class FixtureStage:
    """The axis at one moment, off the line between the flanges.

    Args:
        vertical: shape (P,) [m].
        fore_aft: shape (P,) [m].
        bow_vertical: positive with the middle up [m].
        bow_fore_aft: positive with the middle forward [m].
        camber_deg: left and right [deg].
        toe_deg: left and right [deg].
        distortion: bow, camber and toe as one measure [m].
    """

    vertical: Floats
    fore_aft: Floats
    bow_vertical: float
    bow_fore_aft: float
    camber_deg: tuple[float, float]
    toe_deg: tuple[float, float]
    distortion: float


@dataclass(frozen=True)
class FixtureReport:
    """Welding in a fixture, released when cold.

    Args:
        along: distance from the left flange of the points of the axes, shape (P,) [m].
        supports: plane by plane, from left to right.
        prebend: the job file's word: "best", "none" or "given".
        shim_step: thinnest step of the shims [m].
        prebent: clamped on the shims, before the first arc.
        clamped: welded and cold, still clamped.
        released: let go of; the plan's prediction.
        flat: let go of, had it been clamped without shims.
        unclamped: the same order of work without the fixture.
        tube_stress: bending stress in the tubes from the pre-bend [Pa].
        allowed_stress: the most a pre-bend of ours may use [Pa].
        yield_strength: of the tubes [Pa].
        tack_load: greatest load over strength of a tack in the fixture.
        tack_load_unclamped: the same without it.
        remarks: what else to know, in sentences.
    """

    along: Floats
    supports: tuple[FixtureSupportLine, ...]
    prebend: Literal["best", "none", "given"]
    shim_step: float
    prebent: FixtureStage
    clamped: FixtureStage
    released: FixtureStage
    flat: FixtureStage
    unclamped: FixtureStage
    tube_stress: float
    allowed_stress: float
    yield_strength: float
    tack_load: float
    tack_load_unclamped: float
    remarks: tuple[str, ...]

    @property
    def spring_back(self) -> tuple[float, float]:
        """How far the bow goes when the clamps are let go, vertical and fore-aft [m]."""
        held, free = self.clamped, self.released
        return free.bow_vertical - held.bow_vertical, free.bow_fore_aft - held.bow_fore_aft

    @property
    def largest_push(self) -> float:
        """Largest force a clamp holds just before letting go [N]."""
        return max(abs(support.push_after) for support in self.supports)

    @property
    def planes(self) -> tuple[Plane, ...]:
        """The planes that are held."""
        return tuple(dict.fromkeys(support.plane for support in self.supports))
