"""Structural steel and castings: strength at room temperature, properties when hot."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

#: Density of steel [kg/m3], EN 1993-1-2:2005 3.2.2 (taken as independent of temperature).
DENSITY = 7850.0
#: Young's modulus of steel at 20 degC [Pa], EN 1993-1-1:2005 3.2.6.
YOUNGS = 210.0e9
#: Poisson's ratio of steel [-], EN 1993-1-1:2005 3.2.6.
POISSON = 0.3
#: Linear thermal expansion of steel up to 100 degC [1/K], EN 1993-1-1:2005 3.2.6.
EXPANSION = 12.0e-6
#: Mean conductivity of low-carbon steel over a weld's temperatures [W/mK], Easterling 1992, from memory.
MEAN_CONDUCTIVITY = 41.0
#: Mean heat capacity by volume of low-carbon steel over a weld's temperatures [J/m3K], ditto.
MEAN_VOLUMETRIC_HEAT_CAPACITY = 4.5e6

#: EN 1993-1-2:2005 table 3.1: degC, then reduction factors of yield, proportional limit and modulus.
_REDUCTION = np.array(
    [
        (20.0, 1.00, 1.0000, 1.0000),
        (100.0, 1.00, 1.0000, 1.0000),
        (200.0, 1.00, 0.8070, 0.9000),
        (300.0, 1.00, 0.6130, 0.8000),
        (400.0, 1.00, 0.4200, 0.7000),
        (500.0, 0.78, 0.3600, 0.6000),
        (600.0, 0.47, 0.1800, 0.3100),
        (700.0, 0.23, 0.0750, 0.1300),
        (800.0, 0.11, 0.0500, 0.0900),
        (900.0, 0.06, 0.0375, 0.0675),
        (1000.0, 0.04, 0.0250, 0.0450),
        (1100.0, 0.02, 0.0125, 0.0225),
        (1200.0, 0.00, 0.0000, 0.0000),
    ]
)


@dataclass(frozen=True)
class Steel:
    """A weldable structural steel: strengths [Pa], correlation factor [-], elastic constants."""

    name: str
    yield_strength: float
    ultimate: float
    correlation_factor: float
    youngs: float = YOUNGS
    poisson: float = POISSON
    expansion: float = EXPANSION


@dataclass(frozen=True)
class Casting:
    """A cast centre, for stiffness only: modulus [Pa], Poisson's ratio [-], expansion [1/K]."""

    name: str
    youngs: float
    poisson: float
    expansion: float


_STEELS = {
    "S235": Steel("S235", 235.0e6, 360.0e6, 0.80),
    "S275": Steel("S275", 275.0e6, 430.0e6, 0.85),
    "S355": Steel("S355", 355.0e6, 490.0e6, 0.90),
}

_CASTINGS = {
    "nodular iron": Casting("nodular iron", 169.0e9, 0.275, 12.5e-6),
    "steel": Casting("steel", YOUNGS, POISSON, EXPANSION),
    "unknown": Casting("unknown", 169.0e9, 0.275, 12.5e-6),
}


def steel(grade: str) -> Steel:
    """Strength and weld correlation factor of a structural steel.

    Args:
        grade: S235, S275 or S355 [-]

    Returns:
        the steel: yield and ultimate strength [Pa], correlation factor [-], elastic constants.

    Source: EN 1993-1-1:2005 table 3.1 (strengths, EN 10025-2) and EN 1993-1-8:2005 table 4.1 (factor).
    Valid: thickness up to 40 mm, 20 degC.
    Raises: ValueError for a grade that is not listed.

    >>> steel("S355").ultimate
    490000000.0
    """
    if grade not in _STEELS:
        raise ValueError(f"grade must be one of {sorted(_STEELS)}, not {grade!r}")
    return _STEELS[grade]


def casting(kind: str) -> Casting:
    """Elastic constants of a cast centre.

    Args:
        kind: "nodular iron", "steel" or "unknown" [-]

    Returns:
        the casting: modulus [Pa], Poisson's ratio [-], expansion [1/K].

    Source: EN 1563:2018, information on EN-GJS-400 grades (169 GPa, 0.275, 12.5e-6 per K), from memory;
        EN 1993-1-1:2005 3.2.6 for cast steel. An unknown casting is given the softer of the two, so that
        predicted bow errs to the large side.
    Valid: stiffness only. Nothing here says that a casting may be welded.
    Raises: ValueError for a kind that is not listed.

    >>> casting("nodular iron").youngs
    169000000000.0
    """
    if kind not in _CASTINGS:
        raise ValueError(f"kind must be one of {sorted(_CASTINGS)}, not {kind!r}")
    return _CASTINGS[kind]


