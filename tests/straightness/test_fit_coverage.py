"""Bands hold what they promise: 90 of a hundred figures lie within theirs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

import numpy as np
import pytest
from reference.jobs import demo
from simulated import (
    Housing,
    Shop,
    angles,
    dots,
    four_points,
    heights,
    measured,
    random_values,
    string,
    tape,
    totals,
)

from axlewright.job.schema import Job
from axlewright.straightness.axis import PLANES, span_of
from axlewright.straightness.fit.fitting import fit_shape
from axlewright.straightness.readings.reading import Reading

TRIALS = 800
BADLY_BENT = {"totals and four-point": 3.0}
"""Plans tried on housings bent three times as much, where an unsure clock matters most."""

PLACES = np.array([0.1, -0.3])
"""Where the bow is told, on either tube [m]."""

NAMES = ("camber", "toe", "twist", "bow up", "bow forward")
GROUPS = (slice(0, 2), slice(2, 4), slice(4, 5), slice(5, 7), slice(7, 9))

PLANS: dict[str, tuple[Callable[[Job], list[Reading]], str]] = {
    "strings": (lambda job: [*string(job, "top"), *string(job, "front")], "camber toe bow"),
    "straightedge, both tubes": (
        lambda job: [*string(job, "bottom", error=0.05e-3), *string(job, "rear", error=0.05e-3)],
        "camber toe bow",
    ),
    "totals between centres": (lambda job: totals(job), "camber toe bow"),
    "totals in V-blocks": (lambda job: totals(job, blocks=True), "camber toe bow"),
    "four-point": (lambda job: four_points(job), "camber toe bow"),
    "totals and four-point": (lambda job: [*totals(job), *four_points(job)], "camber toe bow"),
    "angle finder": (lambda job: [*angles("camber"), *angles("toe"), *angles("caster")], "camber toe twist"),
    "heights and dots": (
        lambda job: [*heights(job), *heights(job, "bottom"), *dots(job)],
        "camber toe bow up",
    ),
    "mixed, few of each": (
        lambda job: [
            *string(job, "front", 3),
            *heights(job, on_each=3),
            *tape(),
            *angles("camber"),
            *totals(job, 1),
            *angles("caster"),
        ],
        "camber toe twist bow",
    ),
}


@dataclass(frozen=True)
class Tally:
    """What became of many checks: figures within their bands and whether they were told, and sets with a doubt."""

    within: np.ndarray
    told: np.ndarray
    left_out: float
    doubted: float


@cache
def tally(name: str) -> Tally:
    """Measure many random housings by one plan; each job in turn."""
    jobs = [demo("truss-only"), demo("cast-centre")]
    random = np.random.default_rng(20)
    within, told, left_out, doubted = [], [], 0, 0
    plans = [PLANS[name][0](job) for job in jobs]
    for trial in range(TRIALS):
        job, plan = jobs[trial % 2], plans[trial % 2]
        bends = [1, 1, 1, 0, 0, 1, 1, 1, 0, 0, 0]
        more = np.where(bends, BADLY_BENT.get(name, 1.0), 1.0)
        housing = Housing(job, more * random_values(random, span_of(job)))
        fit = fit_shape(job, measured(Shop(housing, random), plan))
        rows = _rows(job)
        value, spread = fit.axis.read(rows)
        within.append(np.abs(value - rows @ housing.values) < 1.645 * spread)
        told.append(fit.told(rows))
        left_out += any(doubt.left_out for doubt in fit.doubts)
        doubted += any(not doubt.left_out for doubt in fit.doubts)
    return Tally(np.array(within), np.array(told), left_out / TRIALS, doubted / TRIALS)


@cache
def _rows_of(name: str) -> np.ndarray:
    span = span_of(demo(name))
    return np.concatenate([span.angles(), *(span.heights(PLACES, plane) for plane in PLANES)])


def _rows(job: Job) -> np.ndarray:
    return _rows_of("cast-centre" if job.inch else "truss-only")


@pytest.mark.analytical
@pytest.mark.parametrize("name", list(PLANS))
def test_ninety_of_a_hundred_figures_lie_within_their_band(name: str) -> None:
    """Over 800 random housings of two jobs, 87 to 93 % of each kind of figure that is told lie within its band."""
    # Source: definition of a 90 % band. Errors, flanges, seats, skin and shapes are drawn as the theory page states.
    # Tolerance: left and right are counted together, 1600 figures with a binomial standard deviation of 0.75 % where
    # they are independent (800 with 1.06 % where they go together), so 3 % is 2.8 to 4 of them.
    found, wanted = tally(name), PLANS[name][1].split()
    for kind, own in zip(NAMES, GROUPS, strict=True):
        expected = kind in PLANS[name][1] if "bow up" in PLANS[name][1] else kind.split()[0] in wanted
        assert found.told[:, own].all() == expected, kind
        if expected:
            share = found.within[:, own].mean()
            assert 0.87 <= share <= 0.93, f"{kind} {share:.3f}"


@pytest.mark.analytical
@pytest.mark.parametrize("name", list(PLANS))
def test_a_clean_set_is_seldom_doubted(name: str) -> None:
    """In a hundred clean sets about one has a reading left out, and about one a remark on something else."""
    # Source: the level of the test, 1 % a set. Tolerance: 800 sets, 0.35 % standard deviation, so 2.2 % is 3.4 of them;
    # remarks are those on scatter (0.1 % a set), contradictions (with the 1 %) and ovals (0.1 % a four-point reading).
    found = tally(name)
    assert found.left_out <= 0.022
    assert found.doubted <= 0.022
