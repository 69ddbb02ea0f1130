"""Static strength of fillet welds by EN 1993-1-8."""

from __future__ import annotations

from math import sqrt

import numpy as np
from numpy.typing import ArrayLike, NDArray

from axlewright.weld._check import Real, positive
from axlewright.weld.steel import Steel

#: Recommended partial factor for welds, EN 1993-1-8:2005 2.2.
GAMMA_M2 = 1.25


def weld_shear_strength(ultimate: Real, beta_w: float, gamma_m2: float = GAMMA_M2) -> Real:
    """Design shear strength of a fillet weld, f_vw,d = f_u / (sqrt(3) beta_w gamma_M2).

    Args:
        ultimate: tensile strength of the weaker part joined f_u [Pa]
        beta_w: correlation factor of the steel [-]
        gamma_m2: partial factor [-]

    Returns:
        design strength of the throat, whatever the direction of the load [Pa]

    Source: EN 1993-1-8:2005 4.5.3.3, simplified method.
    Valid: static load, parts of 4 mm and more, filler at least as strong as the parts.
    Raises: ValueError for a value that is not above zero.

    >>> round(weld_shear_strength(490.0e6, 0.9) / 1e6, 2)
    251.47
    """
    positive(ultimate=ultimate, beta_w=beta_w, gamma_m2=gamma_m2)
    return ultimate / (sqrt(3.0) * beta_w * gamma_m2)


def weld_resistance(throat: Real, length: float, steel: Steel, gamma_m2: float = GAMMA_M2) -> Real:
    """Design resistance of one fillet weld, F = f_vw,d a L.

    Args:
        throat: throat of the fillet a [m]
        length: effective length, start and stop craters left out L [m]
        steel: the weaker part joined [-]
        gamma_m2: partial factor [-]

    Returns:
        force the weld may carry in any direction [N]

    Source: EN 1993-1-8:2005 4.5.3.3 (strength) and 4.5.1 (effective length).
    Valid: static load. 4.5.1(2) does not let a weld shorter than 30 mm or six throats carry load in a
        finished structure; applied to a tack it is a strength estimate only.
    Raises: ValueError for a value that is not above zero.

    >>> from axlewright.weld.steel import steel
    >>> round(2 * weld_resistance(4.0e-3, 0.120, steel("S235")) / 1e3, 1)
    199.5
    """
    positive(throat=throat, length=length)
    return weld_shear_strength(steel.ultimate, steel.correlation_factor, gamma_m2) * length * throat


def tee_throat_stress(force: float, throat: float, length: float) -> tuple[float, float]:
    """Stresses in the throats of a T-joint with two fillets, web pulled off the flange.

    With the throat at 45 degrees both are F / (sqrt(2) 2 a L).

    Args:
        force: pull on the web across the seam F [N]
        throat: throat of each fillet a [m]
        length: effective length of each fillet L [m]

    Returns:
        normal stress and shear stress, both across the throat [Pa]

    Source: statics; stress components of EN 1993-1-8:2005 figure 4.5.
    Valid: two equal fillets, equal legs, right angle, load through the web's middle.
    Raises: ValueError for a throat or length that is not above zero.

    >>> [round(s / 1e6, 1) for s in tee_throat_stress(200.0e3, 5.0e-3, 0.100)]
    [141.4, 141.4]
    """
    positive(throat=throat, length=length)
    stress = force / (sqrt(2.0) * 2.0 * throat * length)
    return stress, abs(stress)


def directional_utilisation(
    normal: ArrayLike,
    shear_across: ArrayLike,
    shear_along: ArrayLike,
    steel: Steel,
    gamma_m2: float = GAMMA_M2,
) -> NDArray[np.float64]:
    """Utilisation of a fillet weld by the directional method; 1 is the limit.

    The larger of sqrt(s^2 + 3 t^2 + 3 u^2) beta_w gamma_M2 / f_u and |s| gamma_M2 / (0.9 f_u).

    Args:
        normal: normal stress across the throat s [Pa]
        shear_across: shear stress in the throat across the weld t [Pa]
        shear_along: shear stress in the throat along the weld u [Pa]
        steel: the weaker part joined [-]
        gamma_m2: partial factor [-]

    Returns:
        utilisation [-]

    Source: EN 1993-1-8:2005 4.5.3.2, equation 4.1.
    Valid: static load, parts of 4 mm and more, filler at least as strong as the parts.
    Raises: ValueError for a partial factor that is not above zero, or a stress that is not a finite number.

    >>> from axlewright.weld.steel import steel
    >>> round(float(directional_utilisation(141.42e6, 141.42e6, 0.0, steel("S355"))), 3)
    0.649
    """
    positive(gamma_m2=gamma_m2)
    s, t, u = (np.asarray(part, dtype=float) for part in (normal, shear_across, shear_along))
    if not all(np.isfinite(part).all() for part in (s, t, u)):
        raise ValueError("stresses must be finite")
    combined = np.sqrt(s**2 + 3.0 * (t**2 + u**2)) * steel.correlation_factor
    return np.asarray(np.maximum(combined, np.abs(s) / 0.9) * (gamma_m2 / steel.ultimate))
