"""What a check of straightness found, in the words of drawings and sheets: a figure, its band, its meaning."""

from __future__ import annotations

import re

from axlewright.sheets import wording
from axlewright.straightness.axis import Plane
from axlewright.straightness.report import Figure, LimitCheck, PlaneShape, ShapeReport, Verdict

UNTOLD = "cannot be told from these readings"
_WAYS = {"vertical": ("up", "down"), "fore-aft": ("forward", "back")}
_ANSWERS = {"inside": "inside", "outside": "OUTSIDE", "cannot be told": "cannot be told"}
_ZERO_LENGTH = 0.5e-5


def sentence(text: str) -> str:
    """A sentence of a report in print: degree signs, and a true minus before a number; its hyphens stay."""
    shown = re.sub(r" deg\b", "°", wording.sentence(text)).replace("± ", "±")
    return re.sub(r"(?<![\w-])-(?=\d)", "−", shown)


def plane_of(shape: ShapeReport, plane: Plane) -> PlaneShape:
    """The axis of a shape in one plane."""
    return shape.vertical if plane == "vertical" else shape.fore_aft


def value(figure: Figure, unit: str, inch: bool) -> str:
    """A figure without its band."""
    if not figure.told:
        return "cannot be told"
    return wording.angle(figure.value) if unit == "deg" else wording.deflection(figure.value, inch)


def band(figure: Figure, unit: str, inch: bool) -> str:
    """The band of a figure; empty where it is not told."""
    if not figure.told:
        return ""
    ends = (figure.low, figure.high)
    spelled = [wording.angle(end) if unit == "deg" else wording.deflection(end, inch) for end in ends]
    return wording.band(spelled[0], spelled[1])


def with_band(figure: Figure, unit: str, inch: bool) -> str:
    """A figure with its band: "−0.31°, band −0.36° to −0.26°"."""
    return f"{value(figure, unit, inch)}, band {band(figure, unit, inch)}" if figure.told else UNTOLD


def angle_meaning(degrees: float, plane: Plane) -> str:
    """What the sign of camber, or of toe, means at a flange."""
    return wording.camber_meaning(degrees) if plane == "vertical" else wording.toe_meaning(degrees)


def bow(shape: PlaneShape, plane: Plane, inch: bool) -> str:
    """Where the axis lies farthest from the line between the flanges, which way and how far."""
    if not shape.told:
        return UNTOLD
    figure = shape.bow
    up, down = _WAYS[plane]
    way = "straight" if abs(figure.value) < _ZERO_LENGTH else up if figure.value > 0.0 else down
    place = f"{way} at {wording.length(shape.bow_at, inch)}" if way != "straight" else way
    return f"{wording.deflection(figure.value, inch)}, {place} (band {band(figure, 'm', inch)})"


def change(shape: ShapeReport, plane: Plane, inch: bool) -> list[str]:
    """What changed in one plane, axis and then ends; what a band leaves open is not called a change."""
    moved = plane_of(shape, plane)
    if not moved.told:
        return [f"Change: {UNTOLD}."]
    up, down = _WAYS[plane]
    way = up if moved.bow.value > 0.0 else down
    said = wording.distortion(abs(moved.bow.value), inch)
    axis = (
        f"the axis went {said} {way} at {wording.length(moved.bow_at, inch)} "
        f"(band {band(moved.bow, 'm', inch)})"
        if _sure(moved.bow)
        else f"no bow for sure (band {band(moved.bow, 'm', inch)})"
    )
    ends = shape.camber if plane == "vertical" else shape.toe
    turned = [_turned(figure, end, plane) for figure, end in ((ends.left, "left"), (ends.right, "right"))]
    return [f"Change: {axis};", f"{turned[0]}; {turned[1]}."]


def _turned(figure: Figure, end: str, plane: Plane) -> str:
    """How far camber, or toe, of a flange changed."""
    name = "camber" if plane == "vertical" else "toe"
    if not figure.told:
        return f"{name} {end} cannot be told"
    if not _sure(figure):
        return f"{name} {end} none for sure ({band(figure, 'deg', False)})"
    return f"{name} {end} {wording.angle(figure.value)} ({band(figure, 'deg', False)})"


def _sure(figure: Figure) -> bool:
    """Whether the whole band lies on one side of nought."""
    return figure.told and figure.low * figure.high > 0.0


def bow_limits(verdict: Verdict, plane: Plane) -> tuple[LimitCheck, ...]:
    """Limits on how far the axis may lie from the line between the flanges that hold in a plane."""
    other = "forward" if plane == "vertical" else " up"
    return tuple(check for check in verdict.checks if check.unit == "m" and other not in check.name)


def limit_rows(verdict: Verdict, inch: bool) -> list[list[str]]:
    """Limit by limit: name, what it may be, what it is, its band, the answer."""
    return [
        [
            check.name,
            allowed(check.wanted, check.limit, check.unit, inch),
            value(check.figure, check.unit, inch),
            band(check.figure, check.unit, inch),
            _ANSWERS[check.answer],
        ]
        for check in verdict.checks
    ]


def allowed(wanted: float, limit: float, unit: str, inch: bool) -> str:
    """What a figure may be: "±0.50°", or "−0.25° to +0.75°" where not nought is wanted."""
    if wanted == 0.0:
        spelled = wording.angle(limit) if unit == "deg" else wording.deflection(limit, inch)
        return f"±{spelled.removeprefix('+')}"
    edges = Figure(wanted, wanted - limit, wanted + limit)
    return band(edges, unit, inch)


def tyre(verdict: Verdict, inch: bool) -> str:
    """Toe at the tyre's diameter as a tape shows it; empty without a diameter."""
    if verdict.tyre is None or verdict.tyre_diameter is None:
        return ""
    both = verdict.tyre[2]
    names = ("left", "right", "both together")
    sides = [f"{name} {_in_both(figure)}" for name, figure in zip(names, verdict.tyre, strict=True)]
    spread = f" (band {band(both, 'm', inch)})" if both.told else ""
    return f"Toe-in at a tyre of {wording.length(verdict.tyre_diameter, inch)}: {', '.join(sides)}{spread}."


def _in_both(figure: Figure) -> str:
    """A small length in millimetres and inches: tape and tyre often differ in their unit."""
    if not figure.told:
        return "cannot be told"
    return f"{wording.deflection(figure.value, False)} or {wording.deflection(figure.value, True)}"


def twist(shape: ShapeReport) -> str:
    """How far the left flange is turned past the right one; empty where that is not told."""
    if not shape.twist.told:
        return ""
    return f"Twist {with_band(shape.twist, 'deg', False)} (plus: top of the left flange rearward)."
