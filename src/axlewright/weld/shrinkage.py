"""Shrinkage of a bead: along it, across it, and as an angle; from heat, in energy form.

Rules of thumb from leg and plate size stand in `shrinkage_rules`, beam bending in `bow`.
"""

from __future__ import annotations

from axlewright.weld._check import Real, not_negative, positive
from axlewright.weld.steel import EXPANSION

#: Heat capacity by volume of low-carbon steel as the Okerblom school takes it [J/m3K].
SHRINKAGE_VOLUMETRIC_HEAT_CAPACITY = 4.9e6

#: Tendon force per net heat input [N per J/m]: 0.2 kN per J/mm.
TENDON_COEFFICIENT = 0.2


def tendon_force(net_heat_input: Real) -> Real:
    """Longitudinal pull of a weld on the section it is laid on, F = 0.2 q [kN, J/mm].

    Args:
        net_heat_input: heat that enters the steel per length of weld q [J/m]

    Returns:
        force along the weld, tension in the weld [N]

    Source: White, Leggatt and Dwight, about 1977 to 1980 (Cambridge University), from memory.
    Valid: single runs on mild and C-Mn steel that stays mostly elastic; band 25 per cent either way.
        Not for several runs on top of each other (the largest counts, not the sum) or preheat above 200 degC.
    Raises: ValueError for a heat input below zero.

    >>> round(tendon_force(528.0e3) / 1e3, 1)
    105.6
    """
    not_negative(net_heat_input=net_heat_input)
    return TENDON_COEFFICIENT * net_heat_input


def okerblom_shrinkage_volume(
    net_heat_input: Real,
    expansion: float = EXPANSION,
    volumetric_heat_capacity: float = SHRINKAGE_VOLUMETRIC_HEAT_CAPACITY,
) -> Real:
    """Longitudinal shrinkage volume per length of weld, mu = 0.335 (alpha / c rho) q.

    Young's modulus times mu is a pull along the weld, to be compared with `tendon_force`.

    Args:
        net_heat_input: heat that enters the steel per length of weld q [J/m]
        expansion: linear thermal expansion alpha [1/K]
        volumetric_heat_capacity: heat capacity by volume c rho [J/m3K]

    Returns:
        shrinkage volume per length [m2]

    Source: Okerblom, The Calculations of Deformations of Welded Metal Structures, 1958, from memory.
    Valid: single runs on low-carbon steel, most of the section elastic; 0.165 to 0.181 kN per J/mm for a
        specific heat of 650 to 600 J/kgK, that is 10 to 18 per cent below the tendon force.
    Raises: ValueError for a heat input below zero or a constant that is not above zero.

    >>> round(210e9 * okerblom_shrinkage_volume(1.0, volumetric_heat_capacity=600.0 * 7850.0), 3)
    0.179
    """
    not_negative(net_heat_input=net_heat_input)
    positive(expansion=expansion, volumetric_heat_capacity=volumetric_heat_capacity)
    return 0.335 * expansion / volumetric_heat_capacity * net_heat_input


def transverse_shrinkage(
    net_heat_input: Real,
    thickness: float,
    expansion: float = EXPANSION,
    volumetric_heat_capacity: float = SHRINKAGE_VOLUMETRIC_HEAT_CAPACITY,
) -> Real:
    """Shrinkage across a bead on plate or butt, delta = (alpha / c rho) q / t.

    Args:
        net_heat_input: heat that enters the plate per length of weld q [J/m]
        thickness: plate thickness t [m]
        expansion: linear thermal expansion alpha [1/K]
        volumetric_heat_capacity: heat capacity by volume c rho [J/m3K]

    Returns:
        shortening across the weld [m]

    Source: Okerblom and Nikolaev school, from memory: the width that expands freely when heated.
    Valid: full penetration of heat through the thickness, one run, little restraint; within a factor of 2.
        For a fillet multiply by `flange_share`.
    Raises: ValueError for a heat input below zero, or a thickness or constant that is not above zero.

    >>> round(transverse_shrinkage(528.0e3, 9.5e-3) * 1e3, 3)
    0.136
    """
    not_negative(net_heat_input=net_heat_input)
    positive(thickness=thickness, expansion=expansion, volumetric_heat_capacity=volumetric_heat_capacity)
    return expansion / (volumetric_heat_capacity * thickness) * net_heat_input


def flange_share(flange_thickness: Real, web_thickness: float) -> Real:
    """Share of a T-joint fillet's heat that flows into the flange, 2 tf / (2 tf + tw).

    Args:
        flange_thickness: thickness of the plate that runs through tf [m]
        web_thickness: thickness of the plate that stands on it tw [m]

    Returns:
        share [-]

    Source: heat splits by the cross-section it can flow into, two ways in the flange and one in the web;
        Okerblom and Nikolaev school, from memory.
    Valid: plates at least as wide as the hot zone on both sides of the bead.
    Raises: ValueError for a thickness that is not above zero.

    >>> round(flange_share(9.5e-3, 9.5e-3), 3)
    0.667
    """
    positive(flange_thickness=flange_thickness, web_thickness=web_thickness)
    return 2.0 * flange_thickness / (2.0 * flange_thickness + web_thickness)


def angular_shrinkage(temperature_drop: float = 1000.0, expansion: float = EXPANSION) -> float:
    """Angle by which a one-sided fillet closes, phi = 2 alpha dT.

    The face of the weld triangle shrinks by alpha dT while its legs stay fused to the plates;
    with c = z sqrt(2) the change of the angle between the legs is dc / (z / sqrt(2)) = 2 alpha dT.

    Args:
        temperature_drop: cooling over which the weld is strong enough to pull dT [K]
        expansion: linear thermal expansion alpha [1/K]

    Returns:
        closing of the right angle, tip of the web towards the weld [rad]

    Source: geometry of the weld triangle; constants from measured one-sided MAG fillets, 1.44 degrees mean
        with standard deviation 0.18 (Ferro et al., Procedia Structural Integrity 33 (2021) p. 200).
    Valid: one-sided, single run, free web, leg of about the plate thickness; band 25 per cent, with dT from
        800 to 1200 K. Plates much thicker than the leg close less. No recovery on stress relief.
    Raises: ValueError for a temperature drop below zero or an expansion that is not above zero.

    >>> round(angular_shrinkage(1000.0), 4)
    0.024
    """
    not_negative(temperature_drop=temperature_drop)
    positive(expansion=expansion)
    return 2.0 * expansion * temperature_drop
