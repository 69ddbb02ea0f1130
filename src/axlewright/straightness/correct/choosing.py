"""Which lines to lay: the fewest that bring every figure inside its limit, a mixed-integer linear programme.

Nobody knows how strongly a shop's lines pull: all share one factor. The lines chosen first have to keep every limit at
both ends of that factor's band and of the measured shape's. Where no sensible number of lines can, narrower bands are
tried in turn; half is done first and measured, which narrows them. Where even the expected shape cannot be brought
inside, the best one is looked for, and a further line has to be worth its while.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

from axlewright.housing.lines import Line
from axlewright.solid.mesh import Floats, Ints
from axlewright.straightness.axis import AxisFit
from axlewright.straightness.correct.aims import Aim
from axlewright.straightness.fit.figures import BAND

BANDS = (BAND, 1.0, 0.5, 0.0)
"""Standard deviations to either side for which limits are to be kept, tried in turn."""

SENSIBLE = 12
"""Lines beyond which a narrower band is taken instead [1]: half of them, a measurement and a new plan tell more than
many more lines laid on a guess; a judgement."""

WORTH = 0.03
"""A further line has to bring the worst figure nearer by this share of its limit [1]; a judgement."""

ROOM = 1e-6
"""A limit exceeded by no more than this share of it is kept [1]."""

NODES = 4000
"""Most branches the solver looks at; a count, not a time, so that every machine gives the same answer."""

NEARLY = 0.05
"""Of sets of as many lines, one is taken whose worst figure is within this share of the best one's [1]."""


@dataclass(frozen=True)
class Question:
    """What is to be brought inside which limits by what.

    Args:
        axis: the shape as measured.
        aims: the limits.
        effects: what each line does to the parameters, shape (lines, 11).
        spread: standard deviation of the logarithm of the factor all lines share [1].
        apart: pairs of lines of which at most one may be laid, shape (n, 2).
    """

    axis: AxisFit
    aims: tuple[Aim, ...]
    effects: Floats
    spread: float
    apart: Ints


def choose(question: Question) -> Ints:
    """Numbers of the lines to lay; none where nothing has to be or can be gained."""
    if not len(question.effects):
        return np.array([], dtype=np.int64)
    for band in BANDS:
        reach = float(np.exp(band * question.spread))
        programme = _Programme(question, tuple({1.0 / reach, reach}), band)
        fewest = programme.fewest(SENSIBLE if band else len(question.effects))
        if fewest is not None:
            better = programme.best(len(fewest), 0.0, 1.0 + ROOM)
            return fewest if better is None else better
    best = _Programme(question, (1.0,), 0.0).best(len(question.effects), WORTH)
    return np.array([], dtype=np.int64) if best is None else best


def neighbours(lines: tuple[Line, ...], apart: float, radius: float) -> Ints:
    """Pairs of lines side by side at one place along the axle that lie nearer than `apart` [m], shape (n, 2)."""
    found = [
        (one, other)
        for one in range(len(lines))
        for other in range(one + 1, len(lines))
        if abs(lines[one].start - lines[other].start) < 1e-6
        and _aside(lines[one].angle - lines[other].angle, radius) < apart
    ]
    return np.array(found, dtype=np.int64).reshape(-1, 2)


def _aside(angle: float, radius: float) -> float:
    """Distance straight across between two lines an angle apart [m]."""
    return float(2.0 * radius * abs(np.sin(angle / 2.0)))


