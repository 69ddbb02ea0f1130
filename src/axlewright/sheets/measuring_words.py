"""How each reading is taken, how sure it usually is and what its sign means, as the measuring sheet says it."""

from __future__ import annotations

from axlewright.sheets import wording
from axlewright.straightness.readings.usual import UsualError, usual_errors
from axlewright.units import ANGLE, TIME

CAUTIONS = (
    "The housing stands on rated stands, secured, before anybody leans over it; clamps and springs hold nothing "
    "under tension.",
    "Measure cold: the whole housing at the temperature of the shop, and the same stands in the same places before "
    "and after.",
    "Bare metal under every gauge: paint, scale and spatter read as bow.",
    "Fingers and sleeves clear while the housing turns between centres or in V-blocks.",
    "A crack, a dent or a loose tube is no matter of straightness: stop, and have it looked at first.",
)

HOW: tuple[tuple[str, str, str, str], ...] = (
    (
        "gap",
        "Gap",
        "Straightedge along one tube on two equal blocks, not moved between readings; feelers or caliper from its edge "
        "to the skin.",
        "larger: skin farther from the edge",
    ),
    (
        "string",
        "Gap to a string",
        "String from flange to flange on equal blocks, clear of the centre; do not touch it.",
        "larger: skin farther from the string",
    ),
    (
        "height",
        "Height",
        "Housing at rest over a flat surface; from the surface to the tube's bottom (or top).",
        "larger: higher",
    ),
    (
        "runout",
        "Dial, whole turn",
        "Between centres in the flanges' bores, or in V-blocks whose places are written down; highest less lowest.",
        "never minus",
    ),
    (
        "clock",
        "High spot",
        "The clock mark that is under the dial when it stands highest.",
        "12 top, 3 front",
    ),
    (
        "four-point",
        "Dial at four marks",
        "Marks 12, 3, 6 and 9 under the dial in turn; it also tells an oval tube from a bent one.",
        "plus: skin farther out",
    ),
    (
        "angle",
        "Camber",
        "Angle finder upright on the machined face of the flange, housing level as on the vehicle.",
        "plus: top outward",
    ),
    (
        "angle",
        "Toe",
        "The same with the housing on its side, front up, along the flange's front-to-rear line.",
        "plus: front edge inward (toe-in)",
    ),
    (
        "angle",
        "Caster",
        "On the flange's fore-aft lean, both ends in one set-up; the difference is the twist.",
        "plus: top rearward",
    ),
    (
        "angle",
        "Level",
        "Straight bar from flange to flange, housing not moved after it: takes the stands' slope out of camber, and "
        "on its side out of toe.",
        "plus: left end higher; on its side: left end farther forward",
    ),
    (
        "toe",
        "Toe tape",
        "Equal discs or bars on both flanges, tape from one to the other in front and behind at axle height; write "
        "their diameter down.",
        "front less than rear: toe-in",
    ),
    (
        "dot",
        "Laser dot",
        "Laser square on one flange, target centred on the axle line at the other end; turn it half round and take "
        "the mean.",
        "plus: up, forward",
    ),
)
"""Usual error it goes by, name, how to take it, what its sign means."""


def how_rows(inch: bool) -> list[list[str]]:
    """Name, how to take it, its usual error in the shop's unit, its sign."""
    errors = usual_errors()
    return [[name, how, _spelled(errors[key], inch), sign] for key, name, how, sign in HOW]


def _spelled(error: UsualError, inch: bool) -> str:
    """A usual error, one standard deviation."""
    if error.kind is ANGLE:
        return wording.angle(error.error).removeprefix("+")
    if error.kind is TIME:
        return f"{error.error / 60.0:.0f} min"
    return wording.deflection(error.error, inch).removeprefix("+")
