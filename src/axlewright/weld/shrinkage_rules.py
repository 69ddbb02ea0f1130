"""Rules of thumb for shrinkage from the size of weld and plate, as handbooks print them.

They stand beside the energy forms of `shrinkage` so that each prediction can be held against the
other. Where a rule carries units in its constant, the conversion is inside.
"""

from __future__ import annotations

from axlewright.weld._check import Real, fraction, not_negative, positive

_INCH = 0.0254


def butt_transverse_blodgett(weld_area: Real, thickness: float) -> Real:
    """Shrinkage across a butt weld, delta = 0.10 A / t.

    Args:
        weld_area: cross-section of the weld, reinforcement included A [m2]
        thickness: plate thickness t [m]

    Returns:
        shortening across the weld [m]

    Source: Blodgett, Design of Welded Structures, 1966, section 7.7; formula also quoted in a contractor's
        public method statement (whose printed table does not follow from it and is not used).
    Valid: unrestrained butt welds in carbon steel; band 50 per cent either way.
    Raises: ValueError for an area or thickness that is not above zero.

    >>> round(butt_transverse_blodgett(81.7e-6, 12.0e-3) * 1e3, 3)
    0.681
    """
    positive(weld_area=weld_area, thickness=thickness)
    return 0.10 * weld_area / thickness


def butt_transverse_spraragen(weld_area: Real, thickness: float, root_gap: float) -> Real:
    """Shrinkage across a butt weld, delta = 0.2 A / t + 0.05 g.

    Args:
        weld_area: cross-section of the weld, reinforcement included A [m2]
        thickness: plate thickness t [m]
        root_gap: opening at the root before welding g [m]

    Returns:
        shortening across the weld [m]

    Source: Spraragen and Ettinger, in the AWS Welding Handbook, from memory.
    Valid: unrestrained butt welds in carbon steel, several runs; band 50 per cent either way.
    Raises: ValueError for an area or thickness that is not above zero, or a gap below zero.

    >>> round(butt_transverse_spraragen(81.7e-6, 12.0e-3, 2.0e-3) * 1e3, 3)
    1.462
    """
    positive(weld_area=weld_area, thickness=thickness)
    not_negative(root_gap=root_gap)
    return 0.2 * weld_area / thickness + 0.05 * root_gap


def tee_transverse(leg: Real, thickness: float, welded_share: float = 1.0) -> Real:
    """Shrinkage of the flange under a T-joint with two fillets, delta = 1.02 mm z / t.

    Args:
        leg: leg of each fillet z [m]
        thickness: thickness of the flange t [m]
        welded_share: welded length over seam length, 1 for a continuous weld [-]

    Returns:
        shortening across the joint [m]

    Source: AWS Welding Handbook (0.04 in z / t); constants seen on a public page, form from memory.
    Valid: two continuous or intermittent fillets, carbon steel, single runs; band 50 per cent either way.
    Raises: ValueError for a leg or thickness that is not above zero, or a share outside 0 to 1.

    >>> round(tee_transverse(6.0e-3, 10.0e-3) * 1e3, 3)
    0.612
    """
    positive(leg=leg, thickness=thickness)
    fraction(welded_share=welded_share)
    return 1.02e-3 * welded_share / thickness * leg


def lap_transverse(leg: Real, thickness: float, welded_share: float = 1.0) -> Real:
    """Shrinkage across a lap joint with two fillets, delta = 1.52 mm z / t.

    Args:
        leg: leg of each fillet z [m]
        thickness: thickness of the thinner plate t [m]
        welded_share: welded length over seam length, 1 for a continuous weld [-]

    Returns:
        shortening across the joint [m]

    Source: AWS Welding Handbook (0.06 in z / t); constants seen on a public page, form from memory.
    Valid: as `tee_transverse`.
    Raises: ValueError for a leg or thickness that is not above zero, or a share outside 0 to 1.

    >>> round(lap_transverse(6.0e-3, 10.0e-3) * 1e3, 3)
    0.912
    """
    positive(leg=leg, thickness=thickness)
    fraction(welded_share=welded_share)
    return 1.52e-3 * welded_share / thickness * leg


def blodgett_flange_angular(flange_width: Real, leg: float, thickness: float) -> Real:
    """Lift of a flange's edge by a web fillet pair, 0.02 W z^1.3 / t^2 with all lengths in inches.

    Args:
        flange_width: full width of the flange W [m]
        leg: leg of each fillet z [m]
        thickness: thickness of the flange t [m]

    Returns:
        distance by which the flange's edge moves towards the web [m]

    Source: Blodgett, Design of Welded Structures, 1966, section 7.7, from memory. The rule is not
        homogeneous: metres are turned into inches inside and back again.
    Valid: free flange of carbon steel, single runs; band 50 per cent either way.
    Raises: ValueError for a length that is not above zero.

    >>> round(blodgett_flange_angular(8 * 0.0254, 0.25 * 0.0254, 0.375 * 0.0254) / 0.0254, 3)
    0.188
    """
    positive(flange_width=flange_width, leg=leg, thickness=thickness)
    per_width: float = 0.02 * (leg / _INCH) ** 1.3 / (thickness / _INCH) ** 2
    return flange_width * per_width


def intermittent_ratio(bead_length: Real, pitch: float) -> Real:
    """Shrinkage of a stitched seam over that of the same seam welded in full, l / p.

    Args:
        bead_length: length of one bead l [m]
        pitch: distance from the start of one bead to the start of the next p [m]

    Returns:
        ratio [-]

    Source: integration of the curvature of evenly spaced beads; agrees with the AWS Welding Handbook rule
        for intermittent fillets (from memory).
    Valid: at least about ten beads, evenly spaced; the ends of each bead are taken to pull in full.
    Raises: ValueError for a length that is not above zero or a bead longer than the pitch.

    >>> intermittent_ratio(0.05, 0.10)
    0.5
    """
    positive(bead_length=bead_length, pitch=pitch)
    fraction(ratio=bead_length / pitch)
    return bead_length / pitch
