"""A trial fed back: its readings beside what the model shows, and the factors that fit them.

The posterior is normal about the factors that fit best, found by Gauss-Newton steps on

    (y - f(theta))^T V^-1 (y - f(theta)) + (theta - mean)^T P^-1 (theta - mean),

theta the logarithms of the factors, V the covariance of the readings' errors at the theta of each step.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from axlewright.errors import Fault, ShopFileError
from axlewright.housing.seam import Seam
from axlewright.housing.section import Section
from axlewright.shop.factors import ShopFactors
from axlewright.solid.mesh import Floats
from axlewright.straightness.learn.trial import Trial, TrialBead
from axlewright.straightness.learn.trial_response import Response, posterior_covariance
from axlewright.straightness.learn.trial_tube import bead_along, bead_round, tube_model
from axlewright.straightness.learn.trial_warmth import Arc, Taken, Warmth
from axlewright.units import format_deflection
from axlewright.weld.arc import arc_efficiency

COLD_AFTER = 1500.0
"""A last bend without its time is taken to be read so long after its arc [s]."""

STEPS = 12
"""Gauss-Newton steps at most; four usually do."""

SETTLED = 1e-6
"""Steps end when no logarithm moves by more [1]."""

WRONG_WAY = 3.0
"""A bend toward the beads beyond so many times its error was written with the wrong sign [1]."""


@dataclass(frozen=True)
class Fitted:
    """Factors that fit a trial.

    Args:
        logs: their logarithms, shape (4,) [1].
        covariance: of the logarithms, shape (4, 4) [1].
        sensitivities: of the readings there, shape (n, 4).
        shown: what the model shows there, shape (n,) [m or K].
        errors: covariance of the readings' errors there, shape (n, n).
    """

    logs: Floats
    covariance: Floats
    sensitivities: Floats
    shown: Floats
    errors: Floats


def fit_factors(response: Response, measured: Floats, known: ShopFactors) -> Fitted:
    """Factors that fit readings best, with what was known before.

    Args:
        response: what the model shows.
        measured: what was read, shape (n,) [m or K].
        known: what was known of the factors before.
    """
    logs = known.mean.copy()
    for _ in range(STEPS):
        rows, errors = response.sensitivities(logs), response.covariance(logs)
        left = posterior_covariance(known.covariance, rows, errors)
        pull = rows.T @ np.linalg.solve(errors, measured - response.predicted(logs) + rows @ logs)
        new = left @ (pull + np.linalg.solve(known.covariance, known.mean))
        # A step of more than a factor of two leaves the range the model is laid through.
        step = np.clip(new - logs, -0.7, 0.7)
        logs = logs + step
        if np.abs(step).max() < SETTLED:
            break
    rows, errors = response.sensitivities(logs), response.covariance(logs)
    left = posterior_covariance(known.covariance, rows, errors)
    return Fitted(logs, left, rows, response.predicted(logs), errors)


def response_of(trial: Trial) -> tuple[Response, Floats]:
    """What the model shows of a trial's readings, and what was read, shape (n,) [m or K].

    Raises:
        ShopFileError: the bends have the wrong sign.
    """
    measured = _measured(trial)
    spots = () if trial.thermometer is None else ((trial.thermometer.at, trial.thermometer.around),)
    model = tube_model(trial.tube, tuple(_seam(trial, bead) for bead in trial.beads), spots)
    welder = trial.welder
    power = (welder.efficiency or arc_efficiency(welder.process)) * welder.volts * welder.amps
    arcs = tuple(
        Arc(model.of_bead(n), bead.start, trial.arc_time(bead), power, bead.length)
        for n, bead in enumerate(trial.beads)
    )
    taken = Taken(
        tuple(_read_at(trial, n) for n in _read(trial)),
        tuple(one.time for one in trial.temperatures if one.reading is not None),
        0,
        trial.bend.spread,
    )
    return Warmth(model, trial.tube.wall).response(arcs, taken), measured


def _seam(trial: Trial, bead: TrialBead) -> Callable[[Section], Seam]:
    if bead.at is None:
        return bead_along(trial.tube, bead.start_mark, bead.end_mark)
    return bead_round(trial.tube, bead.at, bead.start_mark, bead.end_mark)


def _read(trial: Trial) -> list[int]:
    """Numbers of the beads after which the bend was read."""
    return [number for number, bead in enumerate(trial.beads) if bead.reading is not None]


def _read_at(trial: Trial, number: int) -> float:
    """When the bend was read after a bead [s]."""
    bead = trial.beads[number]
    if bead.read_at is not None:
        return bead.read_at
    if number + 1 < len(trial.beads):
        return trial.beads[number + 1].start
    return bead.start + trial.arc_time(bead) + COLD_AFTER


def _measured(trial: Trial) -> Floats:
    """Bends since before the first arc [m], then rises over the air [K]."""
    moved = np.array([trial.bend.bend(trial.beads[n].reading or 0.0) for n in _read(trial)])
    if moved[-1] < -WRONG_WAY * trial.bend.spread:
        number, value = _read(trial)[-1] + 1, format_deflection(float(moved[-1]), trial.inch)
        allowed = "beads that shrink draw the middle away from them: a dial counts up, a gap grows smaller"
        remedy = (
            "If the dial counts the other way, write all its readings with the other sign; check `before`."
        )
        raise ShopFileError(Fault(f"Bend after bead {number}", value, allowed, remedy))
    rises = [one.reading - trial.tube.air for one in trial.temperatures if one.reading is not None]
    return np.concatenate([moved, rises])
