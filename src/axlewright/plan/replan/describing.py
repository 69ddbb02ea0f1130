"""From where things stand and the way on to the report of a replan."""

from __future__ import annotations

import numpy as np

from axlewright.errors import Fault
from axlewright.plan.bead_words import clock_position, hand_of_travel
from axlewright.plan.how_sure import as_shape
from axlewright.plan.pieces import PlannedBead
from axlewright.plan.replan.ahead import Remaining
from axlewright.plan.replan.coverage import LEAST, Span
from axlewright.plan.replan.intent import Intent
from axlewright.plan.replan.outcome import Learned, NamedBead, Reading, ReplanReport, Way
from axlewright.plan.replan.readings import Checked
from axlewright.plan.replan.standing import Met, Standing
from axlewright.plan.replan.thermometer import EFFICIENCY, LOSS
from axlewright.plan.replan.whole import locked_so_far
from axlewright.plan.sampling import shape_figures
from axlewright.plan.timeline import Timeline

AT_LEAST_A_TENTH = 1e-3
"""Excess over limits that rounding may show where there is none [1]."""


def replan_report(
    intent: Intent,
    standing: Standing,
    remaining: Remaining,
    faults: tuple[Fault, ...],
    clock_zero: float | None = None,
) -> ReplanReport:
    """Everything a user gets from replanning.

    Args:
        intent: what was planned.
        standing: where things stand.
        remaining: the way on.
        faults: what was wrong with the log's text; those of its contents are in `standing`.
        clock_zero: the clock at the first arc, seconds from midnight, where the log has the clock [s].
    """
    job, names = intent.bench.job, intent.names
    locked = locked_so_far(intent.bench, standing)
    return ReplanReport(
        job_name=job.job.name,
        job_reference=job.job.reference,
        inch=job.inch,
        seams=names.lines,
        now_s=standing.now,
        clock_zero=clock_zero,
        ambient_c=standing.ambient,
        turn_deg=standing.turn,
        laid=tuple(_laid(intent, number, met) for number, met in enumerate(standing.met)),
        burning="" if standing.burning is None else names.tags[standing.burning],
        skipped=tuple(names.tags[bead] for bead in sorted(standing.skipped)),
        tacks_out=tuple(f"T{tack + 1}" for tack in sorted(standing.tacks_out)),
        readings=tuple(_reading(intent, checked) for checked in standing.readings),
        heat=_learned(standing, EFFICIENCY, intent.bench.inputs.heat),
        loss=_learned(standing, LOSS, intent.bench.inputs.flow.loss),
        shape_now=None if locked is None else as_shape(shape_figures(locked.shape)),
        way=_way(intent, standing, remaining),
        faults=tuple(str(fault) for fault in (*faults, *standing.faults)),
    )


def _way(intent: Intent, standing: Standing, remaining: Remaining) -> Way:
    line, trial, ambient = remaining.line, remaining.trial, standing.ambient
    warmer = ambient - intent.bench.job.ambient.temperature
    left = set(standing.left)
    planned = [step.bead for step in intent.steps if step.bead in left]
    now = [step.bead for step in remaining.steps]
    return Way(
        beads=() if line is None else _ahead(intent, standing, line),
        next_in_s=None if line is None else float(line.starts[0]) - standing.now,
        end_s=None if line is None else line.end,
        planned_end_s=intent.plan.timeline.end,
        kept=remaining.kept,
        moved=sum(a != b for a, b in zip(planned, now, strict=False)),
        hottest_spot_c=None if line is None else ambient + float(line.spots.max()),
        limit_c=ambient + intent.goal.hottest - warmer,
        keeps_limits=remaining.excess <= AT_LEAST_A_TENTH,
        shape=None if trial is None else as_shape(shape_figures(trial.shape)),
        worst_tack=None if trial is None else trial.worst_tack,
    )


def _ahead(intent: Intent, standing: Standing, line: Timeline) -> tuple[NamedBead, ...]:
    beads = []
    for number, step in enumerate(line.steps):
        low, high = standing.coverage.rest_of(step.bead)
        piece = intent.bench.model.assembly.beads[step.bead]
        planned = _bead(
            intent,
            len(standing.met) + number + 1,
            step.bead,
            (high, low) if step.reverse else (low, high),
            wait=step.wait,
            start=float(line.starts[number]),
            arc=float(line.arcs[number]),
            spot=standing.ambient + float(line.spots[number]),
            heat=standing.heated.heat_input * (high - low),
            turn=step.turn,
        )
        beads.append(NamedBead(planned, high - low < piece.length - 2 * LEAST))
    return tuple(beads)


def _laid(intent: Intent, number: int, met: Met) -> NamedBead:
    arc = met.arc
    piece = intent.bench.model.assembly.beads[arc.bead]
    length = float(arc.lengths.sum())
    laid = _bead(
        intent,
        number + 1,
        arc.bead,
        arc.span,
        wait=0.0,
        start=arc.start,
        arc=arc.end - arc.start,
        spot=met.spot_c,
        heat=met.heat * intent.bench.heated.heat_input * length,
        turn=met.turn,
    )
    return NamedBead(laid, abs(length - piece.length) > 2 * LEAST)


def _bead(
    intent: Intent,
    number: int,
    bead: int,
    span: Span,
    *,
    wait: float,
    start: float,
    arc: float,
    spot: float,
    heat: float,
    turn: float,
) -> PlannedBead:
    names, (begin, end) = intent.names, span
    piece = names.assembly.beads[bead]
    seam = names.assembly.seams[piece.seam]
    return PlannedBead(
        number=number,
        tag=names.tags[bead],
        attachment=seam.attachment,
        seam=seam.name,
        from_s=begin,
        to_s=end,
        from_x=names.distance_of(piece.seam, begin),
        to_x=names.distance_of(piece.seam, end),
        from_clock=clock_position(seam, begin),
        to_clock=clock_position(seam, end),
        direction=hand_of_travel(seam, begin, end),
        start_s=start,
        arc_s=arc,
        wait_s=wait,
        spot_c=spot,
        heat_j=heat,
        turn_deg=turn,
    )


def _reading(intent: Intent, checked: Checked) -> Reading:
    return Reading(
        checked.time,
        _place(intent, checked),
        checked.read_c,
        checked.expected_c,
        checked.used,
        checked.doubt,
    )


def _place(intent: Intent, checked: Checked) -> str:
    if checked.place is not None:
        return intent.names.places[checked.place]
    assert checked.stretch is not None
    return intent.names.where(intent.names.assembly.stretches[checked.stretch].bead)


def _learned(standing: Standing, factor: int, known: float) -> Learned:
    """A factor learned on this housing, times what the shop knew of it before."""
    middle, spread = standing.estimate.factors[factor], standing.estimate.factor_spread(factor)
    low, best, high = np.exp(middle + np.array([-2.0, 0.0, 2.0]) * spread)
    return Learned(known * float(best), known * float(low), known * float(high))
