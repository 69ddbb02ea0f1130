"""What a prediction rests on that nobody knows exactly: each input with its spread and the source of the spread.

A spread tells which factor an input has at each share of the cases: at 0.1 a tenth of all shops and days lie below.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np
from scipy.special import ndtri

from axlewright.heat.system import PROPERTIES_AT
from axlewright.heat.varied import HeatFactors
from axlewright.solid.mesh import Floats
from axlewright.weld.steel import conductivity, heat_capacity

STEEL_AT = (20.0, 200.0)
"""Temperatures of the skin between beads, at which its properties may be taken [degC]."""


@dataclass(frozen=True)
class Inputs:
    """Each input over what settings and formulas say [1].

    Args:
        tendon: pull along a bead.
        across: shrinkage across a bead.
        rotation: turning of the attachment toward the fillet.
        bead_stiffness: stiffness of a laid bead.
        heat: arc heat that enters the steel; shrinkage along and across follows it.
        tack_stiffness: stiffness of a tack.
        flow: loss to the air, conductance across seams, and the steel's own properties.
    """

    tendon: float = 1.0
    across: float = 1.0
    rotation: float = 1.0
    bead_stiffness: float = 1.0
    heat: float = 1.0
    tack_stiffness: float = 1.0
    flow: HeatFactors = field(default_factory=HeatFactors)


Factors = dict[str, Floats]
"""Factors of one or two fields of `Inputs` or of `HeatFactors`, by name."""


@dataclass(frozen=True)
class Spread:
    """How far an input may lie from what is taken.

    Args:
        name: short name.
        words: what the shop calls it.
        factors: from shares of the cases, shape (n,), to factors, shape (n,).
        source: where the spread comes from.
    """

    name: str
    words: str
    factors: Callable[[Floats], Factors]
    source: str

    @property
    def reach(self) -> tuple[float, float]:
        """Factor that one case in ten stays below, and that nine in ten stay below."""
        values = next(iter(self.factors(np.array([0.1, 0.9])).values()))
        return float(values[0]), float(values[1])


def log_normal(field: str, spread: float, middle: float = 1.0) -> Callable[[Floats], Factors]:
    """A factor whose logarithm is normal about that of its middle with a standard deviation."""
    return lambda share: {field: middle * np.exp(spread * ndtri(share))}


def normal(field: str, spread: float) -> Callable[[Floats], Factors]:
    """A factor that is normal about one with a standard deviation."""
    return lambda share: {field: 1.0 + spread * ndtri(share)}


def log_uniform(field: str, low: float, high: float) -> Callable[[Floats], Factors]:
    """A factor anywhere between two bounds, each doubling as likely as the next."""
    return lambda share: {field: low * (high / low) ** share}


def _steel(share: Floats) -> Factors:
    """Conductivity and heat capacity at a temperature anywhere between the bounds of `STEEL_AT`."""
    at = STEEL_AT[0] + share * (STEEL_AT[1] - STEEL_AT[0])
    return {
        "conduction": np.asarray(conductivity(at)) / float(conductivity(PROPERTIES_AT)),
        "capacity": np.asarray(heat_capacity(at)) / float(heat_capacity(PROPERTIES_AT)),
    }


SPREADS = (
    Spread(
        "tendon",
        "shrinkage along the bead",
        log_normal("tendon", 0.26),
        "Blodgett 1966, 7.7: bow -40 to +70 % of the formula, taken as 95 of 100 cases; White, Leggatt and Dwight: "
        "25 % (both from memory)",
    ),
    Spread(
        "across",
        "shrinkage across the bead",
        log_normal("across", 0.35),
        "Okerblom and Nikolaev; TWI allowances: within a factor of 2, taken as 95 of 100 cases",
    ),
    Spread(
        "rotation",
        "turning toward the fillet",
        log_normal("rotation", 0.17),
        "Ferro et al. 2021: standard deviation 0.18 of 1.44 degrees within one set-up, with 800 to 1200 K in the "
        "formula",
    ),
    Spread(
        "heat",
        "arc heat",
        normal("heat", 0.08),
        "DuPont and Marder 1995: 0.84 +-0.04 against the standard's 0.8; reading of volts, amps and speed 5 %",
    ),
    Spread(
        "loss",
        "air cooling",
        log_normal("loss", 0.25),
        "linearised loss over true loss 1.3 to 0.8 at rises of 10 to 100 K (docs/theory/heat.md); emissivity 0.5 "
        "to 0.95 about 0.8; still air (judgement)",
    ),
    Spread(
        "seam",
        "heat across the seam",
        log_uniform("seam", 0.2, 5.0),
        "from an edge that only touches, 2 W/mK, to a fillet with tight fit-up, 50 W/mK (judgement)",
    ),
    Spread(
        "steel",
        "heat properties of the steel",
        _steel,
        "EN 1993-1-2:2005 between 20 and 200 degC, the skin between beads",
    ),
    Spread(
        "tack_stiffness",
        "stiffness of tacks",
        log_normal("tack_stiffness", 0.35),
        "Lesik and Kennedy 1990 for long fillets; a factor of 2 for a short one's ends and size (judgement)",
    ),
    Spread(
        "bead_stiffness",
        "stiffness of beads",
        log_normal("bead_stiffness", 0.25),
        "Lesik and Kennedy 1990; scatter of first slopes and of bead size (judgement)",
    ),
)
