"""Does the ranking survive: rank correlation with its interval, best plans, and what waiting does."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.stats import rankdata

from axlewright.solid.mesh import Floats
from studies.yielding.figures import Figures
from studies.yielding.plans import COMMON, OURS

ELASTIC, MAIN = "elastic", "yielding"
"""Names of the package's own walk and of the one that the conclusion rests on."""

RESAMPLES = 2000
"""Samples of plans, drawn with replacement, for an interval."""

ENOUGH = 0.9
"""Least rank correlation for a ranking to have survived."""

TOP = 5


@dataclass(frozen=True)
class Compared:
    """A way of walking against the elastic walk, on one job.

    Args:
        correlation: Spearman's, of distortion.
        interval: of it, 2.5 to 97.5 % of the resampled ones.
        tack_correlation: the same, of tack demand.
        tack_interval: of it.
        top_shared: how many of the five plans with least distortion are the same.
        best_quartile_stays: whether the elastic walk's best quarter lies in the best half.
        worst_change: largest change of distortion, as a share of the elastic one.
        typical_change: median of that.
        ours_over_common: distortion of ours over that of common practice.
        survives: correlation of `ENOUGH` or more, and the best quarter stays.
    """

    correlation: float
    interval: tuple[float, float]
    tack_correlation: float
    tack_interval: tuple[float, float]
    top_shared: int
    best_quartile_stays: bool
    worst_change: float
    typical_change: float
    ours_over_common: float
    survives: bool


def compared(elastic: list[Figures], other: list[Figures]) -> Compared:
    """Hold a way of walking against the elastic walk; both lists have the same plans in the same order."""
    assert [row.plan for row in elastic] == [row.plan for row in other]
    before, after = (np.array([row.distortion_mm for row in rows]) for rows in (elastic, other))
    loads = [np.array([row.tack_demand for row in rows]) for rows in (elastic, other)]
    rank, there = np.argsort(np.argsort(after)), np.argsort(before)
    quarter = there[: max(1, len(there) // 4)]
    stays = bool(np.all(rank[quarter] < (len(there) + 1) // 2))
    change = np.abs(after / before - 1)
    correlation = spearman(before, after)
    names = [row.plan for row in other]
    ours, common = names.index(OURS), names.index(COMMON)
    return Compared(
        correlation,
        interval(before, after),
        spearman(*loads),
        interval(*loads),
        len(set(there[:TOP].tolist()) & set(np.argsort(after)[:TOP].tolist())),
        stays,
        float(change.max()),
        float(np.median(change)),
        float(after[ours] / after[common]),
        correlation >= ENOUGH and stays,
    )


def spearman(first: Floats, second: Floats) -> float:
    """Spearman's rank correlation; ties share their ranks; not a number where all values of one are the same."""
    ranks = np.array([rankdata(first), rankdata(second)])
    ranks -= ranks.mean(axis=1, keepdims=True)
    size = np.sqrt(np.prod(np.sum(ranks**2, axis=1)))
    return float(ranks[0] @ ranks[1] / size) if size > 0 else float("nan")


def interval(first: Floats, second: Floats) -> tuple[float, float]:
    """Bootstrap percentile interval of Spearman's correlation over plans, 95 % (seeded)."""
    chance = np.random.default_rng(0)
    drawn = chance.integers(len(first), size=(RESAMPLES, len(first)))
    values = [spearman(first[pick], second[pick]) for pick in drawn]
    low, high = np.nanpercentile(values, [2.5, 97.5])
    return float(low), float(high)


def change_per_hour(rows: list[Figures], family: str) -> float:
    """Change of distortion for each of the first hours waited, least squares over waits after every few beads [mm/h].

    The plan that waits before every bead is far out and left aside.
    """
    own = [row for row in rows if row.family == family and "every bead" not in row.plan]
    points = np.array([(row.bench_min, row.distortion_mm) for row in own])
    return float(np.polyfit(points[:, 0] / 60, points[:, 1], 1)[0])
