"""Bending of a beam by beads laid off its neutral axis."""

from __future__ import annotations

from axlewright.weld._check import Real, not_negative, positive
from axlewright.weld.steel import YOUNGS


def blodgett_bow(weld_area: Real, distance: float, length: float, second_moment: float) -> Real:
    """Bow at mid-length from a full-length weld, delta = 0.005 A d L^2 / I.

    Args:
        weld_area: cross-section of the weld A [m2]
        distance: from the neutral axis to the centre of the weld d [m]
        length: length of beam and weld L [m]
        second_moment: second moment of area of the section I [m4]

    Returns:
        bow, ends towards the weld [m]

    Source: Blodgett, Design of Welded Structures, 1966, section 7.7, from memory. Homogeneous: any one
        unit of length.
    Valid: straight prismatic beam of carbon steel, supported freely; real bows lie from 40 per cent below to
        70 per cent above.
    Raises: ValueError for an area, length or second moment that is not above zero, or a distance below zero.

    >>> round(blodgett_bow(12.5e-6, 44.45e-3, 1.0, 1.8942e-6) * 1e3, 3)
    1.467
    """
    positive(weld_area=weld_area, length=length, second_moment=second_moment)
    not_negative(distance=distance)
    return 0.005 * distance * length**2 / second_moment * weld_area


def equivalent_tendon_force(weld_area: Real, youngs: float = YOUNGS) -> Real:
    """Pull along the weld that bends a beam as Blodgett's bow says, F = 0.04 E A.

    Args:
        weld_area: cross-section of the weld A [m2]
        youngs: Young's modulus E [Pa]

    Returns:
        force [N]

    Source: `blodgett_bow` set equal to `tendon_bow`.
    Valid: as `blodgett_bow`; it lets bead size and heat input be compared.
    Raises: ValueError for an area or modulus that is not above zero.

    >>> round(equivalent_tendon_force(1.0e-6))
    8400
    """
    positive(weld_area=weld_area, youngs=youngs)
    return 0.04 * youngs * weld_area


def tendon_bow(
    force: Real, eccentricity: float, length: float, second_moment: float, youngs: float = YOUNGS
) -> Real:
    """Bow at mid-length from a pull along the whole beam, delta = F e L^2 / (8 E I).

    Args:
        force: pull along the weld F [N]
        eccentricity: from the neutral axis to the weld, its sign carried to the result e [m]
        length: length of beam and weld L [m]
        second_moment: second moment of area of the section I [m4]
        youngs: Young's modulus E [Pa]

    Returns:
        bow, ends towards the weld [m]

    Source: Euler-Bernoulli beam under constant moment F e.
    Valid: slender, elastic, straight, freely supported; band of the force (25 per cent) on top.
    Raises: ValueError for a force below zero, or a length or section constant that is not above zero.

    >>> round(tendon_bow(105.6e3, 44.45e-3, 1.0, 1.8942e-6) * 1e3, 3)
    1.475
    """
    not_negative(force=force)
    positive(length=length, second_moment=second_moment, youngs=youngs)
    return eccentricity * length**2 / (8.0 * youngs * second_moment) * force


def bead_rotation(
    force: Real, eccentricity: float, bead_length: float, second_moment: float, youngs: float = YOUNGS
) -> Real:
    """Angle between the two sides of a bead laid along a beam, theta = F e l / (E I).

    Args:
        force: pull along the bead F [N]
        eccentricity: from the neutral axis to the bead, its sign carried to the result e [m]
        bead_length: length of the bead l [m]
        second_moment: second moment of area of the section I [m4]
        youngs: Young's modulus E [Pa]

    Returns:
        angle, both ends towards the bead [rad]

    Source: Euler-Bernoulli beam, curvature F e / (E I) over the length of the bead.
    Valid: bead longer than about half the depth of the section, so that plane sections hold; a shorter bead
        on a tube also dents its wall, which this leaves out. Band 25 per cent and more.
    Raises: ValueError for a force below zero, or a length or section constant that is not above zero.

    >>> round(bead_rotation(105.6e3, 44.45e-3, 76.2e-3, 1.8942e-6) * 180.0 / 3.141592653589793, 4)
    0.0515
    """
    not_negative(force=force)
    positive(bead_length=bead_length, second_moment=second_moment, youngs=youngs)
    return eccentricity * bead_length / (youngs * second_moment) * force


def tendon_shortening(force: Real, length: float, area: float, youngs: float = YOUNGS) -> Real:
    """Shortening of a beam under the pull of its weld, delta = F L / (E A).

    Args:
        force: pull along the weld F [N]
        length: length of beam and weld L [m]
        area: cross-section of the beam A [m2]
        youngs: Young's modulus E [Pa]

    Returns:
        shortening of the neutral axis [m]

    Source: Hooke's law for a bar.
    Valid: elastic; band of the force (25 per cent) on top.
    Raises: ValueError for a force below zero, or a length or section constant that is not above zero.

    >>> round(tendon_shortening(105.6e3, 1.0, 2369.7e-6) * 1e3, 3)
    0.212
    """
    not_negative(force=force)
    positive(length=length, area=area, youngs=youngs)
    return length / (youngs * area) * force
