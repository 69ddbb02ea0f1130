"""Shims and clamps of a fixture as the bench needs them."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from axlewright import units
from axlewright.tasks import wording

_SIXTY_FOURTH = 25.4 / 64
_HOLDS = {"vertical": ("up", "down"), "fore-aft": ("forward", "back")}
_PLANES = {"vertical": "Held up and down", "fore-aft": "Held forward and back"}
_STAGES = (
    ("prebent", "clamped, before the first arc"),
    ("clamped", "welded and cold, still clamped"),
    ("released", "let go"),
    ("without_shims", "let go, had there been no shims"),
    ("unclamped", "welded lying free, same order"),
)


@dataclass(frozen=True)
class SupportRow:
    """A support: where, its shim, how far the housing is bent there, what its clamp holds before and when cold."""

    number: int
    at: str
    shim: str
    bent: str
    before: str
    after: str


@dataclass(frozen=True)
class StageRow:
    """The shape at a stage of the work: bow up and down, bow fore and aft, distortion."""

    words: str
    vertical: str
    fore_aft: str
    distortion: str


@dataclass(frozen=True)
class FixtureView:
    """The fixture: what to put in, plane by plane, and the shape from clamping to letting go."""

    says: str
    planes: tuple[tuple[str, tuple[SupportRow, ...]], ...]
    stages: tuple[StageRow, ...]
    strain: str
    remarks: tuple[str, ...]


def fixture_view(fixture: Any, inch: bool) -> FixtureView | None:
    """The fixture of plan.json; None where the housing lies free."""
    if fixture is None:
        return None
    planes = []
    for plane, title in _PLANES.items():
        rows = tuple(_support(one, inch) for one in fixture["supports"] if one["plane"] == plane)
        if rows:
            planes.append((title, rows))
    share = 100.0 * fixture["tube_stress_mpa"] / fixture["yield_strength_mpa"]
    stress = units.format_stress(1e6 * fixture["tube_stress_mpa"], inch)
    return FixtureView(
        _says(fixture, inch),
        tuple(planes),
        tuple(_stage(words, fixture[key], inch) for key, words in _STAGES),
        f"The pre-bend strains the tubes to {stress}, {share:.0f} % of yield.",
        tuple(wording.sentence(remark) for remark in fixture["remarks"]),
    )


def _says(fixture: Any, inch: bool) -> str:
    shims = [one for one in fixture["supports"] if one["shim_mm"] > 0.0]
    if not shims:
        return "No shims: clamp the housing straight onto its blocks before the first tack."
    words = "; ".join(
        f"{shim(one['shim_mm'], inch)} {'under' if one['plane'] == 'vertical' else 'behind'} "
        f"the housing at support {one['number']}"
        for one in shims
    )
    return f"Before the first tack put in these shims and clamp down onto them: {words}. Let go when cold."


def shim(mm: float, inch: bool) -> str:
    """Height of a shim: "1.5 mm", "3/64 in" or, off the steps of a rule, "0.020 in"."""
    if not inch:
        return f"{round(mm, 2):g} mm"
    parts = round(mm / _SIXTY_FOURTH)
    if abs(mm - parts * _SIXTY_FOURTH) > 1e-3:
        return units.format_deflection(1e-3 * mm, True)
    whole, rest = divmod(parts, 64)
    words = [str(whole)] if whole or not rest else []
    return " ".join([*words, *([str(Fraction(rest, 64))] if rest else [])]) + " in"


def _support(one: Any, inch: bool) -> SupportRow:
    return SupportRow(
        one["number"],
        wording.length(1e-3 * one["at_mm"], inch),
        shim(one["shim_mm"], inch) if one["shim_mm"] else "none",
        wording.deflection(1e-3 * one["prebend_mm"], inch),
        _push(one["push_before_kn"], one["plane"], inch),
        _push(one["push_after_kn"], one["plane"], inch),
    )


def _push(kilonewtons: float, plane: str, inch: bool) -> str:
    if abs(kilonewtons) < 0.05:
        return "nothing"
    amount = units.format_force(1e3 * abs(kilonewtons), inch)
    return f"{amount} {_HOLDS[plane][int(kilonewtons < 0.0)]}"


def _stage(words: str, stage: Any, inch: bool) -> StageRow:
    return StageRow(
        words,
        wording.deflection(1e-3 * stage["bow_vertical_mm"], inch),
        wording.deflection(1e-3 * stage["bow_fore_aft_mm"], inch),
        wording.distortion(1e-3 * stage["distortion_mm"], inch),
    )
