"""Whether a truss lies on the housing, with its top above it."""

from __future__ import annotations

import bisect
import math
from collections.abc import Iterator
from itertools import pairwise

from axlewright.job.faults import Misfit
from axlewright.job.lines import Path
from axlewright.job.outline import BRIDGE_RAMP, Outline
from axlewright.job.schema import Truss

_TAPE = "Measure again from the outer face of the left knuckle flange."
_SAME_SPOT = 0.0005
"""Half a millimetre: two tape readings closer than this are the same spot [m]."""


def truss_misfit(outline: Outline, n: int, truss: Truss) -> Misfit | None:
    """The first thing wrong with a truss, None where it fits."""
    path: Path = ("truss", n)
    checks = (_ends, _width, _points, _height, _bridge, _openings)
    return next((found for check in checks for found in check(outline, path, truss)), None)


def _ends(outline: Outline, path: Path, truss: Truss) -> Iterator[Misfit]:
    (first, last), shop = outline.tube_span, outline.shop
    if truss.start < first or truss.start > last:
        allowed = f"must lie on the housing between the knuckle flanges, {shop(first)} to {shop(last)}"
        yield Misfit((*path, "from"), shop(truss.start), allowed, _TAPE)
    if truss.end > last or truss.end <= truss.start:
        allowed = f"must be more than `from`, {shop(truss.start)}, and no more than {shop(last)}"
        yield Misfit((*path, "to"), shop(truss.end), allowed, _TAPE)


def _width(outline: Outline, path: Path, truss: Truss) -> Iterator[Misfit]:
    if truss.width is None:
        return
    tube, shop = 2.0 * min(outline.tube_radius(truss.start), outline.tube_radius(truss.end)), outline.shop
    if truss.width >= tube:
        allowed = f"must be less than the tube's outside diameter, {shop(tube)}, or its seams miss the tube"
        yield Misfit((*path, "width"), shop(truss.width), allowed, "Measure the outside width front to rear.")
    if truss.width <= 2.0 * truss.thickness:
        allowed = f"must be more than twice the plate's thickness, {shop(2.0 * truss.thickness)}"
        yield Misfit((*path, "width"), shop(truss.width), allowed, "Measure the outside width front to rear.")


def _points(outline: Outline, path: Path, truss: Truss) -> Iterator[Misfit]:
    shop, last = outline.shop, len(truss.top) - 1
    for n, key, wanted in ((0, "from", truss.start), (last, "to", truss.end)):
        if abs(truss.top[n].at - wanted) > _SAME_SPOT:
            allowed = f"the top edge must begin at `from` and end at `to`; `{key}` is {shop(wanted)}"
            yield Misfit((*path, "top", n, 0), shop(truss.top[n].at), allowed, _TAPE)
    for n, (before, after) in enumerate(pairwise(truss.top), start=1):
        if after.at <= before.at:
            allowed = f"distances must rise from point to point; the one before is {shop(before.at)}"
            yield Misfit(
                (*path, "top", n, 0), shop(after.at), allowed, "List the corners from left to right."
            )


def _height(outline: Outline, path: Path, truss: Truss) -> Iterator[Misfit]:
    shop = outline.shop
    room, at = min(
        (top_at(truss, at) - outline.lowest_top(truss, at), at) for at in _stations(outline, truss)
    )
    if room > truss.thickness:
        return
    floor = outline.lowest_top(truss, at)
    below = "the housing" if truss.clear_of_centre is None else "the housing or the bridging edge"
    allowed = (
        f"must be more than a plate's thickness above {below}: more than {shop(floor + truss.thickness)} "
        f"at {shop(at)} from the left flange"
    )
    remedy = (
        "Heights count from the axle line, the middle of the tube; add a corner where the centre is high."
    )
    yield Misfit((*path, "top"), shop(top_at(truss, at)), allowed, remedy)


def top_at(truss: Truss, at: float) -> float:
    """Height of a truss's top edge above the axle line at a distance from the left flange [m]."""
    n = min(max(bisect.bisect_right([point.at for point in truss.top], at), 1), len(truss.top) - 1)
    (begin, low), (end, high) = truss.top[n - 1], truss.top[n]
    share = min(max((at - begin) / (end - begin), 0.0), 1.0)
    return low + (high - low) * share


def _stations(outline: Outline, truss: Truss) -> list[float]:
    """Where the height is looked at: every 2 mm, at every corner, and at the edges of the bridge [m]."""
    count = math.ceil((truss.end - truss.start) / 0.002)
    even = (truss.start + (truss.end - truss.start) * n / count for n in range(count + 1))
    begin, end = outline.centre_span
    extra = [*(point.at for point in truss.top), begin, outline.centre_at, end]
    return [*even, *(at for at in extra if truss.start <= at <= truss.end)]


def _bridge(outline: Outline, path: Path, truss: Truss) -> Iterator[Misfit]:
    if truss.clear_of_centre is None:
        return
    begin, end = outline.centre_span[0] - BRIDGE_RAMP, outline.centre_span[1] + BRIDGE_RAMP
    if truss.start >= begin or truss.end <= end:
        allowed = (
            "a truss that bridges the centre must be welded to both tubes: "
            f"from less than {outline.shop(begin)} to more than {outline.shop(end)}"
        )
        remedy = "Make the truss longer, or leave clear_of_centre out where it does not reach the centre."
        yield Misfit((*path, "clear_of_centre"), outline.shop(truss.clear_of_centre), allowed, remedy)


def _openings(outline: Outline, path: Path, truss: Truss) -> Iterator[Misfit]:
    shop = outline.shop
    for n, opening in enumerate(truss.openings):
        where = (*path, "openings", n)
        if opening.end <= opening.start:
            allowed = f"must be more than `from`, {shop(opening.start)}"
            yield Misfit((*where, "to"), shop(opening.end), allowed, "Give both ends of the opening.")
        elif opening.start < truss.start or opening.end > truss.end:
            value = f"{shop(opening.start)} to {shop(opening.end)}"
            allowed = f"an opening must lie within its seam, {shop(truss.start)} to {shop(truss.end)}"
            yield Misfit((*where, "from"), value, allowed, _TAPE)
    shortest = outline.job.welder.tack_length
    for seam in ("front", "rear"):
        spans = outline.welded_spans(truss, seam)
        if all(end - begin < shortest for begin, end in spans):
            allowed = f"they leave no stretch of the {seam} seam as long as a tack, {shop(shortest)}"
            yield Misfit(
                (*path, "openings"), "too long", allowed, "Shorten the openings, or leave the truss off."
            )