def conductivity(temperature: ArrayLike) -> NDArray[np.float64]:
    """Thermal conductivity of carbon steel, 54 - 0.0333 T below 800 degC, then 27.3.

    Args:
        temperature: steel temperature T [degC]

    Returns:
        conductivity [W/mK]

    Source: EN 1993-1-2:2005 3.4.1.3.
    Valid: 20 to 1200 degC; held at the end values beyond.
    Raises: ValueError for a temperature that is not a finite number.

    >>> round(float(conductivity(20.0)), 2)
    53.33
    """
    hot = _within_range(temperature)
    return np.where(hot < 800.0, 54.0 - 0.0333 * hot, 27.3)


def heat_capacity(temperature: ArrayLike) -> NDArray[np.float64]:
    """Specific heat of carbon steel, with the peak of the ferrite to austenite change at 735 degC.

    425 + 0.773 T - 1.69e-3 T^2 + 2.22e-6 T^3 below 600 degC; 666 + 13002 / (738 - T) below 735;
    545 + 17820 / (T - 731) below 900; 650 above.

    Args:
        temperature: steel temperature T [degC]

    Returns:
        specific heat [J/kgK]

    Source: EN 1993-1-2:2005 3.4.1.2.
    Valid: 20 to 1200 degC; held at the end values beyond. Melting is not included.
    Raises: ValueError for a temperature that is not a finite number.

    >>> round(float(heat_capacity(20.0)), 1)
    439.8
    """
    hot = _within_range(temperature)
    below, above = np.minimum(hot, 735.0), np.maximum(hot, 735.0)
    return np.select(
        [hot < 600.0, hot < 735.0, hot < 900.0],
        [
            425.0 + 0.773 * hot - 1.69e-3 * hot**2 + 2.22e-6 * hot**3,
            666.0 + 13002.0 / (738.0 - below),
            545.0 + 17820.0 / (above - 731.0),
        ],
        650.0,
    )


def thermal_strain(temperature: ArrayLike) -> NDArray[np.float64]:
    """Free elongation of carbon steel from 20 degC.

    1.2e-5 T + 0.4e-8 T^2 - 2.416e-4 below 750 degC; 0.011 up to 860; 2e-5 T - 0.0062 above.

    Args:
        temperature: steel temperature T [degC]

    Returns:
        strain [-]

    Source: EN 1993-1-2:2005 3.4.1.1.
    Valid: 20 to 1200 degC; held at the end values beyond. Heating; cooling lags in the phase change.
    Raises: ValueError for a temperature that is not a finite number.

    >>> round(float(thermal_strain(600.0)) * 1e3, 3)
    8.398
    """
    hot = _within_range(temperature)
    ferrite = 1.2e-5 * hot + 0.4e-8 * hot**2 - 2.416e-4
    austenite = 2.0e-5 * hot - 0.0062
    return np.asarray(np.where(hot < 750.0, ferrite, np.where(hot <= 860.0, 0.011, austenite)))


def reduction_factors(
    temperature: ArrayLike,
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Reduction of yield strength, proportional limit and modulus of hot carbon steel.

    Args:
        temperature: steel temperature [degC]

    Returns:
        k_y, k_p and k_E: hot value over the value at 20 degC [-]

    Source: EN 1993-1-2:2005 table 3.1, straight lines between its rows.
    Valid: 20 to 1200 degC; held at the end values beyond.
    Raises: ValueError for a temperature that is not a finite number.

    >>> tuple(float(k) for k in reduction_factors(600.0))
    (0.47, 0.18, 0.31)
    """
    hot = _within_range(temperature)
    at, *columns = _REDUCTION.T
    k_y, k_p, k_e = (np.asarray(np.interp(hot, at, column)) for column in columns)
    return k_y, k_p, k_e


def _within_range(temperature: ArrayLike) -> NDArray[np.float64]:
    """Clamp to the 20 to 1200 degC of the standard; refuse what is not a number."""
    hot = np.asarray(temperature, dtype=float)
    if not np.isfinite(hot).all():
        raise ValueError(f"temperature must be finite, not {temperature!r}")
    return np.asarray(np.clip(hot, 20.0, 1200.0))
