"""From arcs in time to what readings show: the reduced model of the tube put to work."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from axlewright.distortion.springs import shrinkage
from axlewright.heat.state import arc_pass
from axlewright.heat.varied import HeatFactors
from axlewright.plan.spreads import SPREADS
from axlewright.solid.mesh import Floats
from axlewright.straightness.learn.trial_response import LOSSES, Response
from axlewright.straightness.learn.trial_tube import TubeModel

THERMOMETER_ERROR = 3.0
"""Standard deviation of one reading of an infrared thermometer [K]; common practice, 2 K or 2 % by makers' words."""

TIME_ERROR = 3.0
"""Standard deviation of the moment of a reading [s]: raise it, read it, call the number; judgement."""

ON_MARK, OFF_ALONG, OFF_ROUND = 0, 1, 2

MOST_KEPT = 200
"""How many tables of fading modes are kept."""

_HALF_BAND = 1.0 / np.sqrt(12.0)
"""Standard deviation of a share that may lie anywhere between 0 and 1."""


@dataclass(frozen=True)
class Arc:
    """A bead laid.

    Args:
        stretches: its stretches in the order of the arc's travel.
        start: when its arc starts [s].
        seconds: how long it burns [s].
        power: net power by the settings [W].
        length: of the bead [m].
    """

    stretches: tuple[int, ...]
    start: float
    seconds: float
    power: float
    length: float

    @property
    def end(self) -> float:
        """When its arc stops [s]."""
        return self.start + self.seconds


@dataclass(frozen=True)
class Taken:
    """Readings in time: when bends are read, and when a spot of the model is read by the thermometer [s].

    Args:
        bends: times of the bends.
        temperatures: times of the temperatures.
        spot: number of the spot.
        bend_error: standard deviation of a bend [m].
        temperature_error: the same of a temperature [K].
    """

    bends: tuple[float, ...]
    temperatures: tuple[float, ...]
    spot: int
    bend_error: float
    temperature_error: float = THERMOMETER_ERROR

    @property
    def names(self) -> tuple[str, ...]:
        """What each reading is called."""
        bends = tuple(f"bend {n}" for n in range(1, len(self.bends) + 1))
        return bends + tuple(f"temperature {n}" for n in range(1, len(self.temperatures) + 1))


