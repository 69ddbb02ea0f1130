"""Bead size: how much metal the wire leaves behind, and the fillet it makes."""

from __future__ import annotations

from math import pi, sqrt

import numpy as np

from axlewright.weld._check import Real, fraction, positive, root

#: Share of the consumed wire that ends up in the weld: middle of the published range, by ISO 4063 number.
_DEPOSITION = {111: 0.62, 114: 0.80, 121: 0.99, 131: 0.95, 135: 0.95, 136: 0.85, 138: 0.96, 141: 0.95}

#: Heat per leg squared [J/m3] of a single-run fillet, by ISO 4063 number.
_HEAT_PER_LEG_SQUARED = {111: 4.0e10, 121: 3.0e10}


def deposition_efficiency(process: int) -> float:
    """Share of the consumed wire or electrode that becomes weld metal.

    Args:
        process: reference number of ISO 4063 [-]

    Returns:
        deposition efficiency [-]

    Source: ranges on a welding engineer's public page, "Which Arc Welding Process is the Most Efficient?":
        stick 0.60-0.65, gas-shielded flux-cored 0.82-0.88, self-shielded 0.75-0.85, MIG/MAG 0.92-0.99,
        submerged 0.99, metal-cored 0.94-0.98, TIG 0.94-0.97. The middle of each range is used.
    Valid: typical settings; spatter from a poor arc can take ten points off.
    Raises: ValueError for a process that is not listed.

    >>> deposition_efficiency(135)
    0.95
    """
    if process not in _DEPOSITION:
        raise ValueError(f"process must be one of {sorted(_DEPOSITION)}, not {process!r}")
    return _DEPOSITION[process]


def bead_area(
    wire_diameter: float, wire_feed: Real, travel_speed: float, deposition_efficiency: float = 0.95
) -> Real:
    """Cross-section of deposited metal by volume balance, A = eta (pi d^2 / 4) w / v.

    Args:
        wire_diameter: diameter of the wire d [m]
        wire_feed: speed at which the wire is fed w [m/s]
        travel_speed: speed of the arc along the seam v [m/s]
        deposition_efficiency: share of the wire that becomes weld metal eta [-]

    Returns:
        area of deposited metal [m2]

    Source: conservation of volume; the default efficiency is that of MAG welding with solid wire,
        see `deposition_efficiency`.
    Valid: solid wire. A cored wire carries less metal than its diameter suggests (about 0.8 of it).
    Raises: ValueError for a diameter or speed that is not above zero, or an efficiency outside 0 to 1.

    >>> round(bead_area(1.0e-3, 0.12, 0.006, 1.0) * 1e6, 3)
    15.708
    """
    positive(wire_diameter=wire_diameter, wire_feed=wire_feed, travel_speed=travel_speed)
    fraction(deposition_efficiency=deposition_efficiency)
    return wire_feed * (deposition_efficiency * pi * wire_diameter**2 / (4.0 * travel_speed))


def fillet_leg(area: Real) -> Real:
    """Leg of an equal-leg, flat-faced fillet, z = sqrt(2 A).

    Args:
        area: area of deposited metal A [m2]

    Returns:
        leg z [m]

    Source: geometry of the right isosceles triangle; symbols of ISO 2553:2019.
    Valid: no gap, no convexity; a convex face or an open root makes the leg smaller.
    Raises: ValueError for an area that is not above zero.

    >>> round(fillet_leg(12.5e-6) * 1e3, 3)
    5.0
    """
    positive(area=area)
    return root(2.0 * area)


def fillet_throat(leg: Real) -> Real:
    """Throat of an equal-leg fillet, a = z / sqrt(2).

    Args:
        leg: leg z [m]

    Returns:
        throat a [m]

    Source: ISO 2553:2019, a and z of a fillet weld.
    Valid: equal legs, right angle between the plates, no deep penetration counted.
    Raises: ValueError for a leg that is not above zero.

    >>> round(fillet_throat(5.66e-3) * 1e3, 2)
    4.0
    """
    positive(leg=leg)
    return leg / sqrt(2.0)


def energy_from_leg(leg: float, process: int) -> float:
    """Heat input a single-run fillet of a given leg needs, q = C z^2.

    Args:
        leg: leg z [m]
        process: reference number of ISO 4063, 111 or 121 [-]

    Returns:
        heat input [J/m]

    Source: Okerblom and Nikolaev school, from memory: C = 40000 J/cm3 for stick welding and
        30000 J/cm3 for submerged arc welding, leg in cm.
    Valid: single run, legs of about 4 to 8 mm, within 30 per cent.
    Raises: ValueError for a leg that is not above zero or a process without a coefficient.

    >>> energy_from_leg(5.0e-3, 121)
    750000.0
    """
    positive(leg=leg)
    if process not in _HEAT_PER_LEG_SQUARED:
        raise ValueError(f"process must be one of {sorted(_HEAT_PER_LEG_SQUARED)}, not {process!r}")
    return _HEAT_PER_LEG_SQUARED[process] * leg**2


def leg_from_energy(heat_input: float, process: int) -> float:
    """Leg of the single-run fillet that a given heat input lays, z = sqrt(q / C).

    Args:
        heat_input: heat input q [J/m]
        process: reference number of ISO 4063, 111 or 121 [-]

    Returns:
        leg z [m]

    Source: as `energy_from_leg`.
    Valid: as `energy_from_leg`; use `bead_area` where wire feed is known.
    Raises: ValueError for a heat input that is not above zero or a process without a coefficient.

    >>> round(leg_from_energy(750.0e3, 121) * 1e3, 3)
    5.0
    """
    positive(heat_input=heat_input)
    return float(np.sqrt(heat_input / energy_from_leg(1.0, process)))