class _Programme:
    """Limits as rows over columns: one for each line, then the worst share, then low and high edge of each zone.

    Args:
        question: what is to be brought inside.
        factors: what all lines may pull, over what is expected, each of which keeps the limits [1].
        band: standard deviations by which the measured shape may be off to either side.
    """

    def __init__(self, question: Question, factors: tuple[float, ...], band: float) -> None:
        self.count = len(question.effects)
        zones = sum(aim.zone for aim in question.aims) * len(factors)
        self.width = self.count + 1 + 2 * zones
        self.rows, self.tops = _limits(question, factors, band, self.width)

    def fewest(self, most: int) -> Ints | None:
        """The fewest lines that keep all limits, None where no set of so many at most does.

        Their number alone is the cost: the solver then knows that it is whole, and leaves most branches out.
        """
        cost = np.zeros(self.width)
        cost[: self.count] = 1.0
        return self._solved(cost, 1.0 + ROOM, most, {})

    def best(self, most: int, worth: float, share: float = np.inf) -> Ints | None:
        """No more than so many lines that leave the worst figure least; each has to be worth its while.

        Args:
            most: lines at most.
            worth: what each has to bring the worst figure nearer by, as a share of its limit [1].
            share: highest share of its limit any figure may take [1]: nearly the best may not mean outside.
        """
        cost = np.zeros(self.width)
        cost[: self.count], cost[self.count] = worth, 1.0
        return self._solved(cost, share, most, {"mip_rel_gap": NEARLY})

    def _solved(self, cost: Floats, share: float, most: int, options: dict[str, float]) -> Ints | None:
        lower, upper = np.full(self.width, -np.inf), np.full(self.width, np.inf)
        lower[: self.count + 1], upper[: self.count], upper[self.count] = 0.0, 1.0, share
        lines = np.zeros(self.width)
        lines[: self.count] = 1.0
        limits = LinearConstraint(np.vstack([self.rows, lines]), ub=np.append(self.tops, most))
        answer = milp(
            cost,
            integrality=lines,
            bounds=Bounds(lower, upper),
            constraints=limits,
            options={"node_limit": NODES, **options},
        )
        return None if answer.x is None else np.flatnonzero(answer.x[: self.count] > 0.5)


def _limits(question: Question, factors: tuple[float, ...], band: float, width: int) -> tuple[Floats, Floats]:
    """Rows and their highest values: every limit at every factor, and lines that would lie too near each other.

    Everything is told in shares of its limit, so that the solver's tolerance means the same to all rows.
    """
    count, zone, blocks, tops = len(question.effects), len(question.effects) + 1, [], []
    for aim in question.aims:
        values, spreads = (read / aim.limit for read in question.axis.read(aim.rows))
        for factor in factors:
            lines = factor * question.effects @ aim.rows.T / aim.limit
            block, top = _zone(aim, width, count, zone) if aim.zone else _each(aim, width, count)
            block[: len(values), :count] += lines.T
            block[len(values) : 2 * len(values), :count] -= lines.T
            top[: len(values)] += -values - band * spreads
            top[len(values) : 2 * len(values)] += values - band * spreads
            zone += 2 * aim.zone
            blocks.append(block)
            tops.append(top)
    pairs = np.zeros((len(question.apart), width))
    pairs[np.arange(len(pairs))[:, None], question.apart] = 1.0
    return np.concatenate([*blocks, pairs]), np.concatenate([*tops, np.ones(len(pairs))])


def _each(aim: Aim, width: int, share: int) -> tuple[Floats, Floats]:
    """Rows that hold each reading within limit times share of what is wanted, above and below."""
    rows = len(aim.rows)
    block = np.zeros((2 * rows, width))
    block[:, share] = -1.0
    return block, np.repeat([aim.wanted / aim.limit, -aim.wanted / aim.limit], rows)


def _zone(aim: Aim, width: int, share: int, first: int) -> tuple[Floats, Floats]:
    """Rows that hold all readings, and nought, in a zone no wider than limit times share."""
    rows = len(aim.rows)
    block = np.zeros((2 * rows + 3, width))
    lowest, highest = first, first + 1
    block[:rows, highest] = -1.0
    block[rows : 2 * rows, lowest] = 1.0
    block[2 * rows, [lowest, highest, share]] = -1.0, 1.0, -1.0
    block[2 * rows + 1, highest] = -1.0
    block[2 * rows + 2, lowest] = 1.0
    return block, np.zeros(2 * rows + 3)