class Warmth:
    """A tube's model as it is, at each of `LOSSES`, and with steel at either side of what is taken.

    Args:
        model: the model as built.
        wall: wall of the tube [m].
    """

    def __init__(self, model: TubeModel, wall: float) -> None:
        self.model, self.wall = model, wall
        self._gained: dict[tuple[int, tuple[int, ...], float, float], Floats] = {}
        self._left: dict[tuple[int, tuple[float, ...]], Floats] = {}

    @cached_property
    def by_loss(self) -> tuple[TubeModel, ...]:
        """The tube at each of `LOSSES`."""
        return tuple(self.model.varied(HeatFactors(loss=float(np.exp(loss)))) for loss in LOSSES)

    @cached_property
    def by_steel(self) -> tuple[TubeModel, ...]:
        """The tube with steel one standard deviation to either side; see `plan.spreads`."""
        steel = next(spread for spread in SPREADS if spread.name == "steel")
        found = steel.factors(0.5 + _HALF_BAND * np.array([-1.0, 1.0]))
        return tuple(
            self.model.varied(HeatFactors(**{name: float(values[side]) for name, values in found.items()}))
            for side in (0, 1)
        )

    def response(self, arcs: tuple[Arc, ...], taken: Taken) -> Response:
        """What readings show of arcs."""
        along, across = self._shrunk(arcs, taken)
        warm = np.stack([self._warm(k, arcs, taken, ON_MARK) for k in range(len(LOSSES))], axis=2)
        low, high = (self._warm(len(LOSSES) + k, arcs, taken, ON_MARK).sum(axis=1) for k in (0, 1))
        middle = int(np.argmin(np.abs(LOSSES)))
        here = warm[:, :, middle].sum(axis=1)
        off = [self._warm(middle, arcs, taken, row).sum(axis=1) - here for row in (OFF_ALONG, OFF_ROUND)]
        later = replace(
            taken,
            bends=tuple(t + TIME_ERROR for t in taken.bends),
            temperatures=tuple(t + TIME_ERROR for t in taken.temperatures),
        )
        moved = self._warm(middle, arcs, later, ON_MARK).sum(axis=1) - here
        bends = np.arange(len(here)) < len(taken.bends)
        error = np.where(bends, taken.bend_error, taken.temperature_error)
        place, steel = np.stack(off, axis=1), (high - low) / 2.0
        return Response(taken.names, along, across, warm, bends, error, moved, taken.bend_error, place, steel)

    def heat_bend(self, arcs: tuple[Arc, ...], times: Floats) -> Floats:
        """Bend by heat alone at times after the last arc, at factors 1, shape (n,) [m]."""
        taken = Taken(tuple(times.tolist()), (), 0, 0.0)
        return self._warm(int(np.argmin(np.abs(LOSSES))), arcs, taken, ON_MARK).sum(axis=1)

    def _shrunk(self, arcs: tuple[Arc, ...], taken: Taken) -> tuple[Floats, Floats]:
        """Bow by shrinkage along and across each bead at each reading, each shape (n, B) [m]."""
        effects = np.array([self._of_bead(arc) for arc in arcs])
        laid = np.array([[t >= arc.end for arc in arcs] for t in taken.bends]).reshape(-1, len(arcs))
        nothing = np.zeros((len(taken.temperatures), len(arcs)))
        along, across = (np.concatenate([laid * column, nothing]) for column in effects.T)
        return along, across

    def _of_bead(self, arc: Arc) -> tuple[float, float]:
        shrink = shrinkage(arc.power * arc.seconds / arc.length, np.array([self.wall]), np.ones(1))
        own = list(arc.stretches)
        along = shrink.tendon * float(self.model.pull_bend[own].sum())
        return along, float(shrink.across[0]) * float(self.model.across_bend[own].sum())

    def _warm(self, variant: int, arcs: tuple[Arc, ...], taken: Taken, row: int) -> Floats:
        """What the heat of each bead does to each reading in one variant of the tube, shape (n, B)."""
        model = (*self.by_loss, *self.by_steel)[variant] if variant >= len(LOSSES) else self.by_loss[variant]
        shown = []
        for arc in arcs:
            gained = self._gains(variant, model, arc)
            left = self._fading(
                variant, model, tuple(t - arc.end for t in (*taken.bends, *taken.temperatures))
            )
            count = len(taken.bends)
            bends = left[:count] @ (gained * model.heat_bend)
            spot = model.modes.watch[3 * taken.spot + row] if taken.temperatures else np.zeros(len(gained))
            shown.append(np.concatenate([bends, left[count:] @ (gained * spot)]))
        return np.stack(shown, axis=1)

    def _gains(self, variant: int, model: TubeModel, arc: Arc) -> Floats:
        """The state right after an arc over a cold tube, shape (m,) [K]."""
        key = (variant, arc.stretches, arc.power, arc.seconds)
        if key not in self._gained:
            own = np.array(arc.stretches)
            lengths = model.lengths[own]
            seconds = arc.seconds * lengths / lengths.sum()
            self._gained[key] = arc_pass(model.modes, own, arc.power, seconds).gained
        return self._gained[key]

    def _fading(self, variant: int, model: TubeModel, since: tuple[float, ...]) -> Floats:
        """Share of each mode left at times since an arc stopped, nought before that, shape (n, m).

        Layouts that differ only in where the thermometer reads ask for the same times again and again.
        """
        key = (variant, since)
        if key not in self._left:
            if len(self._left) >= MOST_KEPT:
                self._left.clear()
            times = np.array(since)
            left = np.exp(-np.outer(np.maximum(times, 0.0), model.modes.rate))
            self._left[key] = left * (times >= 0.0)[:, None]
        return self._left[key]
