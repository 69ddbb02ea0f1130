"""Whether a fixture can hold the housing."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from axlewright.job.faults import Misfit
from axlewright.job.fixture import Fixture
from axlewright.job.outline import Outline
from axlewright.job.schema import Job

CLOSEST = 0.05
"""Smallest distance between two supports of a plane [m]: nearer, they clamp one and the same place."""

PLANES = ("vertical", "fore-aft")


def fixture_misfits(job: Job) -> Iterator[Misfit]:
    """Supports off the housing or on one place, and a fixture that holds nothing."""
    if job.fixture is None:
        return
    outline, length = Outline(job), job.housing.length
    off = [n for n, support in enumerate(job.fixture.supports) if support.at > length]
    for n in off:
        yield Misfit(
            ("fixture", "support", n, "at"),
            outline.shop(job.fixture.supports[n].at),
            f"must lie on the housing, 0 to {outline.shop(length)}",
            "Measure again from the outer face of the left knuckle flange.",
        )
    if not off:
        yield from _close_ones(job.fixture, outline)
        yield from _too_few(job.fixture)


def _close_ones(fixture: Fixture, outline: Outline) -> Iterator[Misfit]:
    """Supports that hold one plane at nearly one place, each told once."""
    told: set[int] = set()
    for plane in PLANES:
        for one, other in pairwise(fixture.holding(plane)):
            number = max(n for n, support in enumerate(fixture.supports) if support in (one, other))
            if other.at - one.at < CLOSEST and number not in told:
                told.add(number)
                allowed = (
                    f"another support holds the housing at {outline.shop(one.at)}; "
                    f"two of one plane must be {outline.shop(CLOSEST)} apart"
                )
                path = ("fixture", "support", number, "at")
                yield Misfit(path, outline.shop(fixture.supports[number].at), allowed, "Move or drop one.")


def _too_few(fixture: Fixture) -> Iterator[Misfit]:
    most = max(len(fixture.holding(plane)) for plane in PLANES)
    if most < 3:
        allowed = (
            "one plane needs three supports: two only carry the housing, they do not keep it from bending"
        )
        yield Misfit(
            ("fixture", "support"),
            f"at most {most} support{'s' * (most > 1)} in a plane",
            allowed,
            "Add a support, or leave [fixture] out.",
        )
