"""Cooling time from 800 to 500 degC beside a weld, t8/5: from theory and by EN 1011-2."""

from __future__ import annotations

from math import pi, sqrt

import numpy as np

from axlewright.weld._check import Real, fraction, positive, root
from axlewright.weld.steel import MEAN_CONDUCTIVITY, MEAN_VOLUMETRIC_HEAT_CAPACITY

#: EN 1011-2:2001 table D.1: joint, then F2 (lowest, highest) and F3.
_SHAPE_FACTORS = {
    "bead on plate": (1.0, 1.0, 1.0),
    "butt interpass": (0.9, 0.9, 0.9),
    "corner fillet": (0.67, 0.9, 0.67),
    "tee fillet": (0.45, 0.67, 0.67),
}


def t85_thick(net_heat_input: Real, preheat: float, conductivity: float = MEAN_CONDUCTIVITY) -> Real:
    """Cooling time on a thick plate, (q / 2 pi lambda) [1 / (500 - T0) - 1 / (800 - T0)].

    Args:
        net_heat_input: heat that enters the steel per length of weld q [J/m]
        preheat: temperature of the plate before the run T0 [degC]
        conductivity: mean thermal conductivity lambda [W/mK]

    Returns:
        time from 800 to 500 degC [s]

    Source: Rykalin, Calculation of Heat Flow in Welding, 1951; Easterling, Introduction to the Physical
        Metallurgy of Welding, 1992; from memory.
    Valid: plates thicker than `transition_thickness`, fast-moving arc, constant properties.
    Raises: ValueError for a heat input or conductivity that is not above zero, or a preheat of 500 degC
        or more.

    >>> round(t85_thick(528.0e3, 20.0), 3)
    1.642
    """
    positive(net_heat_input=net_heat_input, conductivity=conductivity)
    cold, hot = _below(preheat)
    return (1.0 / cold - 1.0 / hot) / (2.0 * pi * conductivity) * net_heat_input


def t85_thin(
    net_heat_input: Real,
    thickness: float,
    preheat: float,
    conductivity: float = MEAN_CONDUCTIVITY,
    volumetric_heat_capacity: float = MEAN_VOLUMETRIC_HEAT_CAPACITY,
) -> Real:
    """Cooling time on a thin plate, q^2 / (4 pi lambda rho c d^2) [1 / (500 - T0)^2 - 1 / (800 - T0)^2].

    Args:
        net_heat_input: heat that enters the steel per length of weld q [J/m]
        thickness: plate thickness d [m]
        preheat: temperature of the plate before the run T0 [degC]
        conductivity: mean thermal conductivity lambda [W/mK]
        volumetric_heat_capacity: mean heat capacity by volume rho c [J/m3K]

    Returns:
        time from 800 to 500 degC [s]

    Source: Rykalin 1951; Easterling 1992; from memory.
    Valid: plates thinner than `transition_thickness`, fast-moving arc, constant properties, no surface loss.
    Raises: ValueError for a value that is not above zero, or a preheat of 500 degC or more.

    >>> round(t85_thin(528.0e3, 6.0e-3, 20.0), 3)
    9.007
    """
    positive(net_heat_input=net_heat_input, thickness=thickness)
    positive(conductivity=conductivity, volumetric_heat_capacity=volumetric_heat_capacity)
    cold, hot = _below(preheat)
    shape = (1.0 / cold**2 - 1.0 / hot**2) / (
        4.0 * pi * conductivity * volumetric_heat_capacity * thickness**2
    )
    return shape * net_heat_input**2


def transition_thickness(
    net_heat_input: Real, preheat: float, volumetric_heat_capacity: float = MEAN_VOLUMETRIC_HEAT_CAPACITY
) -> Real:
    """Thickness at which thick and thin plate cool alike.

    sqrt{(q / 2 rho c) [1 / (500 - T0) + 1 / (800 - T0)]}.

    Args:
        net_heat_input: heat that enters the steel per length of weld q [J/m]
        preheat: temperature of the plate before the run T0 [degC]
        volumetric_heat_capacity: mean heat capacity by volume rho c [J/m3K]

    Returns:
        thickness [m]

    Source: `t85_thick` set equal to `t85_thin`; Easterling 1992, from memory.
    Valid: as those two.
    Raises: ValueError for a heat input or heat capacity that is not above zero, or a preheat of 500 degC
        or more.

    >>> round(transition_thickness(528.0e3, 20.0) * 1e3, 2)
    14.05
    """
    positive(net_heat_input=net_heat_input, volumetric_heat_capacity=volumetric_heat_capacity)
    cold, hot = _below(preheat)
    square: Real = (1.0 / cold + 1.0 / hot) / (2.0 * volumetric_heat_capacity) * net_heat_input
    return root(square)


def t85_three_dimensional(net_heat_input: Real, preheat: float, shape_factor: float = 1.0) -> Real:
    """Cooling time by EN 1011-2 on thick plate, (6700 - 5 T0) Q [1 / (500 - T0) - 1 / (800 - T0)] F3.

    Args:
        net_heat_input: heat that enters the steel per length of weld, Q in kJ/mm in the standard [J/m]
        preheat: temperature of the plate before the run T0 [degC]
        shape_factor: F3 of the joint [-]

    Returns:
        time from 800 to 500 degC [s]

    Source: EN 1011-2:2001 annex D, three-dimensional heat flow.
    Valid: unalloyed and low-alloy steel; the longer of this and `t85_two_dimensional` governs.
    Raises: ValueError for a heat input that is not above zero, a preheat of 500 degC or more, or a shape
        factor outside 0 to 1.

    >>> round(t85_three_dimensional(1.0e6, 20.0), 3)
    5.288
    """
    positive(net_heat_input=net_heat_input)
    fraction(shape_factor=shape_factor)
    cold, hot = _below(preheat)
    return (6700.0 - 5.0 * preheat) * (1.0 / cold - 1.0 / hot) * shape_factor * 1e-6 * net_heat_input


