"""Whether the bare housing fits together and stands on its stands."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

from axlewright.job.faults import Misfit
from axlewright.job.outline import Outline
from axlewright.job.schema import Job, Perch

_TAPE = "Measure again from the outer face of the left knuckle flange."


def centre_misfit(job: Job) -> Iterator[Misfit]:
    """The first thing wrong with the centre, on which everything else is measured."""
    yield from islice(_centre(Outline(job)), 1)


def housing_misfits(job: Job) -> Iterator[Misfit]:
    """What is wrong with flanges, perches, seals and stands."""
    outline = Outline(job)
    yield from _flange(outline)
    for n, perch in enumerate(job.housing.perches):
        yield from _perch(outline, n, perch)
    for n, seal in enumerate(job.housing.seals):
        if seal.at > job.housing.length:
            allowed = f"must lie on the housing, 0 to {outline.shop(job.housing.length)}"
            yield Misfit(("housing", "seal", n, "at"), outline.shop(seal.at), allowed, _TAPE)
    yield from _stands(outline)


def _centre(outline: Outline) -> Iterator[Misfit]:
    centre, shop = outline.job.housing.centre, outline.shop
    path = ("housing", "centre")
    (begin, end), (first, last) = outline.centre_span, outline.tube_span
    tube = max(2.0 * outline.tube_radius(0.0), 2.0 * outline.tube_radius(outline.job.housing.length))
    if begin <= first or end >= last:
        allowed = f"the centre would reach from {shop(begin)} to {shop(end)}, past a knuckle flange"
        remedy = "Offset is from the middle of the axle to the middle of the centre, negative to the right."
        yield Misfit((*path, "offset"), shop(centre.offset), allowed, remedy)
    for key, size in (("height", centre.height), ("depth", centre.depth)):
        if size < tube:
            allowed = f"must be no less than the tubes' outside diameter, {shop(tube)}"
            yield Misfit((*path, key), shop(size), allowed, "Measure over the outside of the centre.")
    half = min(centre.height, centre.depth) / 2.0
    if centre.wall >= half:
        allowed = f"must be less than half the centre's depth and height, {shop(half)}"
        yield Misfit((*path, "wall"), shop(centre.wall), allowed, "Measure one wall only.")
    if centre.opening_diameter is not None and centre.opening_diameter >= min(centre.height, centre.width):
        allowed = f"must be less than the centre's height and width, {shop(min(centre.height, centre.width))}"
        yield Misfit(
            (*path, "opening_diameter"), shop(centre.opening_diameter), allowed, "Measure the hole itself."
        )


def _flange(outline: Outline) -> Iterator[Misfit]:
    flange, shop = outline.job.housing.knuckle_flange, outline.shop
    tube = max(2.0 * outline.tube_radius(0.0), 2.0 * outline.tube_radius(outline.job.housing.length))
    if flange.diameter < tube:
        allowed = f"must be no less than the tubes' outside diameter, {shop(tube)}"
        yield Misfit(
            ("housing", "knuckle_flange", "diameter"), shop(flange.diameter), allowed, "Measure again."
        )


def _perch(outline: Outline, n: int, perch: Perch) -> Iterator[Misfit]:
    path, shop = ("housing", "perch", n), outline.shop
    begin, end = perch.at - perch.length / 2.0, perch.at + perch.length / 2.0
    if not outline.on_a_tube(begin, end):
        allowed = f"reaches from {shop(begin)} to {shop(end)}, but a tube is from {outline.tubes_in_words()}"
        yield Misfit((*path, "at"), shop(perch.at), allowed, _TAPE)
    elif perch.height <= outline.tube_radius(perch.at):
        radius = shop(outline.tube_radius(perch.at))
        allowed = f"its top must be higher than the tube's, {radius} above the axle line"
        remedy = "Add half the tube's diameter to what stands above the tube."
        yield Misfit((*path, "height"), shop(perch.height), allowed, remedy)


def _stands(outline: Outline) -> Iterator[Misfit]:
    supports, length, shop = outline.job.supports, outline.job.housing.length, outline.shop
    if supports.right > length:
        allowed = f"must lie on the housing, 0 to {shop(length)}"
        yield Misfit(("supports", "right"), shop(supports.right), allowed, _TAPE)
    elif supports.left >= supports.right:
        allowed = f"must be less than that of the right stand, {shop(supports.right)}"
        yield Misfit(("supports", "left"), shop(supports.left), allowed, _TAPE)
