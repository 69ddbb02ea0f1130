"""The limits of a job as rows on the parameters of the axis, for choosing what brings every figure inside."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axlewright.job.schema import Job
from axlewright.solid.mesh import Floats
from axlewright.straightness.axis import ANGLES, PLANES, AxisFit, Span
from axlewright.straightness.fit.judging import limit_checks
from axlewright.straightness.report import LimitCheck

PLACES = 12
"""Places along each tube at which the bow is held to its limit: with the centre's middle, where a kinked axis has its
peak, they miss less than a hundredth of the highest place."""


@dataclass(frozen=True)
class Aim:
    """One limit.

    Args:
        name: of the figure, as the verdict names it.
        rows: what has to keep it, on the parameters, shape (k, 11).
        wanted: what each row shall read [m or rad].
        limit: how far it may lie from that [m or rad].
        zone: whether the limit is on the highest less the lowest of the rows and nought, as ISO 13920 has it.
    """

    name: str
    rows: Floats
    wanted: float
    limit: float
    zone: bool

    def shares(self, parameters: Floats) -> Floats:
        """The worst of the figure over its limit for many shapes, shape (n,) [1]; up to 1 is kept.

        Args:
            parameters: of the shapes, shape (n, 11).
        """
        read = parameters @ self.rows.T
        if self.zone:
            width = np.maximum(read.max(axis=1), 0.0) - np.minimum(read.min(axis=1), 0.0)
            return np.asarray(width / self.limit)
        return np.asarray(np.abs(read - self.wanted).max(axis=1) / self.limit)


def aims_of(job: Job, axis: AxisFit) -> tuple[Aim, ...]:
    """Every limit of a job, as the verdict judges it."""
    return tuple(_aim(job, axis.span, check) for check in limit_checks(job, axis))


def _aim(job: Job, span: Span, check: LimitCheck) -> Aim:
    if check.unit == "deg":
        row = span.angles()[ANGLES.index(check.name.replace(" ", "_"))]
        return Aim(check.name, row[None], np.radians(check.wanted), np.radians(check.limit), False)
    plane = PLANES[0] if check.name.endswith("up") else PLANES[1]
    left, right = (
        np.linspace(span.middle, end, PLACES + 1)[:-1] for end in (span.half_length, -span.half_length)
    )
    x = np.concatenate([left[::-1], right[1:]])
    zone = check.name.startswith("straightness") or job.straightness.bow is None
    return Aim(check.name, span.heights(x, plane), check.wanted, check.limit, zone)


def worst_share(aims: tuple[Aim, ...], parameters: Floats) -> Floats:
    """The worst figure of each shape over its limit, shape (n,) [1]; 0 where nothing is limited."""
    shares = [aim.shares(parameters) for aim in aims]
    return np.max(shares, axis=0) if shares else np.zeros(len(parameters))
