"""Arc heat: what the welder is set to, and how much of it reaches the steel."""

from __future__ import annotations

from axlewright.weld._check import Real, fraction, positive

#: ISO 4063 reference number: name, thermal efficiency factor k (None: the standard gives none).
_PROCESSES: dict[int, tuple[str, float | None]] = {
    15: ("plasma arc welding", None),
    111: ("manual metal arc welding", 0.8),
    114: ("self-shielded flux-cored arc welding", None),
    121: ("submerged arc welding with solid wire", 1.0),
    131: ("MIG welding with solid wire", 0.8),
    135: ("MAG welding with solid wire", 0.8),
    136: ("MAG welding with flux-cored wire", 0.8),
    138: ("MAG welding with metal-cored wire", 0.8),
    141: ("TIG welding with solid filler", 0.6),
}


def process_name(process: int) -> str:
    """Name of a welding process by its reference number.

    Args:
        process: reference number of ISO 4063 [-]

    Returns:
        the process in words.

    Source: ISO 4063:2009.
    Valid: the arc processes a workshop is likely to own; not the whole standard.
    Raises: ValueError for a number that is not listed.

    >>> process_name(135)
    'MAG welding with solid wire'
    """
    if process not in _PROCESSES:
        raise ValueError(f"process must be one of {sorted(_PROCESSES)}, not {process!r}")
    return _PROCESSES[process][0]


def arc_efficiency(process: int) -> float:
    """Thermal efficiency factor k: the share of the arc's power that enters the work.

    Args:
        process: reference number of ISO 4063 [-]

    Returns:
        k [-]

    Source: EN 1011-1:2009 and ISO/TR 17671-1:2002, table of thermal efficiency factors.
    Valid: nominal factors for procedure records. Calorimetry on mild steel spreads about them:
        0.84 for gas-shielded metal arc, 0.67 for TIG (DuPont and Marder, Welding Journal, December 1995).
    Raises: ValueError for a process that is not listed or has no factor in the standard.

    >>> arc_efficiency(135)
    0.8
    """
    process_name(process)
    factor = _PROCESSES[process][1]
    if factor is None:
        raise ValueError(f"process {process} has no thermal efficiency factor in EN 1011-1")
    return factor


def heat_input(volts: Real, amps: float, travel_speed: float, efficiency: float) -> Real:
    """Net heat input per length of weld, Q = k U I / v.

    Args:
        volts: arc voltage [V]
        amps: welding current [A]
        travel_speed: speed of the arc along the seam [m/s]
        efficiency: thermal efficiency factor k [-]

    Returns:
        net heat input [J/m]

    Source: EN 1011-1:2009 and ISO/TR 17671-1:2002 (there in kJ/mm).
    Valid: steady current and voltage; for pulsed or controlled short arcs use the mean of the
        instantaneous power instead of U times I.
    Raises: ValueError for a voltage, current or speed that is not above zero, or k outside 0 to 1.

    >>> round(heat_input(22.0, 180.0, 0.006, 0.8))
    528000
    """
    positive(volts=volts, amps=amps, travel_speed=travel_speed)
    fraction(efficiency=efficiency)
    return volts * (efficiency * amps / travel_speed)
