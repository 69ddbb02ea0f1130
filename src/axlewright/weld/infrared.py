"""What an infrared thermometer behind a torch should read, and what it shows."""

from __future__ import annotations

from math import exp, log

from axlewright.weld._check import fraction, not_negative, positive
from axlewright.weld.flame import LIMIT_C, peak_temperature, temperature_behind


def safe_reading(
    travel_speed: float,
    thickness: float,
    flame_width: float,
    behind: float,
    ambient: float = 20.0,
    limit: float = LIMIT_C,
) -> float:
    """Reading behind the torch at which the skin under the flame has just reached its limit.

    T0 + (limit - T0) rise(behind) / rise at the peak: whatever the flame's power, which nobody knows well.

    Args:
        travel_speed: speed of the torch [m/s]
        thickness: plate thickness [m]
        flame_width: diameter that holds 86 per cent of the heat [m]
        behind: distance of the spot that is read behind the middle of the flame [m]
        ambient: temperature of the plate before T0 [degC]
        limit: hottest the skin may get [degC]

    Returns:
        true temperature of that spot; a thermometer may read lower, see `infrared_reading` [degC]

    Source: `temperature_behind`, which is linear in the power.
    Valid: as `temperature_behind`; a spot behind the place of the peak.
    Raises: ValueError for a speed, thickness or width that is not above zero, or a distance below zero.

    >>> round(safe_reading(2.0e-3, 8.0e-3, 35.0e-3, 60.0e-3))
    324
    """
    not_negative(behind=behind)
    size = (1.0, travel_speed, thickness, flame_width)
    share = float(temperature_behind(*size, behind, 0.0)) / peak_temperature(*size, 0.0)
    return ambient + (limit - ambient) * share


def infrared_reading(
    true_c: float, emissivity: float, set_to: float = 0.95, wavelength: float = 10.0e-6
) -> float:
    """What an infrared thermometer shows of a skin whose emissivity it does not know.

    set_to L(reading) = emissivity L(true), L = 1 / [exp(c2 / wavelength T) - 1], T in kelvin.

    Args:
        true_c: temperature of the skin [degC]
        emissivity: of the skin: 0.8 to 0.9 oxidised, 0.2 to 0.4 ground bright [-]
        set_to: emissivity the thermometer is set to; many are fixed at 0.95 [-]
        wavelength: middle of the band it sees, 8 to 14 micrometres for most [m]

    Returns:
        temperature shown [degC]

    Source: Planck's law; second radiation constant c2 = 14388 um K (CODATA).
    Valid: surroundings much colder than the skin, spot smaller than the heated place, no flame in the line of sight.
    Raises: ValueError for an emissivity or setting outside 0 to 1 or a wavelength that is not above zero.

    >>> round(infrared_reading(600.0, 0.85))
    554
    """
    fraction(emissivity=emissivity, set_to=set_to)
    positive(wavelength=wavelength, kelvin=true_c + 273.15)
    scale = 14388.0e-6 / wavelength
    radiance = emissivity / set_to / (exp(scale / (true_c + 273.15)) - 1.0)
    return scale / log(1.0 + 1.0 / radiance) - 273.15
