"""Counter-beads or heat lines that bring a housing back: which, where, in what order, and what to expect."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np

from axlewright.housing.assembly import Assembly, assemble_job
from axlewright.housing.lines import Line, LineKind
from axlewright.job.schema import Job
from axlewright.plan.timeline import Step
from axlewright.shop.factors import NAMES, ShopFactors, without_results
from axlewright.shop.telling import what_was_learned
from axlewright.solid.mesh import Floats
from axlewright.straightness.axis import AxisFit
from axlewright.straightness.correct.aims import aims_of, worst_share
from axlewright.straightness.correct.candidates import APART, candidates
from axlewright.straightness.correct.choosing import Question, choose, neighbours
from axlewright.straightness.correct.effects import effects_of
from axlewright.straightness.correct.heating import Heating, heating
from axlewright.straightness.correct.line_order import Ordered, ordered, reachable
from axlewright.straightness.correct.report import LinesPlan, PlannedLine, Way
from axlewright.straightness.correct.sides import side_in_words
from axlewright.straightness.correct.stages import Forecast, first_half, outcomes

Say = Callable[[str], None]

KINDS: dict[Way, LineKind] = {"counter-beads": "counter-bead", "heat lines": "heat line"}

NO_PLACE = (
    "There is no bare place on the tubes that keeps clear of everything welded on, seats and seals, and can be reached "
    "at the turns the job allows."
)
ONE_LINE = "One line is all there is, so there is no half to begin with: lay it, let it cool, measure."
NO_NEED = "Every figure is expected inside its limit already; a line would gain less than it costs."
NO_HELP = "No line on the places left brings the worst figure nearer by enough to be worth its notch."
NOT_THE_TORCH = (
    "No results stand behind the bands of heat lines: what a shop learns of its beads says nothing of its "
    "torch."
)
FALLS_SHORT = (
    "These lines do not bring every figure inside its limit by themselves; they go as far as the bare places "
    "allow."
)


def lines_plan(
    job: Job,
    axis: AxisFit,
    way: Way,
    cache: Path | None = None,
    say: Say = lambda stage: None,
    earlier: tuple[Line, ...] = (),
    shop: ShopFactors | None = None,
) -> LinesPlan:
    """The fewest lines of one way that bring a measured shape inside the job's limits.

    Args:
        job: the job.
        axis: the shape as measured.
        way: counter-beads or heat lines.
        cache: folder of built models, or None to build afresh.
        say: told the stage of the work.
        earlier: lines of earlier corrections, which are kept clear of.
        shop: what the shop's own results say of how strongly its beads pull.

    Raises:
        GeometryError: the dimensions do not make a body.
    """
    say("meshing the housing")
    assembly = assemble_job(job)
    bare = candidates(job, assembly.seams, KINDS[way], job.welder.bead_length, earlier)
    places = reachable(job, assembly, bare)
    try:
        heat = heating(job, way)
    except ValueError as error:
        return _without(way, (), f"No usual torch does here: {error}.", len(places))
    if not places:
        return _without(way, heat.words, NO_PLACE, 0)
    table = effects_of(job, assembly, places, cache, say)
    heat, tendon, across = _by_shop(heat, way, shop or without_results())
    effects = table.of(heat.settings.heat_input, tendon, across)
    say(f"choosing {way}")
    radius = min(tube.outside_diameter for tube in (job.housing.left_tube, job.housing.right_tube)) / 2.0
    aims = aims_of(job, axis)
    chosen = choose(Question(axis, aims, effects, heat.spread, neighbours(places, APART, radius)))
    if not len(chosen):
        inside = worst_share(aims, axis.values[None])[0] <= 1.0
        return _without(way, heat.words, NO_NEED if inside else NO_HELP, len(places))
    say("putting them in order")
    return _planned(job, assembly, axis, way, heat, [places[n] for n in chosen], effects[chosen], len(places))


def _by_shop(heat: Heating, way: Way, shop: ShopFactors) -> tuple[Heating, float, float]:
    """Beads as the shop's own pull; heat lines are another trade, of which its beads tell nothing."""
    if way != "counter-beads":
        return replace(heat, words=(*heat.words, NOT_THE_TORCH)), 1.0, 1.0
    heat = replace(heat, words=(*heat.words, what_was_learned(shop)))
    if not shop.learned:
        return heat, 1.0, 1.0
    middle, spread = shop.middle, dict(zip(NAMES, shop.spread, strict=True))
    return (
        replace(heat, spread=float(np.hypot(spread["tendon"], spread["heat"]))),
        middle["tendon"] * middle["heat"],
        middle["across"] * middle["heat"],
    )


