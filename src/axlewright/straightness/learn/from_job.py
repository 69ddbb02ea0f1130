"""A housing measured before and after welding as what it says of the shop's factors.

What changed is held against what the model makes of the plan as it was really welded: camber and toe at both ends,
twist, and how far each tube lies off the line between the flanges in both planes, halfway between centre and flange.
How these grow with each factor is found by walking the plan with other factors; with shrinkage along and across it is
exact, as the model is linear in them.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date as day
from pathlib import Path

import numpy as np
from scipy.linalg import block_diag

from axlewright.distortion.model import build_model
from axlewright.errors import Fault, ShopFileError
from axlewright.heat.varied import HeatFactors
from axlewright.job.schema import Job
from axlewright.job.stretches import refuse_bare
from axlewright.plan.bench import on_the_bench
from axlewright.plan.sampling import inputs_at
from axlewright.plan.spreads import SPREADS, Inputs
from axlewright.shop.evidence import Evidence, Form, Observation, Unit, observations
from axlewright.shop.factors import NAMES, PRIOR_SPREAD
from axlewright.solid.mesh import Flags, Floats
from axlewright.straightness.axis import PLANES, AxisFit, Span, span_of
from axlewright.straightness.fit.equations import Ground
from axlewright.straightness.fit.measured_change import measured_change
from axlewright.straightness.learn.from_log import heat_and_loss
from axlewright.straightness.learn.welded import Planned, Welded, welded

Say = Callable[[str], None]

FIGURES: tuple[tuple[str, Unit, Form], ...] = (
    ("camber left", "rad", "factor"),
    ("camber right", "rad", "factor"),
    ("toe left", "rad", "factor"),
    ("toe right", "rad", "factor"),
    ("twist", "rad", "factor"),
    ("left tube up", "m", "factor"),
    ("right tube up", "m", "factor"),
    ("left tube forward", "m", "factor"),
    ("right tube forward", "m", "factor"),
)
"""What is compared, in the order of `figure_rows`."""

MODEL_SHARE = 0.08
"""What the model leaves open in a figure besides its factors, as a share of it: when a bead begins to bear changes the
distortion by 4 to 7 % on most plans (docs/theory/yielding.md); rounded up [1]."""

MODEL_LEAST = np.array([*[np.deg2rad(0.02)] * 5, *[0.05e-3] * 4])
"""The same however small the figure: how well the family of axes meets the model on the demo jobs (`axis`), by figure
[rad] and [m]."""

UNTOLD = 10.0
"""A figure whose error is so many times what the factors may make of it tells nothing and is left out [1]."""

_HEAT_STEP, _LOSS_STEP = 0.05, 0.1
"""Steps of the logarithms for slopes, to both sides; the model is straight in them within 1 % of the slope [1]."""


def job_evidence(
    job: Job,
    before: AxisFit,
    after: AxisFit,
    plan: Planned,
    log: Path | None = None,
    cache: Path | None = None,
    say: Say = lambda stage: None,
    name: str = "",
    date: str = "",
) -> Evidence:
    """What a housing measured before and after says of the shop's factors.

    Args:
        job: the job.
        before: its shape before the first arc.
        after: its shape after the last one, cold.
        plan: plan.json of the plan it was welded by, or the steps.
        log: the bead log, where there is one: its order, times, settings and thermometer readings count.
        cache: folder of built models, or None to build afresh.
        say: told the stage of the work.
        name: what the shop calls the result; left out, the job's reference or name.
        date: when it was measured, as 2025-03-01; left out, today.

    Raises:
        GeometryError: nothing is welded on.
        LogError: the plan is of another job, or nothing of the log can be used.
        ShopFileError: the log does not tell of every bead, or the readings tell nothing of what changed.
    """
    refuse_bare(job)
    span = span_of(job)
    done = welded(on_the_bench(job, build_model(job, cache, say)), plan, log, span)
    say("walking the plan with other factors")
    change = measured_change(before, after, Ground(job).built)
    made, alike = shape_told(done, change)
    if log is not None:
        say("reading the thermometer")
        seen, also = heat_and_loss(done)
        made, alike = (*made, *seen), block_diag(alike, also)
    if not made:
        allowed = "they must tell camber, toe, twist or bow, before and after, better than the formulas do"
        remedy = "Measure at more stations, in both planes, or with a finer instrument."
        raise ShopFileError(Fault("readings before and after", "too vague", allowed, remedy))
    called = name or job.job.reference or job.job.name
    rows = tuple(tuple(map(float, row)) for row in alike)
    return Evidence(called, date or day.today().isoformat(), "housing", made, rows)


def log_evidence(
    job: Job,
    plan: Planned,
    log: Path,
    cache: Path | None = None,
    say: Say = lambda stage: None,
    name: str = "",
    date: str = "",
) -> Evidence:
    """What the thermometer readings of a bead log alone say of the shop's arc heat and loss to the air.

    Args:
        job: the job.
        plan: plan.json of the plan it was welded by, or the steps.
        log: the bead log.
        cache: folder of built models, or None to build afresh.
        say: told the stage of the work.
        name: what the shop calls the result; left out, the job's reference or name with "log".
        date: when it was welded, as 2025-03-01; left out, today.

    Raises:
        GeometryError: nothing is welded on.
        LogError: the plan is of another job, or nothing of the log can be used.
        ShopFileError: the log does not tell of every bead, or has no temperature that could be used.
    """
    refuse_bare(job)
    bench = on_the_bench(job, build_model(job, cache, say))
    say("reading the thermometer")
    made, alike = heat_and_loss(welded(bench, plan, log, span_of(job)))
    if not made:
        allowed = "it needs temperatures read between beads, at a named place"
        remedy = "See docs/bead-log.md for how to write them."
        raise ShopFileError(Fault(str(log), "without a temperature that can be used", allowed, remedy))
    called = name or f"{job.job.reference or job.job.name} log"
    rows = tuple(tuple(map(float, row)) for row in alike)
    return Evidence(called, date or day.today().isoformat(), "log", made, rows)


def figure_rows(span: Span) -> Floats:
    """Rows on the shape's parameters that read the figures, shape (9, 11)."""
    left, right = ((span.half_width + tube) / 2.0 for tube in span.tubes)
    halfway = span.middle + np.array([left, -right])
    return np.concatenate([span.angles(), *(span.heights(halfway, plane) for plane in PLANES)])


