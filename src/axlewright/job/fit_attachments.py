"""Whether guard, spacer, gusset and bracket touch the housing with their whole seam."""

from __future__ import annotations

import difflib
import math
from collections.abc import Iterator

from axlewright.job.faults import Misfit
from axlewright.job.lines import Path
from axlewright.job.outline import Outline
from axlewright.job.schema import Bracket, Guard, Gusset, Spacer

RIM_SHARE = 0.95
"""Largest rim over the smaller of the centre's height and width: nearer the edge the skin turns away."""

HOLE_MARGIN = 0.04
"""How much larger than the hole a rim on the same side must be: the carrier's studs and gasket sit next to it [m]."""


def guard_misfit(outline: Outline, n: int, guard: Guard) -> Misfit | None:
    """The first thing wrong with a guard, None where it fits."""
    checks = (_rim, _guard_openings)
    return next((found for check in checks for found in check(outline, ("guard", n), guard)), None)


def _rim(outline: Outline, path: Path, guard: Guard) -> Iterator[Misfit]:
    centre, shop = outline.job.housing.centre, outline.shop
    largest = RIM_SHARE * min(centre.height, centre.width)
    hole = centre.opening_diameter if centre.opening_side == guard.side else None
    if guard.diameter > largest:
        share = f"{RIM_SHARE:.0%} of its height and width"
        allowed = f"the rim must lie on the centre: at most {shop(largest)}, {share}"
        yield Misfit(
            (*path, "diameter"), shop(guard.diameter), allowed, "Measure across the rim that is welded."
        )
    elif hole is not None and guard.diameter < hole + HOLE_MARGIN:
        allowed = (
            f"the rim must lie on steel outside the hole on this side: at least {shop(hole + HOLE_MARGIN)}"
        )
        yield Misfit(
            (*path, "diameter"), shop(guard.diameter), allowed, "Check side, opening_side and diameter."
        )
    if guard.dish > guard.diameter / 2.0:
        allowed = f"must be no more than half the diameter, {shop(guard.diameter / 2.0)}"
        yield Misfit(
            (*path, "dish"), shop(guard.dish), allowed, "Measure from the rim's plane to the middle."
        )


def hours_between(begin: float, end: float) -> float:
    """Hours clockwise from one clock position to another, 12 for all round [h]."""
    return (end - begin) % 12.0 or 12.0


def _guard_openings(outline: Outline, path: Path, guard: Guard) -> Iterator[Misfit]:
    extent = hours_between(guard.from_clock, guard.to_clock)
    for n, (begin, end) in enumerate(guard.openings):
        after = (begin - guard.from_clock) % 12.0
        value = f"{clock(begin)} to {clock(end)}"
        if begin == end:
            yield Misfit((*path, "openings", n), value, "an opening has two ends", "Give both, clockwise.")
        elif after + hours_between(begin, end) > extent + 1e-9:
            allowed = (
                f"must lie within the rim, {clock(guard.from_clock)} to {clock(guard.to_clock)} clockwise"
            )
            yield Misfit(
                (*path, "openings", n), value, allowed, "Give it clockwise as seen facing the guard."
            )
    welded = sum(end - begin for begin, end in welded_hours(guard)) * math.pi * guard.diameter / 12.0
    if welded < outline.job.welder.tack_length:
        allowed = f"they leave less than a tack, {outline.shop(outline.job.welder.tack_length)}, to weld"
        yield Misfit((*path, "openings"), "too long", allowed, "Shorten the openings.")


def welded_hours(guard: Guard) -> list[tuple[float, float]]:
    """Stretches of the rim between openings, in hours clockwise from its beginning [h]."""
    gaps = sorted(
        ((begin - guard.from_clock) % 12.0, (begin - guard.from_clock) % 12.0 + hours_between(begin, end))
        for begin, end in guard.openings
    )
    spans, at, extent = [], 0.0, hours_between(guard.from_clock, guard.to_clock)
    for begin, end in [*gaps, (extent, extent)]:
        if begin > at:
            spans.append((at, begin))
        at = max(at, end)
    return spans


def clock(hours: float) -> str:
    """Clock position as text; the exact figure where it is no whole minute."""
    minutes = hours * 60.0
    exact = abs(minutes - round(minutes)) < 1e-6
    return f"{int(round(minutes) // 60) or 12}:{round(minutes) % 60:02d}" if exact else f"{hours:g}"


def spacer_misfit(outline: Outline, n: int, spacer: Spacer) -> Misfit | None:
    """The first thing wrong with a spacer, None where it fits."""
    perches = {perch.name: perch for perch in outline.job.housing.perches}
    path: Path = ("spacer", n)
    perch = perches.get(spacer.perch)
    if perch is None:
        near = difflib.get_close_matches(spacer.perch, perches, n=1)
        known = ", ".join(f'"{name}"' for name in perches) or "none: add [[housing.perch]]"
        remedy = f'Did you mean "{near[0]}"?' if near else f"Perches of this job: {known}."
        return Misfit((*path, "perch"), f'"{spacer.perch}"', "no perch has this name", remedy)
    for key, size, room in (("length", spacer.length, perch.length), ("width", spacer.width, perch.width)):
        if size > room:
            allowed = f"its seam must lie on the perch, at most {outline.shop(room)}"
            return Misfit((*path, key), outline.shop(size), allowed, "Measure spacer and perch again.")
    return None


def gusset_misfit(outline: Outline, n: int, gusset: Gusset) -> Misfit | None:
    """The first thing wrong with a gusset, None where it fits."""
    shop, flange = outline.shop, outline.job.housing.knuckle_flange
    (first, last), (begin, end) = outline.tube_span, outline.centre_span
    room_along = begin - first if gusset.end == "left" else last - end
    at_flange = 0.0 if gusset.end == "left" else outline.job.housing.length
    room_up = flange.diameter / 2.0 - outline.tube_radius(at_flange)
    if gusset.length > room_along:
        allowed = f"its seam must lie on the tube, at most {shop(room_along)}"
        return Misfit(("gusset", n, "length"), shop(gusset.length), allowed, "Measure along the tube.")
    if gusset.height > room_up:
        allowed = f"its seam must lie on the knuckle flange, which stands {shop(room_up)} above the tube"
        return Misfit(("gusset", n, "height"), shop(gusset.height), allowed, "Measure along the flange.")
    return None


def bracket_misfit(outline: Outline, n: int, bracket: Bracket) -> Misfit | None:
    """The first thing wrong with a bracket, None where it fits."""
    shop = outline.shop
    half = (bracket.length if bracket.lies == "along" else bracket.thickness) / 2.0
    if not outline.on_a_tube(bracket.at - half, bracket.at + half):
        reach = f"reaches from {shop(bracket.at - half)} to {shop(bracket.at + half)}"
        allowed = f"{reach}, but a tube is from {outline.tubes_in_words()}"
        return Misfit(("bracket", n, "at"), shop(bracket.at), allowed, "Measure from the left flange again.")
    half_round = math.pi * outline.tube_radius(bracket.at)
    if bracket.lies == "across" and bracket.length > half_round:
        allowed = f"must be no more than half way round the tube, {shop(half_round)}"
        return Misfit(
            ("bracket", n, "length"), shop(bracket.length), allowed, "Measure round the tube's skin."
        )
    return None
