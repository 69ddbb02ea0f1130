"""How the welder is set, in the figures the physics needs."""

from __future__ import annotations

from dataclasses import dataclass

from axlewright.job.schema import Job
from axlewright.weld.arc import arc_efficiency, heat_input
from axlewright.weld.bead import bead_area, deposition_efficiency, fillet_leg, fillet_throat


@dataclass(frozen=True)
class WeldSettings:
    """Figures that follow from the welder's settings.

    Args:
        power: net arc power that enters the steel [W].
        travel_speed: [m/s].
        heat_input: net heat put in along the seam [J/m].
        leg: leg of the fillet laid [m].
        throat: its throat [m].
        efficiency: share of the arc's power that enters the steel [1].
    """

    power: float
    travel_speed: float
    heat_input: float
    leg: float
    throat: float
    efficiency: float


def weld_settings(job: Job) -> WeldSettings:
    """Heat input and bead size of a job's welder."""
    welder = job.welder
    efficiency = welder.efficiency or arc_efficiency(welder.process)
    heat = float(heat_input(welder.volts, welder.amps, welder.travel_speed, efficiency))
    deposited = deposition_efficiency(welder.process)
    leg = float(fillet_leg(bead_area(welder.wire_diameter, welder.wire_feed, welder.travel_speed, deposited)))
    throat = float(fillet_throat(leg))
    return WeldSettings(heat * welder.travel_speed, welder.travel_speed, heat, leg, throat, efficiency)
