"""The fixture of a plan in words and numbers, for screen and sheet."""

from __future__ import annotations

from fractions import Fraction

from axlewright import units
from axlewright.plan.fixture_report import FixtureReport, FixtureStage, FixtureSupportLine
from axlewright.sheets import wording

SUPPORT_HEADINGS = ("No.", "at", "shim", "bent there", "clamp holds before", "when cold")
STAGE_HEADINGS = ("", "bow, up and down", "bow, fore and aft", "distortion")
BENDS_THERE = (
    "Bent there: the clamped axis over the line through the outer supports, before the first arc. The clamp holds the "
    "housing up or down (forward or back) with these forces."
)
_SIXTY_FOURTH = 0.0254 / 64
_HOLDS = {"vertical": ("up", "down"), "fore-aft": ("forward", "back")}


def intention(report: FixtureReport, inch: bool) -> str:
    """What to do with the shims, in a sentence or two."""
    shims = [support for support in report.supports if support.shim > 0.0]
    if not shims:
        return "No shims: clamp the housing straight onto its blocks before the first tack."
    words = "; ".join(f"{shim(one.shim, inch)} {_where(one)}" for one in shims)
    return f"Before the first tack put in these shims and clamp down onto them: {words}. Let go when cold."


def _where(support: FixtureSupportLine) -> str:
    side = "under" if support.plane == "vertical" else "behind"
    return f"{side} the housing at support {support.number}"


def shim(metres: float, inch: bool) -> str:
    """Height of a shim: "1.5 mm", "3/64 in" or, off the steps of a rule, "0.020 in"."""
    if not inch:
        return f"{round(1e3 * metres, 2):g} mm"
    parts = round(metres / _SIXTY_FOURTH)
    if abs(metres - parts * _SIXTY_FOURTH) < 1e-7:
        whole, rest = divmod(parts, 64)
        words = [str(whole)] if whole or not rest else []
        return " ".join([*words, *([str(Fraction(rest, 64))] if rest else [])]) + " in"
    return units.format_deflection(metres, True)


def push(newtons: float, plane: str, inch: bool) -> str:
    """Force of a clamp with its direction: "8.3 kN down"."""
    if abs(newtons) < 50.0:
        return "nothing"
    return f"{units.format_force(abs(newtons), inch)} {_HOLDS[plane][int(newtons < 0)]}"


def support_rows(report: FixtureReport, plane: str, inch: bool) -> list[list[str]]:
    """A row for each support of a plane, in the order of `SUPPORT_HEADINGS`."""
    return [
        [
            str(support.number),
            wording.length(support.at_x, inch),
            shim(support.shim, inch) if support.shim else "none",
            wording.deflection(support.prebend, inch),
            push(support.push_before, plane, inch),
            push(support.push_after, plane, inch),
        ]
        for support in report.supports
        if support.plane == plane
    ]


def stage_rows(report: FixtureReport, inch: bool) -> list[list[str]]:
    """The shape from clamping to letting go, in the order of `STAGE_HEADINGS`."""
    stages: list[tuple[str, FixtureStage]] = [
        ("clamped, before the first arc", report.prebent),
        ("welded and cold, still clamped", report.clamped),
        ("let go", report.released),
        ("let go, had there been no shims", report.flat),
        ("welded lying free, same order", report.unclamped),
    ]
    rows = [
        [
            name,
            wording.deflection(stage.bow_vertical, inch),
            wording.deflection(stage.bow_fore_aft, inch),
            units.format_deflection(stage.distortion, inch),
        ]
        for name, stage in stages
    ]
    back = [wording.deflection(value, inch) for value in report.spring_back]
    return [*rows[:3], ["spring-back on letting go", *back, ""], *rows[3:]]


def strain(report: FixtureReport, inch: bool) -> str:
    """How far the pre-bend strains the tubes."""
    share = 100.0 * report.tube_stress / report.yield_strength
    return f"The pre-bend strains the tubes to {units.format_stress(report.tube_stress, inch)}, {share:.0f} % of yield."


def plane_title(plane: str) -> str:
    """Heading of a plane's supports."""
    return "Held up and down" if plane == "vertical" else "Held forward and back"