def shape_told(done: Welded, change: AxisFit) -> tuple[tuple[Observation, ...], Floats]:
    """Figures of the shape that readings tell, and the correlation of their errors, shape (n, n).

    Args:
        done: how the housing was welded.
        change: what changed by the readings.
    """
    rows = figure_rows(done.span)
    plain = done.figures(rows, Inputs())
    slopes = _slopes(done, rows, plain)
    errors = rows @ change.covariance @ rows.T
    told = _told(errors, slopes)
    scatter = np.sqrt(_others(done, rows, plain) ** 2 + (MODEL_SHARE * plain) ** 2 + MODEL_LEAST**2)
    figures = [figure for figure, tells in zip(FIGURES, told, strict=True) if tells]
    made, alike = observations(
        figures,
        (rows @ change.values)[told],
        errors[np.ix_(told, told)],
        plain[told],
        slopes[told],
        scatter[told],
    )
    return made, np.eye(len(made)) if alike is None else np.array(alike)


def _told(errors: Floats, slopes: Floats) -> Flags:
    """Figures whose error is not far beyond anything the factors may do."""
    reach = np.sqrt((slopes**2) @ PRIOR_SPREAD**2)
    return np.asarray(np.sqrt(np.diag(errors)) < UNTOLD * reach)


def _slopes(done: Welded, rows: Floats, plain: Floats) -> Floats:
    """Growth of each figure with the logarithm of each factor where all are one, shape (9, 4)."""

    def at(inputs: Inputs) -> Floats:
        return done.figures(rows, inputs)

    def heated(log: float) -> Floats:
        return at(Inputs(heat=float(np.exp(log))))

    def losing(log: float) -> Floats:
        return at(Inputs(flow=HeatFactors(loss=float(np.exp(log)))))

    columns = {
        "tendon": at(Inputs(tendon=2.0)) - plain,
        "across": at(Inputs(across=2.0)) - plain,
        "heat": (heated(_HEAT_STEP) - heated(-_HEAT_STEP)) / (2.0 * _HEAT_STEP),
        "loss": (losing(_LOSS_STEP) - losing(-_LOSS_STEP)) / (2.0 * _LOSS_STEP),
    }
    return np.stack([columns[name] for name in NAMES], axis=1)


def _others(done: Welded, rows: Floats, plain: Floats) -> Floats:
    """Standard deviation of each figure by the inputs that a shop does not learn, shape (9,)."""
    # One standard deviation up, one input at a time.
    moved = [
        done.figures(rows, inputs_at((spread,), np.array([[0.8413]]))[0]) - plain
        for spread in SPREADS
        if spread.name not in NAMES
    ]
    return np.sqrt(np.sum(np.square(moved), axis=0))
