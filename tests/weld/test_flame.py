"""A torch along a plate, held against other solutions of the same heat flow."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from math import pi, sqrt

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy import constants

from axlewright.weld import flame, infrared
from axlewright.weld.near_zone import rosenthal_thick, rosenthal_thin
from axlewright.weld.steel import MEAN_CONDUCTIVITY as CONDUCTIVITY
from axlewright.weld.steel import MEAN_VOLUMETRIC_HEAT_CAPACITY as CAPACITY


def by_wave_numbers(
    power: float, speed: float, thickness: float, width: float, depth: float
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Steady moving flame solved wave by wave in the plane and in closed form through the wall.

    Distance behind the flame [m] and rise [K] on its line. With kappa^2 = k^2 - i v kx / a each wave is
    q cosh(kappa (d - z)) / (lambda kappa sinh(kappa d)); the plate repeats every 6 m by 1.2 m.
    """
    length, across, pitch = 6.0, 1.2, 2.5e-3
    kx = 2.0 * pi * np.fft.fftfreq(round(length / pitch), pitch)[:, None]
    ky = 2.0 * pi * np.fft.rfftfreq(round(across / pitch), pitch)[None, :]
    kappa = np.sqrt(kx**2 + ky**2 - 1j * speed * kx * CAPACITY / CONDUCTIVITY)
    kappa[0, 0] = 1.0
    gaussian = np.exp(-(kx**2 + ky**2) * (width / 4.0) ** 2 / 2.0)
    through = (np.exp(-kappa * depth) + np.exp(-kappa * (2.0 * thickness - depth))) / (
        1.0 - np.exp(-2.0 * kappa * thickness)
    )
    wave = power * gaussian * through / (CONDUCTIVITY * kappa)
    wave[0, 0] = 0.0
    rise = np.fft.irfft2(wave, s=(kx.size, round(across / pitch)))[:, 0] / pitch**2
    ahead = np.fft.fftfreq(kx.size, 1.0 / length)
    order = np.argsort(-ahead)
    cold = rise[np.argmin(np.abs(ahead - 0.15))]
    return np.asarray(-ahead[order], dtype=float), np.asarray(rise[order] - cold, dtype=float)


@pytest.mark.analytical
@pytest.mark.parametrize("thickness", [5e-3, 12e-3])
@pytest.mark.parametrize("at_back", [False, True])
def test_temperature_meets_the_solution_by_wave_numbers(thickness: float, at_back: bool) -> None:
    """Before, under and behind the flame, at skin and back, the superposed sources meet the wave solution.

    0.8 per cent of the peak: the wave solution's plate repeats, so a little of the last pass's wake is left in it.
    """
    power, speed, width = 2000.0, 4e-3, 40e-3
    depth = thickness if at_back else 0.0
    behind, expected = by_wave_numbers(power, speed, thickness, width, depth)
    near = (behind > -0.04) & (behind < 0.1)
    rise = flame.temperature_behind(power, speed, thickness, width, behind[near], 0.0, depth)
    assert rise == pytest.approx(expected[near], abs=8e-3 * expected.max())
    peak = flame.peak_temperature(power, speed, thickness, width, 0.0, depth)
    assert peak == pytest.approx(expected[near].max(), rel=8e-3)


@pytest.mark.analytical
def test_skin_is_hotter_than_the_back_as_by_wave_numbers() -> None:
    """The difference of skin and back, in which the wave solution's wake cancels, is met within 0.1 per cent of it."""
    case = (2000.0, 4e-3, 8e-3, 40e-3)
    behind, skin = by_wave_numbers(*case, 0.0)
    near = (behind > -0.03) & (behind < 0.05)
    expected = (skin - by_wave_numbers(*case, 8e-3)[1])[near]
    sides = [flame.temperature_behind(*case, behind[near], 0.0, depth) for depth in (0.0, 8e-3)]
    assert sides[0] - sides[1] == pytest.approx(expected, abs=1e-3 * expected.max())


@pytest.mark.published
def test_a_sharp_flame_is_rosenthals_arc() -> None:
    """A flame without width is Rosenthal's thick-plate arc (1e-4), and through a thin plate the mean is his (1e-4).

    Rosenthal 1946 and 1941; reference case 22 V, 180 A, 6 mm/s.
    """
    behind = np.array([10e-3, 20e-3])
    thick = flame.temperature_behind(3168.0, 6e-3, 0.5, 1e-5, behind)
    assert thick == pytest.approx(rosenthal_thick(3168.0, 6e-3, -behind, 0.0), rel=1e-4)
    depths = np.linspace(0.0, 6e-3, 13)
    wall = [
        float(flame.temperature_behind(3168.0, 6e-3, 6e-3, 1e-5, 20e-3, depth=float(depth)))
        for depth in depths
    ]
    mean = np.trapezoid(wall, depths) / 6e-3
    assert mean == pytest.approx(float(rosenthal_thin(3168.0, 6e-3, 6e-3, -20e-3, 0.0)), rel=1e-4)


@pytest.mark.analytical
def test_a_fast_flame_on_sheet_leaves_its_heat_where_it_falls() -> None:
    """A fast flame on a thin sheet heats to Q / (rho c d sqrt(2 pi) sigma) (0.5 per cent at 0.5 m/s)."""
    heat, thickness, width = 2e5, 0.5e-3, 40e-3
    peak = flame.peak_temperature(heat * 0.5, 0.5, thickness, width, 0.0)
    assert peak == pytest.approx(heat / (CAPACITY * thickness * sqrt(2.0 * pi) * width / 4.0), rel=5e-3)


