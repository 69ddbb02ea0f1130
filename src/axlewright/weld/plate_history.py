"""Temperature history of a thin plate of finite size under an arc that starts, moves and stops."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, log, pi, sqrt

import numpy as np
from numpy.typing import ArrayLike, NDArray

from axlewright.weld._check import not_negative, positive

#: Gauss-Legendre rule used on every panel, and panels per factor e of elapsed time.
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(8)
_PANELS_PER_E_FOLD = 6
#: Shortest time since release that is integrated [s]: heat has then spread by some 10 micrometres.
_SHORTEST = 1.0e-6
#: Images whose exponent exceeds this are left out (exp(-36) is below rounding).
_NEGLIGIBLE = 36.0


@dataclass(frozen=True)
class Plate:
    """A thin plate from (0, 0) to (length, width) [m] of one material, losing heat to its surroundings.

    Conductivity [W/mK], heat capacity by volume [J/m3K], loss: sum of both faces' coefficients [W/m2K].
    """

    length: float
    width: float
    thickness: float
    conductivity: float
    volumetric_heat_capacity: float
    loss: float = 0.0


@dataclass(frozen=True)
class Run:
    """One straight run: net power [W], speed [m/s] along x, start point [m], time the arc burns [s]."""

    power: float
    travel_speed: float
    start_x: float
    y: float
    arc_time: float


def plate_temperature(
    time: ArrayLike, x: float, y: float, plate: Plate, run: Run, initial: float = 20.0, ambient: float = 20.0
) -> NDArray[np.float64]:
    """Temperature at one point of a thin plate against time since the arc started.

    Superposes instantaneous line sources q ds / (4 pi lambda d s) exp(-r^2 / 4 a s) exp(-b s), released along
    the path at time t - s, with their mirror images in all four edges; b = loss / (rho c d).

    Args:
        time: since the arc started [s]
        x: place along the run [m]
        y: place across the run [m]
        plate: size, material and surface loss [-]
        run: power and path of the arc [-]
        initial: temperature of the plate when the arc starts [degC]
        ambient: temperature the surface loses heat to [degC]

    Returns:
        temperature, one for each time [degC]

    Source: Carslaw and Jaeger, Conduction of Heat in Solids, 1959, sections 10.3 (line source) and 10.1
        (images); Rosenthal 1946 for surface loss of a thin plate.
    Valid: plate thin enough to be of one temperature through its thickness, constant properties, no
        melting, linear loss; points 0.1 mm and more from the run, on a path that stays on the plate.
    Raises: ValueError for a size, speed or property that is not above zero, a loss or time below zero, or a
        run that leaves the plate.
    """
    _check(plate, run)
    not_negative(time=time)
    times = np.asarray(time, dtype=float).ravel()
    rise = np.array([_rise(t, x, y, plate, run) for t in times])
    fade = np.exp(-_loss_rate(plate) * times)
    result = ambient + (initial - ambient) * fade + rise
    return np.asarray(result.reshape(np.shape(time)))


def _rise(t: float, x: float, y: float, plate: Plate, run: Run) -> float:
    """Integrate the line sources released up to time t, in the logarithm of the time since release."""
    latest = max(t - run.arc_time, _SHORTEST)
    if t <= latest:
        return 0.0
    panels = ceil(_PANELS_PER_E_FOLD * log(t / latest)) + 4
    edges = np.linspace(log(latest), log(t), panels + 1)
    half = 0.5 * np.diff(edges)[:, None]
    log_s = 0.5 * (edges[:-1] + edges[1:])[:, None] + half * _NODES
    since = np.exp(log_s)
    diffusivity = plate.conductivity / plate.volumetric_heat_capacity
    source_x = run.start_x + run.travel_speed * (t - since)
    spread = _images(x, source_x, plate.length, diffusivity * since) * _images(
        y, np.full_like(since, run.y), plate.width, diffusivity * since
    )
    # The 1 / s of the line source cancels against ds = s d(log s).
    integral = np.sum(half * _WEIGHTS * spread * np.exp(-_loss_rate(plate) * since))
    return float(run.power / (4.0 * pi * plate.conductivity * plate.thickness) * integral)


def _images(
    place: float, source: NDArray[np.float64], size: float, spread: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Sum exp(-distance^2 / 4 a s) over a source and its reflections in two edges that pass no heat."""
    reach = sqrt(4.0 * _NEGLIGIBLE * float(spread.max()))
    count = ceil(reach / (2.0 * size)) + 1
    total = np.zeros_like(source)
    for shift in 2.0 * size * np.arange(-count, count + 1):
        for mirrored in (source, -source):
            total += np.exp(-((place - mirrored - shift) ** 2) / (4.0 * spread))
    return total


def _loss_rate(plate: Plate) -> float:
    return plate.loss / (plate.volumetric_heat_capacity * plate.thickness)


def _check(plate: Plate, run: Run) -> None:
    positive(length=plate.length, width=plate.width, thickness=plate.thickness)
    positive(conductivity=plate.conductivity, volumetric_heat_capacity=plate.volumetric_heat_capacity)
    positive(power=run.power, travel_speed=run.travel_speed, arc_time=run.arc_time)
    not_negative(loss=plate.loss)
    end_x = run.start_x + run.travel_speed * run.arc_time
    along = run.start_x >= 0.0 and end_x <= plate.length * (1.0 + 1e-9)
    on_plate = along and 0.0 <= run.y <= plate.width
    if not on_plate:
        raise ValueError(f"the run from x = {run.start_x} to {end_x}, y = {run.y} leaves the plate")
