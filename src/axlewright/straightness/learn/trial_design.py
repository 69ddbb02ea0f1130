"""Which trial tells most about the shop in the least time at the bench.

The four factors are taken as log-normal with the covariance known before, P. A layout's readings have sensitivities J
and errors V; of the trial's own factors (P^-1 + J^T V^-1 J)^-1 is left, of the shop's what the scatter from job to job
lets through. Chosen is the layout with the most information on the shop's factors, 1/2 log2 (det before / det after),
per minute of the whole trial (a D-optimal design; docs/theory/trial.md).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axlewright.errors import Fault, ShopFileError
from axlewright.job.settings import Welder
from axlewright.shop.factors import JOB_SCATTER, NAMES, ShopFactors, without_results
from axlewright.solid.mesh import Floats
from axlewright.straightness.learn.trial import READING_ERROR, TrialTube, Way
from axlewright.straightness.learn.trial_layouts import COUNTS, LaidOut, Layout, Layouts, Spotted, layouts_for
from axlewright.straightness.learn.trial_plan import (
    CAUTIONS,
    Expected,
    FactorOutlook,
    LookedAt,
    PlannedBead,
    PlannedSpot,
    PlannedTemperature,
    TrialPlan,
)
from axlewright.straightness.learn.trial_remarks import remarks
from axlewright.straightness.learn.trial_response import (
    Response,
    expected_posterior,
    information,
    of_the_shop,
    posterior_covariance,
)
from axlewright.straightness.learn.trial_warmth import Arc, Taken, Warmth
from axlewright.weld.arc import arc_efficiency
from axlewright.weld.shrinkage import tendon_force
from axlewright.weld.steel import steel

SET_UP = 300.0
"""Marking out, supports, dial, earth clamp: before the first arc [s]; judgement."""

BETWEEN = 60.0
"""From a reading to the next arc: write it down, brush, helmet [s]; judgement."""

HALF_HOUR = 1800.0
"""The whole trial stays within this where it can [s]."""

LONGEST_WAIT = 1500.0
"""Cooling is not followed further [s]."""

ON_THE_WATCH = 30.0
"""Bends are read at whole half minutes of the stopwatch, temperatures at whole quarter minutes [s]."""

FEWEST = 3
"""With two beads no reading checks another, and a slip of the pen would go unseen."""

MEASURABLE = 3.0
"""A bead must bend the tube by so many times the error of a reading [1]."""

SCHEDULES = ((45.0, 90.0, 180.0), (60.0, 120.0, 240.0))
"""When the spot is read after the first arc stops [s]; it is read with every bend as well."""


@dataclass(frozen=True)
class _Tried:
    """A layout in time with what it tells."""

    layout: Layout
    arcs: tuple[Arc, ...]
    waits: tuple[float, ...]
    spot: Spotted
    taken: Taken
    response: Response
    bits: float

    @property
    def minutes(self) -> float:
        return (SET_UP + self.taken.bends[-1]) / 60.0

    @property
    def worth(self) -> float:
        """Information by minute [bit/min]."""
        return self.bits / self.minutes

    @property
    def rounds(self) -> int:
        return sum(bead.at is not None for bead in self.layout.beads)


def plan_trial(
    tube: TrialTube,
    welder: Welder,
    way: Way = "dial",
    inch: bool = False,
    counts: tuple[int, ...] = COUNTS,
    rounds: bool = True,
    shop: ShopFactors | None = None,
) -> TrialPlan:
    """Plan a trial for the tube at hand.

    Args:
        tube: the scrap tube on its supports.
        welder: the welder's settings to be tried.
        way: how the bend is read.
        inch: whether marks are to be round numbers of inches.
        counts: numbers of beads to look at.
        rounds: whether beads may run round the tube, which tells shrinkage across.
        shop: what is known of the shop before; left out: nothing.

    Raises:
        ShopFileError: the tube is too short for any layout, or too thick to cool.
    """
    known = (without_results() if shop is None else shop).covariance
    offered = layouts_for(tube, inch, counts, rounds)
    bench = _Bench(offered, tube, welder, READING_ERROR[way], known)
    tried = [found for layout in offered.layouts if (found := bench.tried(layout)) is not None]
    if not tried:
        allowed = f"warmth bends this tube for more than {LONGEST_WAIT / 60.0:.0f} minutes after a bead"
        raise ShopFileError(
            Fault("Scrap tube", "", allowed, "Take a tube of less diameter or a thinner wall.")
        )
    return _plan(tube, welder, way, inch, known, _best(tried, READING_ERROR[way]), tried)


def _best(tried: list[_Tried], error: float) -> _Tried:
    """The most information by minute among layouts that are measurable and short, or as near to that as there is."""
    checked = [one for one in tried if len(one.arcs) >= FEWEST] or tried
    plain = [one for one in checked if _smallest_step(one.response) >= MEASURABLE * error]
    short = [one for one in plain or checked if 60.0 * one.minutes <= HALF_HOUR]
    if plain and short:
        return max(short, key=lambda one: one.worth)
    if short:
        return max(short, key=lambda one: _smallest_step(one.response))
    return min(plain or checked, key=lambda one: one.minutes)


def _smallest_step(response: Response) -> float:
    """Least bow that one bead adds [m]."""
    return float(np.abs(response.along + response.across)[response.bends][-1].min())


class _Bench:
    """The tube ready to have layouts tried on it."""

    def __init__(
        self, offered: Layouts, tube: TrialTube, welder: Welder, error: float, known: Floats
    ) -> None:
        self.warmth = Warmth(offered.model, tube.wall)
        self.welder, self.error, self.known = welder, error, known
        self.power = (welder.efficiency or arc_efficiency(welder.process)) * welder.volts * welder.amps

    def tried(self, layout: Layout) -> _Tried | None:
        """A layout in time with its best spot and schedule; None where it does not cool in time."""
        arcs, waits = self._in_time(layout.beads)
        if len(waits) < len(layout.beads):
            return None
        bends = tuple(arc.end + wait for arc, wait in zip(arcs, waits, strict=True))
        options = []
        for spot in layout.spots:
            for schedule in SCHEDULES:
                wanted = (_next(arcs[0].end + after, ON_THE_WATCH / 2.0) for after in schedule)
                first = tuple(time for time in wanted if time < bends[0] - ON_THE_WATCH)
                taken = Taken(bends, (*first, *bends), spot.number, self.error)
                response = self.warmth.response(arcs, taken)
                options.append((self._bits(response), spot, taken, response))
        bits, spot, taken, response = max(options, key=lambda option: option[0])
        return _Tried(layout, arcs, waits, spot, taken, response, bits)

    def _bits(self, response: Response) -> float:
        logs = np.zeros(len(NAMES))
        left = posterior_covariance(self.known, response.sensitivities(logs), response.covariance(logs))
        return information(*of_the_shop(self.known, left))

    def _in_time(self, beads: tuple[LaidOut, ...]) -> tuple[tuple[Arc, ...], tuple[float, ...]]:
        """Arcs one after another with the waits between; fewer waits than arcs if one never ends."""
        arcs: tuple[Arc, ...] = ()
        waits: tuple[float, ...] = ()
        start = 0.0
        for bead in beads:
            seconds = bead.length / self.welder.travel_speed
            arcs = (*arcs, Arc(bead.stretches, start, seconds, self.power, bead.length))
            wait = self._wait(arcs)
            if wait is None:
                break
            waits, start = (*waits, wait), arcs[-1].end + wait + BETWEEN
        return arcs, waits

    def _wait(self, arcs: tuple[Arc, ...]) -> float | None:
        """How long until the bow by heat alone stays below the error of a reading, to a whole half minute [s]."""
        times = _next(arcs[-1].end, ON_THE_WATCH) + np.arange(0.0, LONGEST_WAIT, ON_THE_WATCH)
        uneven = np.abs(self.warmth.heat_bend(arcs, times)) > self.error
        last = int(np.flatnonzero(uneven).max(initial=-1)) + 1
        return float(times[last] - arcs[-1].end) if last < len(times) else None


def _next(time: float, step: float) -> float:
    """The next whole step of the stopwatch [s]."""
    return float(np.ceil(time / step) * step)


def _plan(
    tube: TrialTube,
    welder: Welder,
    way: Way,
    inch: bool,
    known: Floats,
    best: _Tried,
    tried: list[_Tried],
) -> TrialPlan:
    logs = np.zeros(len(NAMES))
    rows, errors = best.response.sensitivities(logs), best.response.covariance(logs)
    left = expected_posterior(best.response, known)
    following = of_the_shop(known, left)[1] + np.diag(JOB_SCATTER**2)
    spread = (np.sqrt(np.diag(covariance)).tolist() for covariance in (known, left, following))
    outlook = tuple(map(FactorOutlook, NAMES, *spread))
    spreads = np.sqrt(np.diag(rows @ known @ rows.T + errors))
    shown = [Expected.about(*pair) for pair in zip(best.response.predicted(logs), spreads, strict=True)]
    count = len(best.arcs)
    step = _smallest_step(best.response) / READING_ERROR[way]
    return TrialPlan(
        inch=inch,
        tube=tube,
        welder=welder,
        way=way,
        reading_error=READING_ERROR[way],
        beads=_beads(best, shown),
        spot=_spot(best),
        temperatures=tuple(
            PlannedTemperature(
                time, Expected(*(tube.air + edge for edge in (rise.low, rise.middle, rise.high)))
            )
            for time, rise in zip(best.taken.temperatures, shown[count:], strict=True)
        ),
        set_up=SET_UP,
        factors=outlook,
        bits=best.bits,
        looked_at=_looked_at(tried),
        layouts=len(tried),
        remarks=remarks(outlook, best.rounds, step, best.minutes, way, _stress(tube, best.arcs[0])),
        cautions=CAUTIONS,
    )


def _stress(tube: TrialTube, arc: Arc) -> float:
    """Compression of the skin beside a bead along the tube over yield stress, F (1/A + e^2/I) / fy [1]."""
    radius, bore = tube.outside_diameter / 2.0, tube.outside_diameter / 2.0 - tube.wall
    area, moment = np.pi * (radius**2 - bore**2), np.pi / 4.0 * (radius**4 - bore**4)
    force = tendon_force(arc.power * arc.seconds / arc.length)
    return float(force * (1.0 / area + radius**2 / moment) / steel(tube.steel).yield_strength)


def _beads(best: _Tried, shown: list[Expected]) -> tuple[PlannedBead, ...]:
    warm = best.response.warm[:, :, best.response.warm.shape[2] // 2].sum(axis=1)
    return tuple(
        PlannedBead(n + 1, bead.at, bead.start, bead.end, arc.start, arc.seconds, wait, bend, float(left))
        for n, (bead, arc, wait, bend, left) in enumerate(
            zip(best.layout.beads, best.arcs, best.waits, shown, warm, strict=False)
        )
    )


def _spot(best: _Tried) -> PlannedSpot:
    (at, around), first = best.spot.place, best.layout.beads[0]
    away = around if best.spot.beside else min(abs(at - first.start), abs(at - first.end))
    return PlannedSpot(at, around, best.spot.beside, away)


def _looked_at(tried: list[_Tried]) -> tuple[LookedAt, ...]:
    """The best layout of each number of beads."""
    counts = sorted({len(one.arcs) for one in tried})
    best = [max((one for one in tried if len(one.arcs) == n), key=lambda one: one.worth) for n in counts]
    return tuple(LookedAt(len(one.arcs), one.rounds, one.minutes, one.bits) for one in best)
