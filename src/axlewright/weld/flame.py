"""A torch that moves along a plate: how hot the skin gets and how fast to move.

The flame is a Gaussian patch on the skin; `flame_width` is the diameter that holds 86 per cent of its heat (four
standard deviations).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, log, pi

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.optimize import brentq, minimize_scalar

from axlewright.weld._check import Real, positive
from axlewright.weld.steel import MEAN_CONDUCTIVITY, MEAN_VOLUMETRIC_HEAT_CAPACITY

LIMIT_C = 650.0
"""Hottest the skin may get in heat straightening [degC]: carbon and low-alloy steel that is not quenched and tempered.
FHWA, Guide for Heat-Straightening of Damaged Steel Bridge Members, 2008, ch. 5."""
PHASE_CHANGE_C = 720.0
"""About where the steel begins to change its structure on heating [degC]; same guide and chapter."""
SLOWEST, FASTEST = 0.2e-3, 30.0e-3
"""Speeds that a hand can hold along a line [m/s]; a judgement."""


@dataclass(frozen=True)
class Torch:
    """A torch as it is usually met: low, usual and high.

    Args:
        name: of the tip.
        net_power: heat that enters the steel [W].
        flame_width: diameter that holds 86 per cent of it [m].
    """

    name: str
    net_power: tuple[float, float, float]
    flame_width: tuple[float, float, float]


TORCHES = {
    "small": Torch("small tip", (0.8e3, 1.4e3, 2.2e3), (25.0e-3, 35.0e-3, 50.0e-3)),
    "medium": Torch("medium tip", (1.8e3, 3.0e3, 4.5e3), (35.0e-3, 50.0e-3, 65.0e-3)),
}
"""Oxy-acetylene tips. Common practice with a wide spread, not measured: some 150 and 600 litres of acetylene an hour,
53 MJ/m3, of which 65 and 35 per cent enters the steel; spread of the flame after Rykalin 1951, from memory."""


def peak_temperature(
    power: float,
    travel_speed: float,
    thickness: float,
    flame_width: float,
    ambient: float = 20.0,
    depth: float = 0.0,
    conductivity: float = MEAN_CONDUCTIVITY,
    volumetric_heat_capacity: float = MEAN_VOLUMETRIC_HEAT_CAPACITY,
) -> float:
    """Highest temperature on the line of a torch that moves along a plate: the highest of `temperature_behind`.

    Args:
        power: heat that enters the steel q [W]
        travel_speed: speed of the torch v [m/s]
        thickness: plate thickness d [m]
        flame_width: diameter that holds 86 per cent of the heat, four standard deviations [m]
        ambient: temperature of the plate before [degC]
        depth: below the skin, up to the thickness for the back of the wall [m]
        conductivity: mean lambda [W/mK]
        volumetric_heat_capacity: mean rho c [J/m3K]

    Returns:
        temperature [degC]

    Source: as `temperature_behind`.
    Valid: as `temperature_behind`.
    Raises: ValueError as `temperature_behind`.

    >>> round(peak_temperature(1400.0, 2.0e-3, 8.0e-3, 35.0e-3))
    653
    """
    plate = _Plate(travel_speed, thickness, flame_width, depth, conductivity, volumetric_heat_capacity)
    positive(power=power)
    return ambient + power * plate.peak()


def temperature_behind(
    power: float,
    travel_speed: float,
    thickness: float,
    flame_width: float,
    behind: ArrayLike,
    ambient: float = 20.0,
    depth: float = 0.0,
    conductivity: float = MEAN_CONDUCTIVITY,
    volumetric_heat_capacity: float = MEAN_VOLUMETRIC_HEAT_CAPACITY,
) -> NDArray[np.float64]:
    """Steady temperature on the line of a moving Gaussian flame, at the skin or below it.

    T - T0 = q / (2 pi rho c d) int_0^inf exp[-(v s - b)^2 / 2 m] / m [1 + 2 sum cos(n pi z / d)
    exp(-n^2 pi^2 a s / d^2)] ds, m = w^2 / 16 + 2 a s, a = lambda / rho c.

    Args:
        power: heat that enters the steel q [W]
        travel_speed: speed of the torch v [m/s]
        thickness: plate thickness d [m]
        flame_width: diameter that holds 86 per cent of the heat, four standard deviations w [m]
        behind: distance behind the middle of the flame b [m]
        ambient: temperature of the plate before T0 [degC]
        depth: below the skin z, up to the thickness [m]
        conductivity: mean lambda [W/mK]
        volumetric_heat_capacity: mean rho c [J/m3K]

    Returns:
        temperature, one for each distance [degC]

    Source: superposed instantaneous sources between two faces that pass no heat, Carslaw and Jaeger, Conduction of
        Heat in Solids, 1959, sections 10.2 and 14.3; Gaussian flame after Rykalin 1951.
    Valid: constant properties (those of a weld's temperatures: 3 per cent for 20 to 650 degC), wide plate, line longer
        than the pool of heat, no loss to the air (at 600 degC the skin really loses some 3 per cent while it is
        heated: the result errs to the hot side).
    Raises: ValueError for a power, speed, thickness, width or property that is not above zero, or a depth outside
        the plate.

    >>> temperature_behind(1400.0, 2.0e-3, 8.0e-3, 35.0e-3, [0.0, 50.0e-3]).round().tolist()
    [594.0, 350.0]
    """
    plate = _Plate(travel_speed, thickness, flame_width, depth, conductivity, volumetric_heat_capacity)
    positive(power=power)
    return np.asarray(ambient + power * plate.rise(np.asarray(behind, dtype=float)))


def heat_line_speed(
    power: float, thickness: float, flame_width: float, peak: float, ambient: float = 20.0
) -> float:
    """Speed at which a torch brings the skin to a wanted peak: `peak_temperature` solved for the speed.

    Args:
        power: heat that enters the steel [W]
        thickness: plate thickness [m]
        flame_width: diameter that holds 86 per cent of the heat [m]
        peak: temperature the skin shall reach [degC]
        ambient: temperature of the plate before [degC]

    Returns:
        speed of the torch [m/s]

    Source: as `temperature_behind`.
    Valid: `SLOWEST` to `FASTEST`, what a hand can hold.
    Raises: ValueError for a power, thickness or width that is not above zero, or a peak that no such speed brings.

    >>> round(heat_line_speed(1400.0, 8.0e-3, 35.0e-3, 600.0) * 1e3, 2)
    2.34
    """
    positive(power=power, above_ambient=peak - ambient)

    def miss(log_speed: float) -> float:
        return peak_temperature(power, exp(log_speed), thickness, flame_width, ambient) - peak

    ends = log(SLOWEST), log(FASTEST)
    if miss(ends[0]) < 0.0 or miss(ends[1]) > 0.0:
        raise ValueError(f"no speed from {SLOWEST} to {FASTEST} m/s brings the skin to {peak} degC")
    return exp(float(brentq(miss, *ends, xtol=1e-6)))


def heat_per_length(power: Real, travel_speed: float) -> Real:
    """Heat that a heat line puts in per metre, Q = q / v.

    Args:
        power: heat that enters the steel q [W]
        travel_speed: speed of the torch v [m/s]

    Returns:
        net heat per length [J/m]

    Source: definition.
    Valid: steady travel; one pass.
    Raises: ValueError for a power or speed that is not above zero.

    >>> heat_per_length(1400.0, 2.0e-3)
    700000.0
    """
    positive(power=power, travel_speed=travel_speed)
    return power / travel_speed


def thickness_fourier(
    travel_speed: float,
    thickness: float,
    flame_width: float,
    diffusivity: float = MEAN_CONDUCTIVITY / MEAN_VOLUMETRIC_HEAT_CAPACITY,
) -> float:
    """Time the flame stands over a place, over the time heat needs through the wall, a (w / v) / d^2.

    Args:
        travel_speed: speed of the torch v [m/s]
        thickness: plate thickness d [m]
        flame_width: diameter that holds 86 per cent of the heat w [m]
        diffusivity: a [m2/s]

    Returns:
        Fourier number; from about 1 on the whole wall is heated, far below it only the skin [-]

    Source: Carslaw and Jaeger 1959, section 3.8.
    Valid: any; the back's own peak is `peak_temperature` with `depth=thickness`.
    Raises: ValueError for a value that is not above zero.

    >>> round(thickness_fourier(2.0e-3, 8.0e-3, 35.0e-3), 2)
    2.49
    """
    positive(travel_speed=travel_speed, thickness=thickness, flame_width=flame_width, diffusivity=diffusivity)
    return diffusivity * flame_width / travel_speed / thickness**2


_STEPS = 600
"""Steps of the quadrature, even in the logarithm of time; 1500 change the rise by less than 1e-8."""
_SHORTEST = 1.0e-10
_LOOKS = 40
"""Places looked at for the peak before it is refined."""


@dataclass(frozen=True)
class _Plate:
    """A moving flame of one watt on a plate, seen at one depth."""

    travel_speed: float
    thickness: float
    flame_width: float
    depth: float = 0.0
    conductivity: float = MEAN_CONDUCTIVITY
    volumetric_heat_capacity: float = MEAN_VOLUMETRIC_HEAT_CAPACITY

    def __post_init__(self) -> None:
        positive(travel_speed=self.travel_speed, thickness=self.thickness, flame_width=self.flame_width)
        positive(conductivity=self.conductivity, volumetric_heat_capacity=self.volumetric_heat_capacity)
        if not 0.0 <= self.depth <= self.thickness:
            raise ValueError(f"depth must lie from 0 to the thickness {self.thickness!r}, not {self.depth!r}")

    @property
    def _diffusivity(self) -> float:
        return self.conductivity / self.volumetric_heat_capacity

    def rise(self, behind: NDArray[np.float64]) -> NDArray[np.float64]:
        """Rise for one watt at places behind the flame [K/W]."""
        speed, diffusivity = self.travel_speed, self._diffusivity
        reach = float(np.abs(behind).max()) + 2.0 * self.flame_width
        longest = 160.0 * diffusivity / speed**2 + 4.0 * reach / speed
        log_s = np.linspace(log(_SHORTEST), log(longest), _STEPS)
        s = np.exp(log_s)
        spread = (self.flame_width / 4.0) ** 2 + 2.0 * diffusivity * s
        passing = np.exp(-((speed * s - np.atleast_1d(behind)[:, None]) ** 2) / (2.0 * spread))
        kernel = passing * (self._through(diffusivity * s / self.thickness**2) * s / spread)
        whole = np.trapezoid(kernel, log_s, axis=1)
        # What came before the first step: the kernel grows as the root of s there.
        whole += 2.0 * kernel[:, 0]
        scale = 2.0 * pi * self.volumetric_heat_capacity * self.thickness
        return np.reshape(whole / scale, np.shape(behind))

    def peak(self) -> float:
        """Highest rise for one watt [K/W]."""
        lag = 2.0 * self.flame_width + self.travel_speed * self.thickness**2 / self._diffusivity
        places = np.linspace(0.0, lag, _LOOKS)
        best = float(places[np.argmax(self.rise(places))])
        step = lag / (_LOOKS - 1)
        found = minimize_scalar(
            lambda place: -float(self.rise(np.asarray(place))),
            bounds=(best - step, best + step),
            method="bounded",
        )
        return -float(found.fun)

    def _through(self, fourier: NDArray[np.float64]) -> NDArray[np.float64]:
        """Temperature at the depth over the mean of the wall, by time since release."""
        place = self.depth / self.thickness
        early, late = np.minimum(fourier, 0.3), np.maximum(fourier, 0.3)
        images = sum(np.exp(-((place + 2.0 * k) ** 2) / (4.0 * early)) for k in range(-3, 4))
        series = sum(np.cos(n * pi * place) * np.exp(-((n * pi) ** 2) * late) for n in range(1, 4))
        return np.where(fourier < 0.3, images / np.sqrt(pi * early), 1.0 + 2.0 * series)
