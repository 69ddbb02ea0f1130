"""How counter-beads and heat lines put their heat in: settings, limits, and what to say about them."""

from __future__ import annotations

from dataclasses import dataclass, replace

from axlewright.job.schema import Job
from axlewright.plan.settings import WeldSettings, weld_settings
from axlewright.straightness.correct.report import Way
from axlewright.units import (
    format_heat_input,
    format_length,
    format_temperature,
    format_travel_speed,
)
from axlewright.weld.flame import LIMIT_C, PHASE_CHANGE_C, TORCHES, Torch, heat_line_speed, heat_per_length
from axlewright.weld.infrared import infrared_reading, safe_reading

AIM_C = 600.0
"""Temperature a heat line aims at [degC]: a flame whose power nobody knows to a tenth must stay below the limit."""

BEHIND = 0.060
"""How far behind the flame's middle the thermometer points, clear of the flame [m]."""

OXIDISED, BRIGHT = 0.85, 0.3
"""Emissivity of scaled and of ground steel [1]; common practice."""

SPREADS: dict[Way, float] = {"counter-beads": 0.26, "heat lines": 0.40}
"""Spread of the logarithm of what a line really does over the formula [1]: beads as `plan.spreads` has the pull along
a bead; heat lines half to twice as much in nine cases of ten, as heats vary widely (FHWA guide 1998, ch. 5)."""


@dataclass(frozen=True)
class Heating:
    """How lines are heated.

    Args:
        settings: power, speed and heat input.
        words: settings and what not to exceed, as sentences.
        spread: standard deviation of the logarithm of their effect [1].
    """

    settings: WeldSettings
    words: tuple[str, ...]
    spread: float


def heating(job: Job, way: Way) -> Heating:
    """How to heat lines of one way.

    Raises:
        ValueError: no hand-held speed of any usual torch brings the wall to `AIM_C`.
    """
    settings = weld_settings(job)
    if way == "counter-beads":
        return Heating(settings, _of_beads(job, settings), SPREADS[way])
    torch, speed = _torch(job)
    power = torch.net_power[1]
    settings = replace(
        settings,
        power=power,
        travel_speed=speed,
        heat_input=float(heat_per_length(power, speed)),
        efficiency=1.0,
    )
    return Heating(settings, _of_flame(job, torch, settings), SPREADS[way])


def _torch(job: Job) -> tuple[Torch, float]:
    """The smallest usual torch that brings the thicker tube's wall to the aim, and its speed [m/s]."""
    ambient = job.ambient.temperature
    problem = ""
    for torch in TORCHES.values():
        try:
            return torch, heat_line_speed(
                torch.net_power[1], _wall(job), torch.flame_width[1], AIM_C, ambient
            )
        except ValueError as error:
            problem = str(error)
    raise ValueError(problem)


def _wall(job: Job) -> float:
    return max(job.housing.left_tube.wall, job.housing.right_tube.wall)


def _of_beads(job: Job, settings: WeldSettings) -> tuple[str, ...]:
    inch, welder = job.inch, job.welder
    return (
        f"Lay each counter-bead with the settings of the job: {welder.volts:g} V, {welder.amps:g} A, "
        f"{format_travel_speed(settings.travel_speed, inch)}, which is {format_heat_input(settings.heat_input, inch)} "
        "in the steel. A bead laid slower pulls more, one laid faster less.",
        "Grind the place bright first; lay the bead in one go in the sense given, straight along the axle. Leave it to "
        "cool in still air: no water, no rag.",
        "A counter-bead stays as a notch: dress its ends smooth. It does not make the tube stronger.",
    )


def _of_flame(job: Job, torch: Torch, settings: WeldSettings) -> tuple[str, ...]:
    inch, ambient = job.inch, job.ambient.temperature
    speed, width = settings.travel_speed, torch.flame_width[1]
    behind = safe_reading(speed, _wall(job), width, BEHIND, ambient)
    scaled, bright = (infrared_reading(behind, emissivity) for emissivity in (OXIDISED, BRIGHT))
    limit, change = format_temperature(LIMIT_C, inch), format_temperature(PHASE_CHANGE_C, inch)
    return (
        f"Torch: {torch.name}, about {torch.net_power[1] / 1e3:.1f} kW into the steel over a patch some "
        f"{format_length(width, inch)} wide, moved at {format_travel_speed(speed, inch)} so that the skin just reaches "
        f"{format_temperature(AIM_C, inch)}: a dull red seen in shade. Try the speed on scrap of the same wall first.",
        f"Never above {limit} (FHWA guide for steel that is not quenched and tempered); from about {change} the steel "
        "itself changes. Too hot: move faster. The flame never stands still.",
        f"Infrared check: point the thermometer {format_length(BEHIND, inch)} behind the middle of the flame, on skin "
        f"without flame in its line of sight. At the limit that place is at {format_temperature(behind, inch)}; a "
        f"thermometer set to 0.95 then shows about {format_temperature(scaled, inch)} on scaled skin and only "
        f"{format_temperature(bright, inch)} on bright skin: let the place scale first, or use a temperature crayon.",
        "Heat each line once. Leave it to cool in still air: no water, no rag.",
    )
