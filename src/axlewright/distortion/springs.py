"""How stiff beads and tacks are, and what they pull when they shrink."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axlewright.solid.mesh import Floats
from axlewright.weld.shrinkage import angular_shrinkage, tendon_force, transverse_shrinkage
from axlewright.weld.steel import POISSON, YOUNGS, Steel


@dataclass(frozen=True)
class Shrinkage:
    """What a metre of seam does to the steel around it when its bead has cooled.

    Args:
        tendon: pull along the seam [N].
        across: pull across the seam in the host's wall, for each stretch, shape (S,) [N].
        rotation: turning of the guest toward the fillet when nothing holds it [rad].
    """

    tendon: float
    across: Floats
    rotation: float


def shrinkage(heat_input: float, host_thickness: Floats, host_share: Floats) -> Shrinkage:
    """Shrinkage of a bead from its net heat input; the formulas and their sources are in `weld.shrinkage`.

    The pull across is E t delta / (1 - nu^2) for a wall of thickness t that closes by delta when free
    (plane stress).

    Args:
        heat_input: net heat put in [J/m].
        host_thickness: wall of the host at each stretch, shape (S,) [m].
        host_share: share of the heat that enters the host, shape (S,) [1].
    """
    closing = [
        float(transverse_shrinkage(heat_input * share, thickness))
        for thickness, share in zip(host_thickness, host_share, strict=True)
    ]
    across = YOUNGS / (1 - POISSON**2) * host_thickness * np.array(closing)
    return Shrinkage(float(tendon_force(heat_input)), across, float(angular_shrinkage()))


def fillet_stiffness(leg: float, steel: Steel) -> Floats:
    """Stiffness of a metre of fillet weld along, normal, sideways [N/m2] and in rotation [N/rad].

    Equations: measured load-deformation curves of fillet welds begin as P / Pu = 8.234 D / Du, with
    Pu = 0.67 Xu a (1 + 0.5 sin^1.5 theta) a metre and Du = 0.209 (theta + 2)^-0.32 z, theta the angle between pull
    and weld in degrees, a the throat, z the leg, Xu the ultimate strength. So k = 8.234 Pu / Du at 0 and at
    90 degrees. In rotation k = fy a^2 / (4 beta), with beta the free angular shrinkage: a fillet that is kept
    from turning cannot build up more than the plastic moment of its throat.

    Args:
        leg: leg length of the fillet z [m].
        steel: steel of the parts; weld metal is taken to match it [Pa].

    Returns:
        shape (4,).

    Source: Lesik and Kennedy, "Ultimate strength of fillet welded connections loaded in plane", Canadian
        Journal of Civil Engineering 17 (1990), equations for Pu, Du and the first branch of the curve; from
        memory. The rotation bound is elementary plasticity.
    Valid: equal-leg fillets of 5 to 11 mm legs, loads up to about half of Pu.
    Raises: nothing.
    """
    throat = leg / np.sqrt(2)
    along, across = (_first_slope(angle) * steel.ultimate * throat / leg for angle in (0.0, 90.0))
    return np.array(
        [along, across, across, steel.yield_strength * throat**2 / (4 * float(angular_shrinkage()))]
    )


def _first_slope(angle: float) -> float:
    """8.234 times 0.67 (1 + 0.5 sin^1.5 theta) over 0.209 (theta + 2)^-0.32, theta in degrees."""
    strength = 0.67 * (1 + 0.5 * np.sin(np.radians(angle)) ** 1.5)
    return float(8.234 * strength / (0.209 * (angle + 2) ** -0.32))
