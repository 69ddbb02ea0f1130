"""Shops whose true factors are not those of the formulas, and the jobs they measure: the walk plays the steel."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

import numpy as np
from reference.benches import bench_for
from reference.jobs import demo

from axlewright.distortion.model import Model
from axlewright.heat.varied import HeatFactors
from axlewright.plan.bench import OnTheBench, on_the_bench
from axlewright.plan.common_practice import common_practice
from axlewright.plan.learned import narrowest
from axlewright.plan.spreads import Inputs
from axlewright.plan.timeline import Step
from axlewright.shop.evidence import Evidence, shown_by
from axlewright.shop.factors import JOB_SCATTER, ShopFactors
from axlewright.solid.mesh import Floats
from axlewright.straightness.axis import PLANES, AxisFit, Span, span_of
from axlewright.straightness.fit.measured_change import measured_change
from axlewright.straightness.fit.priors import shape_prior
from axlewright.straightness.learn.from_job import FIGURES, figure_rows, shape_told
from axlewright.straightness.learn.welded import Welded

GAP, TWIST = 0.1e-3, np.deg2rad(0.05)
"""Errors of a straightedge with feelers at nine stations in each plane, and of an angle finder for the twist."""

SETTINGS = ((22.0, 180.0, 6.0), (24.0, 200.0, 6.0), (20.0, 150.0, 5.0), (25.0, 220.0, 8.0))
"""Volts, amps and mm/s of the jobs."""

UNSEEN = 0.05
"""What no factor explains in a figure, as a share of it: invented, below what `from_job` allows for."""

CAMBER = slice(0, 2)


@dataclass(frozen=True)
class Kind:
    """A kind of job: the bench, its plan, and what one measured before and after would say."""

    bench: OnTheBench
    steps: tuple[Step, ...]
    evidence: Evidence


def readings_of(span: Span, values: Floats, chance: np.random.Generator | None) -> AxisFit:
    """The shape as straightedge and angle finder tell it; without chance the readings have no error."""
    x = np.linspace(-0.92, 0.92, 9) * span.half_length
    rows = np.concatenate([*(span.heights(x, plane) for plane in PLANES), span.angles()[4:]])
    spread = np.array([*[GAP] * (2 * len(x)), TWIST])
    noise = 0.0 if chance is None else spread * chance.standard_normal(len(spread))
    covariance = np.linalg.inv(np.diag(shape_prior() ** -2.0) + rows.T @ (rows / spread[:, None] ** 2))
    return AxisFit(span, covariance @ (rows.T @ ((rows @ values + noise) / spread**2)), covariance)


@cache
def kinds() -> tuple[Kind, ...]:
    """Four settings on the 36-bead demo, every other one welded in the opposite order."""
    made = []
    for number, (volts, amps, speed) in enumerate(SETTINGS):
        own = {"volts": volts, "amps": amps, "travel_speed": speed / 1e3}
        plain = demo("truss-only")
        job = plain.model_copy(update={"welder": plain.welder.model_copy(update=own)})
        bench = on_the_bench(job, bench_for(plain).model)
        steps = common_practice(bench.model.assembly, job.bench)[:: -1 if number % 2 else 1]
        bare = readings_of(span_of(job), np.zeros(11), None)
        change = measured_change(bare, bare, np.zeros(11))
        seen, alike = shape_told(Welded(bench, steps, (), span_of(job)), change)
        evidence = Evidence("kind", "", "housing", seen, tuple(map(tuple, alike.tolist())))
        made.append(Kind(bench, steps, evidence))
    return tuple(made)


@dataclass(frozen=True)
class TrueShop:
    """A shop as it really is: logarithms of its four factors, and the inputs that it cannot learn."""

    logs: Floats
    other: Inputs
    chance: np.random.Generator

    def measured(self, kind: Kind, name: str) -> tuple[Evidence, Floats]:
        """A job of this shop, measured before and after, and what its figures really became, shape (9,)."""
        tendon, across, heat, _ = np.exp(self.logs + JOB_SCATTER * self.chance.standard_normal(4))
        inputs = replace(self.other, tendon=float(tendon), across=float(across), heat=float(heat))
        span = span_of(kind.bench.job)
        rows = figure_rows(span)
        bench = kind.bench.varied(inputs, _model_with(inputs.flow))
        true = Welded(kind.bench, kind.steps, (), span).figures_on(bench, rows)
        true = true * (1.0 + UNSEEN * self.chance.standard_normal(len(true)))
        names = [observation.figure for observation in kind.evidence.observations]
        told = [number for number, (figure, *_) in enumerate(FIGURES) if figure in names]
        noise = np.linalg.cholesky(measuring(kind.evidence)) @ self.chance.standard_normal(len(told))
        return with_measured(kind.evidence, name, true[told] + noise), true


@cache
def _model_with(flow: HeatFactors) -> Model:
    """The model with a shop's heat flow, worked out once for all its jobs."""
    return kinds()[0].bench.model.varied(flow)


def measuring(evidence: Evidence) -> Floats:
    """Covariance of the errors of measuring alone."""
    error = np.array([one.error for one in evidence.observations])
    alike = np.eye(len(error)) if evidence.correlation is None else np.array(evidence.correlation)
    return error[:, None] * alike * error


def with_measured(evidence: Evidence, name: str, measured: Floats) -> Evidence:
    """The same result with other figures measured."""
    seen = tuple(
        replace(one, measured=float(value))
        for one, value in zip(evidence.observations, measured, strict=True)
    )
    return replace(evidence, name=name, observations=seen)


def true_shop(seed: int) -> TrueShop:
    """A shop whose shrinkage and cooling are 40 % off either way, its arc heat 10 %; the rest as shops differ."""
    chance = np.random.default_rng(seed)
    logs = np.log([1.4, 1.4, 1.1, 1.4]) * chance.choice([-1.0, 1.0], 4)
    rotation, tack, bead = np.exp(np.array([0.17, 0.35, 0.25]) * chance.standard_normal(3))
    flow = HeatFactors(loss=float(np.exp(logs[3])), seam=float(0.2 * 25.0 ** chance.random()))
    other = Inputs(
        rotation=float(rotation), tack_stiffness=float(tack), bead_stiffness=float(bead), flow=flow
    )
    return TrueShop(logs, other, chance)


def band(
    kind: Kind, shop: ShopFactors, figures: slice = CAMBER, draws: int = 400
) -> tuple[Floats, Floats, Floats]:
    """Low edge, prediction and high edge of some figures of a job, drawn as a plan's band is, each shape (figures,)."""
    chance = np.random.default_rng(0)
    evidence = kind.evidence
    logs = shop.mean + chance.standard_normal((draws, 4)) @ np.linalg.cholesky(shop.covariance).T
    drawn = shown_by(evidence.predicted, evidence.rows, evidence.by_factor, logs)[:, figures]
    middle = evidence.shown(shop.mean)[figures]
    low, high = np.quantile(drawn, (0.1, 0.9), axis=0)
    away = narrowest(shop) * np.abs(middle)
    return np.minimum(low, middle - away), middle, np.maximum(high, middle + away)
