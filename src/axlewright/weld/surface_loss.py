"""Heat lost by bare steel to still air: natural convection and radiation."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from ht import Nu_horizontal_cylinder_Churchill_Chu
from numpy.typing import ArrayLike, NDArray
from scipy.constants import Stefan_Boltzmann, g, zero_Celsius

from axlewright.weld._check import fraction, positive

#: Dry air at atmospheric pressure: K, viscosity [1e-6 m2/s], conductivity [1e-3 W/mK], Prandtl number.
#: Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, table A.4, from memory.
_AIR = np.array(
    [
        (250.0, 11.44, 22.3, 0.720),
        (300.0, 15.89, 26.3, 0.707),
        (350.0, 20.92, 30.0, 0.700),
        (400.0, 26.41, 33.8, 0.690),
        (450.0, 32.39, 37.3, 0.686),
        (500.0, 38.79, 40.7, 0.684),
        (550.0, 45.57, 43.9, 0.683),
        (600.0, 52.69, 46.9, 0.685),
        (700.0, 68.10, 52.4, 0.695),
        (800.0, 84.93, 57.3, 0.709),
    ]
)


@dataclass(frozen=True)
class Air:
    """Air at one temperature: viscosity [m2/s], conductivity [W/mK], Prandtl number [-]."""

    viscosity: NDArray[np.float64] | float
    conductivity: NDArray[np.float64] | float
    prandtl: NDArray[np.float64] | float


def air(temperature: ArrayLike) -> Air:
    """Properties of dry air at atmospheric pressure.

    Args:
        temperature: air temperature [degC]

    Returns:
        kinematic viscosity [m2/s], conductivity [W/mK], Prandtl number [-]

    Source: Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, table A.4, from memory.
    Valid: -20 to 525 degC; held at the end values beyond. Other tables differ by up to 3 per cent.
    Raises: ValueError for a temperature that is not a finite number.

    >>> round(float(air(26.85).conductivity), 4)
    0.0263
    """
    kelvin = np.asarray(temperature, dtype=float) + zero_Celsius
    if not np.isfinite(kelvin).all():
        raise ValueError(f"temperature must be finite, not {temperature!r}")
    viscosity, conductivity, prandtl = (np.interp(kelvin, _AIR[:, 0], _AIR[:, n]) for n in (1, 2, 3))
    return Air(1e-6 * viscosity, 1e-3 * conductivity, prandtl)


def convection_coefficient(
    skin_c: ArrayLike, ambient_c: ArrayLike, diameter: float, film: Air | None = None
) -> NDArray[np.float64]:
    """Natural convection of a horizontal cylinder in still air.

    Nu = {0.60 + 0.387 Ra^(1/6) / [1 + (0.559 / Pr)^(9/16)]^(8/27)}^2, Ra = g |Ts - Ta| D^3 Pr / (Tf nu^2).

    Args:
        skin_c: temperature of the skin Ts [degC]
        ambient_c: temperature of the air Ta [degC]
        diameter: outside diameter D [m]
        film: properties of the air; left out, those at the mean of skin and air [-]

    Returns:
        heat transfer coefficient [W/m2K]

    Source: Churchill and Chu, Int. J. Heat Mass Transfer 18 (1975) 1049, through the library `ht`.
    Valid: Ra from 1e-5 to 1e12, isothermal, no draught.
    Raises: ValueError for a diameter that is not above zero.

    >>> round(float(convection_coefficient(100.0, 20.0, 88.9e-3)), 1)
    6.5
    """
    positive(diameter=diameter)
    skin, ambient = np.asarray(skin_c, dtype=float), np.asarray(ambient_c, dtype=float)
    mean = 0.5 * (skin + ambient)
    film = air(mean) if film is None else film
    grashof = g * np.abs(skin - ambient) * diameter**3 / ((mean + zero_Celsius) * film.viscosity**2)
    nusselt = Nu_horizontal_cylinder_Churchill_Chu(film.prandtl, grashof)
    return np.asarray(nusselt * film.conductivity / diameter)


def radiation_coefficient(
    skin_c: ArrayLike, ambient_c: ArrayLike, emissivity: float = 0.8
) -> NDArray[np.float64]:
    """Radiation of a grey body to large surroundings, eps sigma (Ts^2 + Ta^2) (Ts + Ta) in kelvin.

    Args:
        skin_c: temperature of the skin Ts [degC]
        ambient_c: temperature of the surroundings Ta [degC]
        emissivity: eps; 0.8 for oxidised or painted steel, 0.2 to 0.3 for ground bright [-]

    Returns:
        heat transfer coefficient, exact between the two temperatures [W/m2K]

    Source: Stefan-Boltzmann law; emissivities of Incropera and DeWitt table A.11, from memory.
    Valid: surroundings much larger than the part, all at ambient temperature.
    Raises: ValueError for an emissivity outside 0 to 1.

    >>> round(float(radiation_coefficient(100.0, 20.0)), 2)
    6.81
    """
    fraction(emissivity=emissivity)
    skin = np.asarray(skin_c, dtype=float) + zero_Celsius
    ambient = np.asarray(ambient_c, dtype=float) + zero_Celsius
    return np.asarray(emissivity * Stefan_Boltzmann * (skin**2 + ambient**2) * (skin + ambient))


def surface_loss(
    skin_c: ArrayLike, ambient_c: ArrayLike, diameter: float, emissivity: float = 0.8
) -> NDArray[np.float64]:
    """Secant coefficient of heat loss: convection plus radiation over skin minus ambient.

    Args:
        skin_c: temperature of the skin at which the loss is made linear [degC]
        ambient_c: temperature of air and surroundings [degC]
        diameter: outside diameter [m]
        emissivity: of the skin [-]

    Returns:
        coefficient that gives the exact loss at the stated skin temperature [W/m2K]

    Source: `convection_coefficient` and `radiation_coefficient`.
    Valid: horizontal tube in still air; see `linearisation_error` for use at other skin temperatures.
    Raises: ValueError for a diameter that is not above zero or an emissivity outside 0 to 1.

    >>> round(float(surface_loss(100.0, 20.0, 88.9e-3)), 1)
    13.3
    """
    convection = convection_coefficient(skin_c, ambient_c, diameter)
    return convection + radiation_coefficient(skin_c, ambient_c, emissivity)


def linearisation_error(
    skin_c: ArrayLike, stated_skin_c: float, ambient_c: float, diameter: float, emissivity: float = 0.8
) -> NDArray[np.float64]:
    """Linearised over true heat loss, when one coefficient serves a range of skin temperatures.

    Args:
        skin_c: temperatures the skin really has [degC]
        stated_skin_c: temperature at which the coefficient was taken [degC]
        ambient_c: temperature of air and surroundings [degC]
        diameter: outside diameter [m]
        emissivity: of the skin [-]

    Returns:
        ratio; above 1 the linear model loses too much [-]

    Source: ratio of two values of `surface_loss`.
    Valid: as `surface_loss`.
    Raises: ValueError for a diameter that is not above zero or an emissivity outside 0 to 1.

    >>> linearisation_error([100.0], 100.0, 20.0, 88.9e-3).round(3).tolist()
    [1.0]
    """
    true = surface_loss(skin_c, ambient_c, diameter, emissivity)
    return surface_loss(stated_skin_c, ambient_c, diameter, emissivity) / true
