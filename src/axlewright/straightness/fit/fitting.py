"""The shape that readings tell, how sure it is, and which readings do not go with the rest."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axlewright.errors import Fault, ReadingsError
from axlewright.job.schema import Job
from axlewright.solid.mesh import Flags, Floats
from axlewright.straightness.axis import PARAMETERS, AxisFit, Plane
from axlewright.straightness.fit.equations import Equation, Ground
from axlewright.straightness.fit.oval import block_doubts, oval_doubts
from axlewright.straightness.fit.priors import KNOWN, shape_prior
from axlewright.straightness.fit.sifting import Sifted, sift
from axlewright.straightness.fit.system import Solved, equation_of
from axlewright.straightness.readings.reading import FourPoint, Reading, ReadingSet, Runout
from axlewright.straightness.report import Doubt


@dataclass(frozen=True)
class ShapeFit:
    """The shape of a housing as one set of readings tells it.

    Args:
        job: the job.
        name: of the set.
        axis: the shape with its covariance.
        solved: readings it stands on, with their residuals.
        left_out: what readings say that do not go with the rest, or show something else than the axis.
        doubts: what is odd, in words.
    """

    job: Job
    name: str
    axis: AxisFit
    solved: Solved
    left_out: tuple[Equation, ...]
    doubts: tuple[Doubt, ...]

    @property
    def used(self) -> tuple[Reading, ...]:
        """Readings the shape stands on."""
        return tuple(equation.reading for equation in self.solved.equations)

    @property
    def readings(self) -> tuple[Reading, ...]:
        """All readings, those left out too."""
        return self.used + tuple(equation.reading for equation in self.left_out)

    @property
    def residuals(self) -> Floats:
        """What each reading says more than the shape, in units of its error, row by row."""
        return self.solved.solution.residuals[: len(self.solved.owner)]

    def told(self, rows: Floats) -> Flags:
        """Whether the readings tell what rows on the parameters read, shape (n,)."""
        return told(self.axis, rows)

    def points(self, plane: Plane) -> tuple[tuple[float, float, int], ...]:
        """What single readings say of the axis once the set-up is known: distance, offset [m], line of the file."""
        found, ground = [], Ground(self.job)
        for equation in (*self.solved.equations, *self.left_out):
            misfit = self.solved.misfit(equation)
            own = [row for row, (where, _) in enumerate(equation.axis) if where == plane]
            if misfit is None or not own:
                continue
            at = getattr(equation.reading, "at", 0.0)
            fitted = float(ground.axis(at, plane) @ self.axis.values)
            offset = fitted + equation.axis[own[0]][1] * float(misfit[own[0]])
            found.append((at, offset, equation.reading.origin.line))
        return tuple(sorted(found))


def told(axis: AxisFit, rows: Floats) -> Flags:
    """Whether a fit tells what rows on the parameters read, shape (n,): clearly better than is known without it."""
    spread = axis.read(rows)[1]
    without = np.sqrt(np.einsum("ni,i->n", rows**2, shape_prior() ** 2))
    known: Flags = spread < KNOWN * without
    return known


def fit_shape(job: Job, readings: ReadingSet) -> ShapeFit:
    """The shape of a housing's axis that goes best with readings.

    Weighted least squares on the figures of `axis.py` and the unknowns of each set-up. Readings that clearly disagree
    with the others are left out and named; where the rest scatters more than its errors say, the bands are widened.

    Raises:
        ReadingsError: there is no reading.
    """
    if not readings.readings:
        raise ReadingsError(_nothing_read(readings))
    blocks = block_doubts(Ground(job), readings.readings)
    seats: dict[str, float] = {}
    for _, reading, moved in blocks:
        seats[reading.origin.setup] = max(moved, seats.get(reading.origin.setup, 0.0))
    ground = Ground(job, seats)
    ovals = oval_doubts(ground, readings.readings)
    doubted = [(doubt, reading) for doubt, reading, _ in blocks] + ovals
    out = [reading for doubt, reading in doubted if doubt.left_out]
    kept = [reading for reading in readings.readings if reading not in out]
    sifted = sift([equation_of(ground, one) for one in kept], lambda one: equation_of(ground, one))
    if any(isinstance(one, Runout) for one in kept):
        sifted = _again(ground, kept, sifted)
    own = slice(0, len(PARAMETERS))
    solution = sifted.solved.solution
    axis = AxisFit(ground.span, ground.built + solution.values[own], solution.covariance[own, own])
    left_out = (*(equation_of(ground, one) for one in out), *sifted.left_out)
    doubts = (*(doubt for doubt, _ in doubted), *sifted.doubts)
    return ShapeFit(job, readings.name, axis, sifted.solved, left_out, doubts)


def _again(ground: Ground, kept: list[Reading], first: Sifted) -> Sifted:
    """Fit once more, dial totals taken about where the first fit has them."""
    near: dict[tuple[str, float], Floats] = {}
    for equation in (*first.solved.equations, *first.left_out):
        misfit = first.solved.misfit(equation)
        if isinstance(equation.reading, Runout) and misfit is not None:
            near[equation.reading.origin.setup, equation.reading.at] = equation.value - misfit

    def making(one: Reading) -> Equation:
        about = near.get((one.origin.setup, one.at)) if isinstance(one, Runout) else None
        return equation_of(ground, one, about)

    return sift([making(one) for one in kept], making)


def _nothing_read(readings: ReadingSet) -> Fault:
    found = f"has {len(readings.faults)} lines, none of which can be used" if readings.faults else "is empty"
    remedy = (
        "Read the gap of a string at five or more stations over both tubes, on the top or bottom for camber and on the "
        "front or rear for toe, or both flanges with an angle finder and a level bar."
    )
    return Fault(f'"{readings.name}"', "without readings", found, remedy)


def only_totals(readings: tuple[Reading, ...]) -> bool:
    """Whether dial totals were read and no four-point reading that would tell an oval tube from a bent one."""
    return any(isinstance(one, Runout) for one in readings) and not any(
        isinstance(one, FourPoint) for one in readings
    )