def t85_two_dimensional(
    net_heat_input: Real, thickness: float, preheat: float, shape_factor: float = 1.0
) -> Real:
    """Cooling time by EN 1011-2 on thin plate, (4300 - 4.3 T0) 1e5 (Q / d)^2 [..]^2 F2.

    The bracket is 1 / (500 - T0)^2 - 1 / (800 - T0)^2, with Q in kJ/mm and d in mm.

    Args:
        net_heat_input: heat that enters the steel per length of weld Q [J/m]
        thickness: plate thickness d [m]
        preheat: temperature of the plate before the run T0 [degC]
        shape_factor: F2 of the joint [-]

    Returns:
        time from 800 to 500 degC [s]

    Source: EN 1011-2:2001 annex D, two-dimensional heat flow.
    Valid: unalloyed and low-alloy steel; the longer of this and `t85_three_dimensional` governs.
    Raises: ValueError for a heat input or thickness that is not above zero, a preheat of 500 degC or more, or
        a shape factor outside 0 to 1.

    >>> round(t85_two_dimensional(1.0e6, 10.0e-3, 20.0), 3)
    11.364
    """
    positive(net_heat_input=net_heat_input, thickness=thickness)
    fraction(shape_factor=shape_factor)
    cold, hot = _below(preheat)
    bracket = 1.0 / cold**2 - 1.0 / hot**2
    # Q [kJ/mm] / d [mm] is 1e-9 times Q [J/m] / d [m].
    return (4300.0 - 4.3 * preheat) * 1e5 * bracket * shape_factor * (1e-9 / thickness * net_heat_input) ** 2


def en1011_transition_thickness(net_heat_input: float, preheat: float) -> float:
    """Thickness at which the two forms of EN 1011-2 agree (F2 = F3 = 1).

    Args:
        net_heat_input: heat that enters the steel per length of weld Q [J/m]
        preheat: temperature of the plate before the run T0 [degC]

    Returns:
        thickness [m]

    Source: EN 1011-2:2001 annex D, from memory: sqrt{(4300 - 4.3 T0) / (6700 - 5 T0) 1e5 Q
        [1 / (500 - T0) + 1 / (800 - T0)]} with Q in kJ/mm, in mm.
    Valid: bead on plate.
    Raises: ValueError for a heat input that is not above zero, or a preheat of 500 degC or more.

    >>> round(en1011_transition_thickness(1.0e6, 20.0) * 1e3, 2)
    14.66
    """
    positive(net_heat_input=net_heat_input)
    cold, hot = _below(preheat)
    ratio = (4300.0 - 4.3 * preheat) / (6700.0 - 5.0 * preheat)
    return 1e-3 * sqrt(ratio * 1e5 * net_heat_input * 1e-6 * (1.0 / cold + 1.0 / hot))


def shape_factors(joint: str) -> tuple[float, float, float]:
    """Shape factors of a joint for `t85_two_dimensional` and `t85_three_dimensional`.

    Args:
        joint: "bead on plate", "butt interpass", "corner fillet" or "tee fillet" [-]

    Returns:
        lowest F2, highest F2, F3 [-]

    Source: EN 1011-2:2001 table D.1, from memory.
    Valid: single-run fillets; F2 of a fillet falls within its range with the ratio of heat to thickness.
    Raises: ValueError for a joint that is not listed.

    >>> shape_factors("tee fillet")
    (0.45, 0.67, 0.67)
    """
    if joint not in _SHAPE_FACTORS:
        raise ValueError(f"joint must be one of {sorted(_SHAPE_FACTORS)}, not {joint!r}")
    return _SHAPE_FACTORS[joint]


def cooling_time(
    net_heat_input: float,
    thickness: float,
    preheat: float,
    joint: str = "tee fillet",
    plate_factor: float | None = None,
) -> float:
    """Cooling time by EN 1011-2: the longer of two- and three-dimensional heat flow.

    Args:
        net_heat_input: heat that enters the steel per length of weld [J/m]
        thickness: plate thickness [m]
        preheat: temperature of the plate before the run [degC]
        joint: "bead on plate", "butt interpass", "corner fillet" or "tee fillet" [-]
        plate_factor: F2 where known; left out, the lowest of the joint's range, which gives the shorter
            time and so errs to the side of hardening [-]

    Returns:
        time from 800 to 500 degC [s]

    Source: EN 1011-2:2001 annex D.
    Valid: unalloyed and low-alloy steel, welded in single runs.
    Raises: ValueError for a value that is not above zero, a preheat of 500 degC or more, an unknown joint,
        or a factor outside 0 to 1.

    >>> round(cooling_time(528.0e3, 9.5e-3, 20.0, "tee fillet"), 3)
    1.871
    """
    lowest, _, f3 = shape_factors(joint)
    f2 = lowest if plate_factor is None else plate_factor
    thin = t85_two_dimensional(net_heat_input, thickness, preheat, f2)
    thick = t85_three_dimensional(net_heat_input, preheat, f3)
    return float(np.maximum(thin, thick))


def _below(preheat: float) -> tuple[float, float]:
    """Differences of 500 and 800 degC to the plate; refuse a plate too hot to cool through 500."""
    if not -273.15 <= preheat < 500.0:
        raise ValueError(f"preheat must be below 500 degC, not {preheat!r}")
    return 500.0 - preheat, 800.0 - preheat
