"""Temperatures near the arc of a steadily moving source, and the peaks they reach."""

from __future__ import annotations

from math import e, pi

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import k0e

from axlewright.weld._check import positive
from axlewright.weld.steel import MEAN_CONDUCTIVITY, MEAN_VOLUMETRIC_HEAT_CAPACITY


def rosenthal_thick(
    power: float,
    travel_speed: float,
    ahead: ArrayLike,
    aside: ArrayLike,
    depth: ArrayLike = 0.0,
    ambient: float = 20.0,
    conductivity: float = MEAN_CONDUCTIVITY,
    volumetric_heat_capacity: float = MEAN_VOLUMETRIC_HEAT_CAPACITY,
) -> NDArray[np.float64]:
    """Steady temperature about an arc on a thick plate, T0 + q / (2 pi lambda r) exp[-v (r + x) / 2a].

    Args:
        power: heat that enters the steel q [W]
        travel_speed: speed of the arc v [m/s]
        ahead: distance in front of the arc, negative behind it x [m]
        aside: distance to the side of the arc [m]
        depth: distance below the surface [m]
        ambient: temperature of the plate far away T0 [degC]
        conductivity: lambda [W/mK]
        volumetric_heat_capacity: by volume, lambda over it is the diffusivity a [J/m3K]

    Returns:
        temperature; infinite at the arc itself [degC]

    Source: Rosenthal, Transactions of the ASME 68 (1946) 849.
    Valid: point source, constant properties, no melting, half-space; outside the molten pool.
    Raises: ValueError for a power, speed or property that is not above zero.

    >>> round(float(rosenthal_thick(3168.0, 0.006, -0.010, 0.0)), 1)
    1249.8
    """
    positive(
        power=power,
        travel_speed=travel_speed,
        conductivity=conductivity,
        volumetric_heat_capacity=volumetric_heat_capacity,
    )
    x, y, z = (np.asarray(part, dtype=float) for part in (ahead, aside, depth))
    radius = np.sqrt(x**2 + y**2 + z**2)
    decay = travel_speed * volumetric_heat_capacity / (2.0 * conductivity)
    with np.errstate(divide="ignore"):
        rise = power / (2.0 * pi * conductivity * radius) * np.exp(-decay * (radius + x))
    return np.asarray(ambient + rise)


def rosenthal_thin(
    power: float,
    travel_speed: float,
    thickness: float,
    ahead: ArrayLike,
    aside: ArrayLike,
    ambient: float = 20.0,
    conductivity: float = MEAN_CONDUCTIVITY,
    volumetric_heat_capacity: float = MEAN_VOLUMETRIC_HEAT_CAPACITY,
) -> NDArray[np.float64]:
    """Steady temperature about an arc on a thin plate, T0 + q / (2 pi lambda d) exp(-v x / 2a) K0(v r / 2a).

    Args:
        power: heat that enters the steel q [W]
        travel_speed: speed of the arc v [m/s]
        thickness: plate thickness d [m]
        ahead: distance in front of the arc, negative behind it x [m]
        aside: distance to the side of the arc [m]
        ambient: temperature of the plate far away T0 [degC]
        conductivity: lambda [W/mK]
        volumetric_heat_capacity: by volume, lambda over it is the diffusivity a [J/m3K]

    Returns:
        temperature; infinite at the arc itself [degC]

    Source: Rosenthal, Welding Journal 20 (1941) 220-s, from memory.
    Valid: line source through the thickness, constant properties, no melting, no surface loss, endless plate.
    Raises: ValueError for a power, speed, thickness or property that is not above zero.

    >>> round(float(rosenthal_thin(3168.0, 0.006, 0.006, -0.020, 0.0)), 1)
    1003.4
    """
    positive(power=power, travel_speed=travel_speed, thickness=thickness)
    positive(conductivity=conductivity, volumetric_heat_capacity=volumetric_heat_capacity)
    x, y = np.asarray(ahead, dtype=float), np.asarray(aside, dtype=float)
    radius = np.hypot(x, y)
    decay = travel_speed * volumetric_heat_capacity / (2.0 * conductivity)
    # k0e(s) = K0(s) exp(s): the product with exp(-decay x) neither overflows nor vanishes far from the arc.
    rise = power / (2.0 * pi * conductivity * thickness) * k0e(decay * radius) * np.exp(-decay * (radius + x))
    return np.asarray(ambient + rise)


def peak_temperature_thick(
    net_heat_input: float,
    distance: ArrayLike,
    ambient: float = 20.0,
    volumetric_heat_capacity: float = MEAN_VOLUMETRIC_HEAT_CAPACITY,
) -> NDArray[np.float64]:
    """Highest temperature beside a fast run on a thick plate, T0 + 2 q / (pi e rho c r^2).

    Args:
        net_heat_input: heat that enters the steel per length of weld q [J/m]
        distance: from the line of the arc r [m]
        ambient: temperature of the plate before the run T0 [degC]
        volumetric_heat_capacity: by volume rho c [J/m3K]

    Returns:
        peak temperature [degC]

    Source: Rykalin, Calculation of Heat Flow in Welding, 1951, from memory.
    Valid: fast source; near the arc it overshoots the moving-source peak (by a fifth at 6 mm for 0.53 kJ/mm).
    Raises: ValueError for a heat input, distance or heat capacity that is not above zero.

    >>> round(float(peak_temperature_thick(528.0e3, 6.0e-3)), 1)
    783.3
    """
    positive(
        net_heat_input=net_heat_input, distance=distance, volumetric_heat_capacity=volumetric_heat_capacity
    )
    square = np.asarray(distance, dtype=float) ** 2
    return np.asarray(ambient + 2.0 * net_heat_input / (pi * e * volumetric_heat_capacity * square))


def peak_temperature_thin(
    net_heat_input: float,
    thickness: float,
    distance: ArrayLike,
    ambient: float = 20.0,
    volumetric_heat_capacity: float = MEAN_VOLUMETRIC_HEAT_CAPACITY,
) -> NDArray[np.float64]:
    """Highest temperature beside a fast run on a thin plate, T0 + q / (2 rho c d y) sqrt(2 / (pi e)).

    Args:
        net_heat_input: heat that enters the steel per length of weld q [J/m]
        thickness: plate thickness d [m]
        distance: from the line of the arc y [m]
        ambient: temperature of the plate before the run T0 [degC]
        volumetric_heat_capacity: by volume rho c [J/m3K]

    Returns:
        peak temperature [degC]

    Source: Rykalin, Calculation of Heat Flow in Welding, 1951, from memory.
    Valid: fast source, no surface loss; overshoots the moving-source peak by 2 per cent at 10 mm.
    Raises: ValueError for a heat input, thickness, distance or heat capacity that is not above zero.

    >>> round(float(peak_temperature_thin(528.0e3, 9.5e-3, 10.0e-3)), 1)
    318.9
    """
    positive(
        net_heat_input=net_heat_input,
        thickness=thickness,
        distance=distance,
        volumetric_heat_capacity=volumetric_heat_capacity,
    )
    across = np.asarray(distance, dtype=float)
    rise = net_heat_input / (2.0 * volumetric_heat_capacity * thickness * across) * np.sqrt(2.0 / (pi * e))
    return np.asarray(ambient + rise)
