"""What the steel, the wall and the welds bear when a tube is pressed, and what a workshop press can do."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp

import numpy as np

from axlewright.straightness.correct.press_bending import Push, Span
from axlewright.straightness.correct.press_section import RoundTube
from axlewright.weld._check import positive
from axlewright.weld.steel import steel

_REAL_OVER_NOMINAL = {"S235": 1.25, "S275": 1.25, "S355": 1.20}
"""Mean of the real yield strength over the grade's minimum: EN 1993-1-1:2022 table E.1, from memory."""
_SPREAD = 0.07
"""Coefficient of variation of the yield strength: JCSS Probabilistic Model Code 3.2, 2001, from memory."""
_SOFTENED = 0.85
"""Share of the minimum at which steel that was bent the other way before begins to yield (Bauschinger effect);
a judgement."""
_NINETY = 1.645

SADDLE = 0.080
"""Length of the saddle along the tube [m]: shaped to the tube, holding a third of it round, edges rounded."""
SADDLE_HOURS = 2.0
"""Half of what the saddle holds round the tube, by the clock [h]."""
USUAL_PRESS = 200.0e3
"""Load of the press most workshops have, 20 t [N]; common practice."""
WELD_STRAIN = 0.005
"""Most an old weld should be strained beside a push [1]; a judgement: about twice the strain at which sound steel
yields, because a weld's toe multiplies it and nobody has looked inside."""
TUBE_STRAIN = 0.02
"""Most a tube's skin should be strained in one push [1]; a judgement, well inside the 5 per cent up to which vessel
codes let carbon steel be formed cold without heat treatment (ASME VIII-1 UCS-79, from memory)."""


@dataclass(frozen=True)
class YieldStrength:
    """Yield strength of a tube of a known grade whose melt nobody knows [Pa].

    Args:
        softest: what the first push is made for.
        low: one tube in twenty is softer.
        middle: half are softer.
        high: one in twenty is stronger.
    """

    softest: float
    low: float
    middle: float
    high: float


def yield_strength(grade: str) -> YieldStrength:
    """Yield strength of hot-finished tube by its grade: the nominal figure is a minimum.

    middle = r f_y, low and high = middle exp(-+ 1.645 v); softest = 0.85 f_y.

    Args:
        grade: S235, S275 or S355 [-]

    Source: EN 10025-2 (minimum f_y); EN 1993-1-1:2022 table E.1 (r = 1.25, 1.25, 1.20) and JCSS Probabilistic Model
        Code 3.2 (v = 0.07), both from memory.
    Valid: hot-finished structural steel; cold-drawn and heat-treated tube is stronger than any of these.
    Raises: ValueError for a grade that is not listed.
    """
    minimum = steel(grade).yield_strength
    middle = minimum * _REAL_OVER_NOMINAL[grade]
    factor = exp(_NINETY * _SPREAD)
    return YieldStrength(_SOFTENED * minimum, middle / factor, middle, middle * factor)


def dent_load(tube: RoundTube, saddle: float = SADDLE) -> float:
    """Load at which the wall at the edge of a saddle that holds a third of the tube begins to yield.

    P = s / [1 / 4 t (b + 10 t) + 3 K / 2 t^2], K = 0.0529 for 120 degrees.

    Args:
        tube: what is pressed; its yield strength s and wall t [-]
        saddle: length of the saddle b [m]

    Returns:
        load of the ram [N]

    Source: Zick, Stresses in Large Horizontal Cylindrical Pressure Vessels on Two Saddle Supports, Welding Journal
        Research Supplement 30 (1951) 435-s, circumferential stress at the horn of the saddle, from memory.
    Valid: spans of four diameters and more, a saddle that fits; made for thin vessels. Held against finite
        elements on a tube 89 x 4 mm. Under a flat block the wall flattens at less.
    Raises: ValueError for a saddle that is not above zero.
    """
    positive(saddle=saddle)
    wall = (tube.outside - tube.inside) / 2.0
    per_load = 1.0 / (4.0 * wall * (saddle + 10.0 * wall)) + 1.5 * 0.0529 / wall**2
    return tube.yield_strength / per_load


def slenderest(strength: float) -> float:
    """Outside diameter over wall up to which a tube can be bent far beyond yield without a buckle, 50 (235 MPa / s).

    Args:
        strength: yield strength s [Pa]

    Returns:
        diameter over wall [1]

    Source: EN 1993-1-1:2005 table 5.2 sheet 3, class 1.
    Valid: round steel tubes in bending.
    Raises: ValueError for a strength that is not above zero.
    """
    positive(strength=strength)
    return 50.0 * 235.0e6 / strength


def skin_strain(tube: RoundTube, span: Span, push: Push, away: float) -> float:
    """Strain of the skin on the side pushed on, at a distance from the ram's middle, at the deepest of the push.

    R k(m), m the moment there; a hinge counts as spread over one diameter.

    Args:
        tube: what is pressed [-]
        span: supports and ram [-]
        push: the push [-]
        away: distance from the ram's middle [m]

    Returns:
        strain [1]

    Source: plane sections; a hinge's length of one diameter is a judgement.
    Valid: as `RoundTube`.
    Raises: ValueError for a distance that is not a number.
    """
    positive(away=abs(away) + 1.0)
    share = min(max((span.half - abs(away)) / span.arm, 0.0), 1.0)
    bent = _bent_by(tube, push, share) * tube.yield_curvature
    if push.hinge and abs(away) < max(tube.outside, span.pitch) / 2.0:
        bent += push.hinge / max(tube.outside, span.pitch)
    return bent * tube.outside / 2.0


def _bent_by(tube: RoundTube, push: Push, share: float) -> float:
    """Curvature over the yield curvature where the moment is a share of the one under the ram."""
    if share >= 1.0:
        return push.bent
    wanted = share * push.moment / tube.yield_moment
    if wanted <= 1.0:
        return wanted
    # Close together near the yield moment, far apart beyond: the curve flattens out.
    curve = np.geomspace(1.0, push.bent, 400)
    return float(np.interp(wanted, tube.moment_ratio(curve), curve))