def _without(way: Way, words: tuple[str, ...], remedy: str, looked_at: int) -> LinesPlan:
    """A plan of no lines, and why."""
    return LinesPlan(way, (), (), 0.0, 0.0, words, remedy, None, looked_at)


def _planned(
    job: Job,
    assembly: Assembly,
    axis: AxisFit,
    way: Way,
    heat: Heating,
    lines: list[Line],
    effects: Floats,
    looked_at: int,
) -> LinesPlan:
    first = first_half(effects)
    stages = (first, np.setdiff1d(np.arange(len(lines)), first))
    named = tuple(replace(line, name=f"{line.kind} {n}") for n, line in enumerate(lines, start=1))
    order = ordered(job, assembly, named, stages, heat.settings)
    view, aims = Forecast(axis, effects, heat.spread), aims_of(job, axis)
    expected = view.after(np.arange(len(lines)))
    short = worst_share(aims, expected.values[None])[0] > 1.0
    return LinesPlan(
        way=way,
        lines=_in_order(job, named, order),
        outcomes=outcomes(job, view, first),
        inside=view.inside(aims),
        bench_time=sum(stage.end - float(stage.starts[0]) for stage in order.stages),
        heat=heat.words if len(lines) > 1 else (ONE_LINE, *heat.words),
        remedy=FALLS_SHORT if short else "",
        seat_c=order.seat_c,
        candidates=looked_at,
    )


def _in_order(job: Job, lines: tuple[Line, ...], order: Ordered) -> tuple[PlannedLine, ...]:
    found: list[PlannedLine] = []
    for stage, line in enumerate(order.stages, start=1):
        for step, start, arc, spot in zip(line.steps, line.starts, line.arcs, line.spots, strict=True):
            number = len(found) + 1
            when = (start - line.starts[0], arc, spot)
            found.append(_placed(job, lines[step.bead], step, number, stage, when))
    return tuple(found)


def _placed(
    job: Job, line: Line, step: Step, number: int, stage: int, when: tuple[float, float, float]
) -> PlannedLine:
    """A line in its place in the order; times count from the first arc of its stage."""
    ends = [job.distance_at(x) for x in (line.start, line.end)]
    begin, end = ends[::-1] if step.reverse else ends
    clock = line.angle * 6.0 / math.pi % 12.0 or 12.0
    tube = "left" if line.start > job.housing.centre.offset else "right"
    start, seconds, spot = when
    return PlannedLine(
        number=number,
        name=f"{line.kind} {number}",
        tube=tube,
        clock=clock,
        side=side_in_words(clock),
        start=begin,
        end=end,
        turn=step.turn,
        wait=step.wait,
        begins=float(start),
        seconds=float(seconds),
        spot_c=job.ambient.temperature + float(spot),
        stage=stage,
    )


def laid_lines(job: Job, plan: LinesPlan) -> tuple[Line, ...]:
    """The lines of a plan where they were laid, to keep clear of later."""
    kind = KINDS[plan.way]
    return tuple(
        Line(
            kind,
            job.x_at(min(line.start, line.end)),
            job.x_at(max(line.start, line.end)),
            line.clock * math.pi / 6.0,
            line.name,
        )
        for line in plan.lines
    )
