"""One result of the shop, as what it says about the shop's factors.

An observation is a figure that was measured, what the model shows for it with all factors at a stated place (as a rule
1), and how that grows with the logarithm of each factor. A result can be a housing measured before and after, the
thermometer readings of a log, or a trial on scrap tube.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from axlewright.shop.factors import NAMES

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

Kind = Literal["housing", "log", "trial"]
KINDS: dict[Kind, str] = {
    "housing": "housing measured before and after",
    "log": "thermometer readings of a log",
    "trial": "trial on scrap tube",
}
"""Kinds of results in the words of the shop."""

Unit = Literal["rad", "m", "K", "1"]
"""Of a figure; rad stands for all angles, 1 for plain numbers such as the logarithm of a factor."""

Form = Literal["factor", "logarithm"]
"""How a figure grows: a shape with the factors themselves, anything else with their logarithms."""

_HEAT = NAMES.index("heat")
_PULLS = [NAMES.index("tendon"), NAMES.index("across")]


@dataclass(frozen=True)
class Observation:
    """A figure that was measured and what it says about the factors.

    Args:
        figure: its name, e.g. "camber left".
        unit: of measured, error, predicted, sensitivities and scatter.
        measured: what was measured.
        error: standard deviation of the measurement.
        predicted: what the model shows at `Evidence.at`.
        sensitivities: growth of it with the logarithm of each factor there, in the order of `NAMES`.
        scatter: standard deviation of what the model leaves out.
        form: "factor" for a shape, "logarithm" for anything else; see `shown_by`.
    """

    figure: str
    unit: Unit
    measured: float
    error: float
    predicted: float
    sensitivities: tuple[float, ...]
    scatter: float = 0.0
    form: Form = "factor"


@dataclass(frozen=True)
class Evidence:
    """One result of the shop.

    Args:
        name: what it is called in the shop file; no two have the same.
        date: when it was measured, e.g. "2024-05-17", or "".
        kind: what was measured.
        observations: what was measured, one or more.
        correlation: of the measuring errors, shape (n, n) [1]; None where they are independent.
        at: logarithms of the factors at which `predicted` and `sensitivities` hold [1].
        note: a line for people.
    """

    name: str
    date: str
    kind: Kind
    observations: tuple[Observation, ...]
    correlation: tuple[tuple[float, ...], ...] | None = None
    at: tuple[float, ...] = (0.0, 0.0, 0.0, 0.0)
    note: str = ""

    @property
    def measured(self) -> Floats:
        """What was measured, shape (n,)."""
        return np.array([one.measured for one in self.observations])

    @property
    def errors(self) -> Floats:
        """Covariance of what parts a measured figure from the model's: measuring and what the model leaves out."""
        error = np.array([one.error for one in self.observations])
        alike = np.eye(len(error)) if self.correlation is None else np.array(self.correlation)
        scatter = np.array([one.scatter for one in self.observations])
        return np.asarray(error[:, None] * alike * error + np.diag(scatter**2))

    def shown(self, logs: Floats) -> Floats:
        """What the model shows with other factors, shape (n,); see `shown_by`.

        Args:
            logs: logarithms of the factors, shape (4,) [1].
        """
        return shown_by(self.predicted, self.rows, self.by_factor, logs - np.array(self.at))

    def slopes(self, logs: Floats) -> Floats:
        """Growth of what the model shows with the logarithm of each factor, shape (n, 4)."""
        return slopes_by(self.rows, self.by_factor, logs - np.array(self.at))

    @property
    def predicted(self) -> Floats:
        """What the model shows at `at`, shape (n,)."""
        return np.array([one.predicted for one in self.observations])

    @property
    def rows(self) -> Floats:
        """Its growth there with the logarithm of each factor, shape (n, 4)."""
        return np.array([one.sensitivities for one in self.observations])

    @property
    def by_factor(self) -> Flags:
        """Which figures grow with the factors themselves, shape (n,)."""
        return np.array([one.form == "factor" for one in self.observations], dtype=bool)


def shown_by(predicted: Floats, rows: Floats, by_factor: Flags, change: Floats) -> Floats:
    """What the model shows with other factors, shape (..., n).

    With d the change of the logarithms, p and s the prediction and its sensitivities before:

        logarithm: p + s_tendon d_tendon + s_across d_across + s_heat d_heat + s_loss d_loss
        factor:    p + exp(d_heat) (s_tendon (exp(d_tendon) - 1) + s_across (exp(d_across) - 1))
                     + s_heat (exp(d_heat) - 1) + s_loss d_loss

    A shape is linear in the pull along and across a bead, and both are proportional to the heat (docs/theory).

    Args:
        predicted: p, shape (..., n).
        rows: s, shape (..., n, 4).
        by_factor: which figures grow with the factors, shape (..., n).
        change: d, shape (..., 4) [1].
    """
    grown = change.copy()
    grown[..., _PULLS] = np.exp(change[..., [_HEAT]]) * np.expm1(change[..., _PULLS])
    grown[..., _HEAT] = np.expm1(change[..., _HEAT])
    change, grown = change[..., None, :], grown[..., None, :]
    return np.asarray(predicted + np.sum(rows * np.where(by_factor[..., None], grown, change), axis=-1))


def slopes_by(rows: Floats, by_factor: Flags, change: Floats) -> Floats:
    """Growth of `shown_by` with the logarithm of each factor, shape (..., n, 4)."""
    pulls = np.exp(change[..., None, _PULLS])
    grown = rows.copy()
    grown[..., _PULLS] *= pulls
    grown[..., _HEAT] += np.sum(rows[..., _PULLS] * (pulls - 1.0), axis=-1)
    grown[..., :-1] *= np.exp(change[..., None, [_HEAT]])
    return np.where(by_factor[..., None], grown, rows)


def observations(
    figures: Sequence[tuple[str, Unit, Form]],
    measured: Floats,
    errors: Floats,
    predicted: Floats,
    sensitivities: Floats,
    scatter: Floats | float = 0.0,
) -> tuple[tuple[Observation, ...], tuple[tuple[float, ...], ...] | None]:
    """Observations from arrays, and the correlation of their measuring errors; None where there is none.

    Args:
        figures: name, unit and form of each.
        measured: what was measured, shape (n,).
        errors: covariance of the measuring errors, shape (n, n).
        predicted: what the model shows, shape (n,).
        sensitivities: its growth with the logarithm of each factor, shape (n, 4).
        scatter: standard deviation of what the model leaves out, shape (n,), or one for all.
    """
    spread = np.sqrt(np.diag(errors))
    scale = np.where(spread > 0.0, spread, 1.0)
    alike = errors / scale / scale[:, None]
    np.fill_diagonal(alike, 1.0)
    scatter = np.broadcast_to(scatter, spread.shape)
    made = tuple(
        Observation(
            figure,
            unit,
            float(measured[n]),
            float(spread[n]),
            float(predicted[n]),
            tuple(map(float, sensitivities[n])),
            float(scatter[n]),
            form,
        )
        for n, (figure, unit, form) in enumerate(figures)
    )
    if np.abs(alike - np.eye(len(spread))).max(initial=0.0) < 1e-9:
        return made, None
    return made, tuple(tuple(map(float, row)) for row in alike)
