"""What a shop's results have taught, in a table and plain sentences."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axlewright.shop.evidence import KINDS, Observation
from axlewright.shop.factors import WORDS, ShopFactors, without_results
from axlewright.shop.fitting import Weighed
from axlewright.shop.posterior import Learned
from axlewright.units import format_angle, format_deflection, format_temperature_rise

DOUBTED = 0.5
"""Weight below which a figure or a job is said to be doubted [1]: some 3 % of clean figures fall there."""

ONE_IN_TEN = 1.2815515655446004
"""Standard deviations between the middle of a normal distribution and what one case in ten lies below [1]."""


@dataclass(frozen=True)
class FactorLine:
    """A factor before and after the shop's results; one case in ten lies below `low`, nine in ten below `high` [1].

    Args:
        words: what the shop calls it.
        before: low, middle and high before any result.
        after: low, middle and high on the shop's next job.
    """

    words: str
    before: tuple[float, float, float]
    after: tuple[float, float, float]


def factor_table(factors: ShopFactors) -> tuple[FactorLine, ...]:
    """Each factor before and after the shop's results."""
    befores, afters = _edges(without_results()), _edges(factors)
    return tuple(FactorLine(*line) for line in zip(WORDS.values(), befores, afters, strict=True))


def _edges(factors: ShopFactors) -> list[tuple[float, float, float]]:
    away = ONE_IN_TEN * factors.spread
    low, middle, high = (np.exp(factors.mean + by).tolist() for by in (-away, 0.0, away))
    return list(zip(low, middle, high, strict=True))


def stands_behind(factors: ShopFactors) -> str:
    """How many results stand behind the factors: "3 housings and 1 trial"; "no results" without any."""
    counts = (
        (factors.jobs, "housing measured", "housings measured"),
        (factors.trials, "trial on scrap tube", "trials on scrap tube"),
        (factors.logs, "log with temperatures", "logs with temperatures"),
    )
    told = [f"{count} {one if count == 1 else many}" for count, one, many in counts if count]
    return " and ".join(filter(None, (", ".join(told[:-1]), *told[-1:]))) or "no results"


def what_was_learned(factors: ShopFactors) -> str:
    """One sentence: what stands behind the factors, and the two that matter most."""
    if not factors.learned:
        return "No results of this shop stand behind the bands yet; `learn` takes them."
    along, across, *_ = factor_table(factors)
    told = " and ".join(
        f"{line.words} {line.after[1]:.2f} times the formula ({line.after[0]:.2f} to {line.after[2]:.2f}, "
        f"before {line.before[0]:.2f} to {line.before[2]:.2f})"
        for line in (along, across)
    )
    return f"The shop's own results, {stands_behind(factors)}, say: {told}."


def doubts(learned: Learned, inch: bool = False) -> tuple[str, ...]:
    """Which results and figures were counted less because they do not fit the others, worst first."""
    told = [
        (weight, sentence)
        for one in learned.weighed
        for weight, sentence in (*_job_doubt(one, len(learned.weighed)), *_figure_doubts(one, inch))
    ]
    return tuple(sentence for _, sentence in sorted(told))


def _job_doubt(one: Weighed, results: int) -> list[tuple[float, str]]:
    # A lone result has nothing but the formulas to be held against.
    if one.weight >= DOUBTED or results < 2:
        return []
    kind = KINDS[one.evidence.kind]
    sentence = (
        f"'{one.evidence.name}' ({kind}) lies far from the shop's other results and was counted as "
        f"{100.0 * one.weight:.0f} % of a result. Check that it belongs to this shop and this job."
    )
    return [(one.weight, sentence)]


def _figure_doubts(one: Weighed, inch: bool) -> list[tuple[float, str]]:
    shown = one.evidence.shown(one.logs)
    return [
        (
            float(weight),
            f"'{one.evidence.name}': {figure.figure} was measured as {_said(figure, figure.measured, inch)} where "
            f"{_said(figure, float(fits), inch)} would fit the rest; counted as {100.0 * weight:.0f} %. Measure it "
            "again.",
        )
        for figure, weight, fits in zip(one.evidence.observations, one.weights, shown, strict=True)
        if weight < DOUBTED
    ]


def _said(figure: Observation, value: float, inch: bool) -> str:
    """A figure with its unit."""
    if figure.unit == "rad":
        return format_angle(float(np.rad2deg(value)))
    if figure.unit == "m":
        return format_deflection(value, inch)
    return format_temperature_rise(value, inch) if figure.unit == "K" else f"{value:.3g}"
