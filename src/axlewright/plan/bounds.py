"""What a recommended plan must not exceed."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axlewright.plan.bench import OnTheBench, Trial, kind_of_place
from axlewright.plan.outlook import Limits
from axlewright.solid.mesh import Floats

STRENGTH = 1.0
"""Utilisation at which a tack carries its design strength."""

EASY = 0.75
"""Utilisation below which a tack is not counted against a plan, however little common practice loads its tacks."""

HEAT_SLACK = 0.05
"""What the spot temperature may exceed its bound by: waits are whole seconds [K]."""


@dataclass(frozen=True)
class Bounds:
    """What a recommended plan must not exceed.

    Args:
        hottest: rise of the spot temperature over ambient [K].
        distortion: bow, camber and toe as one measure [m].
        tack: greatest utilisation of a tack.
        seat: rise of the knuckle bearing seats over ambient [K].
        seal: rise of the seals over ambient, or None [K].
    """

    hottest: float
    distortion: float
    tack: float
    seat: float
    seal: float | None


def bounds(bench: OnTheBench, common: Trial) -> Bounds:
    """Bounds from the job's limits and from what common practice does to the same housing.

    A tack may carry no more than common practice puts on it, and never more than its design strength.
    """
    limits, ambient = bench.job.limits, bench.job.ambient.temperature
    spot = common.hottest if limits.spot is None else limits.spot - ambient
    seal = None if limits.seal is None else limits.seal - ambient
    tack = min(STRENGTH, max(EASY, common.worst_tack))
    return Bounds(spot, bench.distortion(common), tack, limits.bearing_seat - ambient, seal)


def excess(bench: OnTheBench, trial: Trial, within: Bounds) -> float:
    """How far a plan goes beyond its bounds, as a share of each, summed; 0 where it keeps them all."""
    pairs = [
        (trial.hottest, within.hottest + HEAT_SLACK),
        (bench.distortion(trial), within.distortion),
        (trial.worst_tack, within.tack),
    ]
    return over(pairs) + too_warm(bench, trial, within)


def too_warm(bench: OnTheBench, trial: Trial, within: Bounds) -> float:
    """How far seats and seals get beyond their limits, as a share of each, summed."""
    pairs = [(bench.warmest(trial, "bearing seat"), within.seat)]
    if within.seal is not None:
        pairs.append((bench.warmest(trial, "seal"), within.seal))
    return over(pairs)


def over(pairs: list[tuple[float, float]]) -> float:
    """Shares by which values exceed their limits, summed."""
    return sum(max(0.0, value / limit - 1.0) if limit > 0 else 1.0 for value, limit in pairs)


def limits_of(bench: OnTheBench, within: Bounds) -> Limits:
    """The limits that a plan keeps by waiting."""
    return Limits(within.hottest, watch_limits(bench.model.modes.places, within.seat, within.seal))


def watch_limits(places: tuple[str, ...], seat: float, seal: float | None) -> Floats:
    """Highest rise at each watch place, shape (W,) [K]; infinite at a seal where none is set.

    Args:
        places: names of the watch places.
        seat: rise of the knuckle bearing seats [K].
        seal: rise of the seals, or None [K].
    """
    limits = {"bearing seat": seat, "seal": seal}
    found = [limits[kind_of_place(name)] for name in places]
    return np.array([np.inf if limit is None else limit for limit in found])