@pytest.mark.analytical
def test_speed_brings_the_wanted_peak() -> None:
    """The speed for a peak gives that peak, more slowly for a hotter skin or a thicker wall (0.01 K)."""
    slow, fast = (flame.heat_line_speed(1400.0, 8e-3, 35e-3, peak) for peak in (640.0, 560.0))
    assert flame.peak_temperature(1400.0, slow, 8e-3, 35e-3) == pytest.approx(640.0, abs=0.01)
    assert slow < fast
    assert flame.heat_line_speed(1400.0, 10e-3, 35e-3, 640.0) < slow


@pytest.mark.analytical
def test_heat_per_length_is_power_over_speed() -> None:
    """A torch of 1.2 kW at 3 mm/s puts in 0.4 MJ/m."""
    assert flame.heat_per_length(1200.0, 3e-3) == pytest.approx(4e5, rel=1e-12)


@pytest.mark.analytical
def test_safe_reading_is_what_a_flame_at_the_limit_leaves() -> None:
    """Whatever the power, the spot behind reads the safe reading when the peak is at the limit (0.01 K)."""
    size = (2.0e-3, 8e-3, 35e-3)
    peak_per_watt = flame.peak_temperature(1.0, *size, 0.0)
    power = (flame.LIMIT_C - 20.0) / peak_per_watt
    behind = float(flame.temperature_behind(power, *size, 60e-3))
    assert infrared.safe_reading(*size, 60e-3) == pytest.approx(behind, abs=0.01)
    assert behind < flame.LIMIT_C < flame.PHASE_CHANGE_C


@pytest.mark.analytical
def test_infrared_reads_low_on_a_bright_skin() -> None:
    """The right setting reads true; at long waves kelvin go as emissivity over setting (Rayleigh-Jeans, 1e-3)."""
    assert infrared.infrared_reading(600.0, 0.95) == pytest.approx(600.0, abs=1e-9)
    long = infrared.infrared_reading(600.0, 0.8, 0.95, wavelength=10e-3)
    assert (long + 273.15) / 873.15 == pytest.approx(0.8 / 0.95, rel=1e-3)
    assert infrared.infrared_reading(600.0, 0.3) < infrared.infrared_reading(600.0, 0.85) < 600.0


@pytest.mark.published
def test_infrared_reading_sends_out_what_the_skin_does() -> None:
    """At 10 um the setting times Planck's radiance at the reading is emissivity times that of the skin (1e-4).

    h, c and k of CODATA through scipy; the rounded second radiation constant differs by 2e-5.
    """

    def radiance(celsius: float) -> float:
        exponent = constants.h * constants.c / (10e-6 * constants.k * (celsius + 273.15))
        return float(1.0 / np.expm1(exponent))

    shown = infrared.infrared_reading(600.0, 0.8, 0.95)
    assert 0.95 * radiance(shown) == pytest.approx(0.8 * radiance(600.0), rel=1e-4)


@pytest.mark.published
def test_limits_of_the_guide() -> None:
    """650 degC and 720 degC: FHWA, Guide for Heat-Straightening of Damaged Steel Bridge Members, 2008, ch. 5."""
    assert (flame.LIMIT_C, flame.PHASE_CHANGE_C) == (650.0, 720.0)


@pytest.mark.common_practice
@pytest.mark.parametrize("wall", [6e-3, 8e-3, 10e-3])
def test_usual_tips_run_at_a_hands_pace(wall: float) -> None:
    """A small or medium tip brings an axle tube to 600 degC at 1 to 8 mm/s, and 0.3 to 1.2 MJ/m.

    No source: the range of travel speeds and heats of manual welding and heating.
    """
    for torch in flame.TORCHES.values():
        power, width = torch.net_power[1], torch.flame_width[1]
        speed = flame.heat_line_speed(power, wall, width, 600.0)
        assert 1e-3 < speed < 8e-3
        assert 0.3e6 < flame.heat_per_length(power, speed) < 1.2e6


@pytest.mark.analytical
def test_thickness_fourier_number_grows_with_time_over_the_place() -> None:
    """a (w / v) / d^2: half the speed doubles it, double the wall quarters it (1e-12)."""
    known = flame.thickness_fourier(2e-3, 8e-3, 32e-3, 1e-5)
    assert known == pytest.approx(2.5, rel=1e-12)
    assert flame.thickness_fourier(1e-3, 16e-3, 32e-3, 1e-5) == pytest.approx(known / 2.0, rel=1e-12)


@pytest.mark.parametrize(
    ("named", "call"),
    [
        ("power", partial(flame.peak_temperature, 0.0, 2e-3, 8e-3, 35e-3)),
        ("travel_speed", partial(flame.peak_temperature, 1e3, 0.0, 8e-3, 35e-3)),
        ("thickness", partial(flame.temperature_behind, 1e3, 2e-3, 0.0, 35e-3, 0.0)),
        ("depth", partial(flame.temperature_behind, 1e3, 2e-3, 8e-3, 35e-3, 0.0, 20.0, 9e-3)),
        ("no speed", partial(flame.heat_line_speed, 50.0, 8e-3, 35e-3, 600.0)),
        ("no speed", partial(flame.heat_line_speed, 9e4, 3e-3, 35e-3, 600.0)),
        ("above_ambient", partial(flame.heat_line_speed, 1e3, 8e-3, 35e-3, 20.0)),
        ("travel_speed", partial(flame.heat_per_length, 1e3, -1.0)),
        ("behind", partial(infrared.safe_reading, 2e-3, 8e-3, 35e-3, -1e-3)),
        ("emissivity", partial(infrared.infrared_reading, 600.0, 1.2)),
        ("flame_width", partial(flame.thickness_fourier, 2e-3, 8e-3, 0.0)),
    ],
)
def test_impossible_values_are_refused(named: str, call: Callable[[], object]) -> None:
    """A value that cannot exist is refused and named."""
    with pytest.raises(ValueError, match=named):
        call()
