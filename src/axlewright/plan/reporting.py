"""From a tried plan to the report that screens, files and sheets are made from."""

from __future__ import annotations

import numpy as np

from axlewright.distortion.model import Model
from axlewright.housing.seam import Bead, Seam
from axlewright.job.schema import Job
from axlewright.plan.band import Benches, as_shape, band, figures, varied_benches
from axlewright.plan.bench import OnTheBench, Trial
from axlewright.plan.cautions import LEFT_OUT, cautions
from axlewright.plan.report import (
    AxisLine,
    ModelSize,
    Plan,
    PlannedBead,
    PlannedTack,
    PlanReport,
    Prediction,
    SeamLine,
    Totals,
    WelderNotes,
)
from axlewright.plan.settings import WeldSettings
from axlewright.plan.traces import traces
from axlewright.weld.arc import process_name
from axlewright.weld.cooling import cooling_time

DIRECTIONS = (("to the right", "to the left"), ("rearward", "forward"), ("down", "up"))
"""Words for the hand of travel along x, y and z, backward and forward."""


def plan_report(job: Job, bench: OnTheBench, ours: Trial, common: Trial) -> PlanReport:
    """Everything a user gets from planning a job."""
    benches = varied_benches(bench)
    return PlanReport(
        job_name=job.job.name,
        job_reference=job.job.reference,
        inch=job.units == "inch",
        length=job.housing.length,
        model=_size(bench.model),
        welder=_welder(job, bench.settings),
        seams=tuple(_seam_line(job, seam) for seam in bench.model.assembly.seams),
        ours=_plan("our plan", job, bench, benches, ours),
        common_practice=_plan("common practice", job, bench, benches, common),
        cautions=cautions(job, bench, ours),
        left_out=LEFT_OUT,
    )


def _plan(name: str, job: Job, bench: OnTheBench, benches: Benches, trial: Trial) -> Plan:
    beads = _beads(job, bench, trial)
    return Plan(
        name,
        _tacks(job, bench),
        beads,
        _totals(job, bench, trial),
        _prediction(job, benches, trial),
        traces(bench, trial),
    )


def _size(model: Model) -> ModelSize:
    nodes = len(model.assembly.mesh.nodes)
    return ModelSize(nodes, 3 * nodes, len(model.modes.rate), model.build_s, model.from_cache)


def _welder(job: Job, settings: WeldSettings) -> WelderNotes:
    welder = job.welder
    wall = min(job.housing.left_tube.wall, job.housing.right_tube.wall)
    cooling = float(cooling_time(settings.heat_input, wall, job.ambient.temperature, "tee fillet"))
    name = f"{welder.process} {process_name(welder.process)}"
    return WelderNotes(
        name,
        welder.volts,
        welder.amps,
        welder.travel_speed,
        settings.efficiency,
        settings.heat_input,
        settings.throat,
        settings.leg,
        cooling,
    )


def _seam_line(job: Job, seam: Seam) -> SeamLine:
    distance = job.housing.length / 2 - seam.path[:, 0]
    return SeamLine(
        seam.attachment, seam.name, seam.length, seam.arc, distance, seam.clock, seam.openings, seam.closed
    )


def _tacks(job: Job, bench: OnTheBench) -> tuple[PlannedTack, ...]:
    assembly, stage = bench.model.assembly, bench.tacks
    heat = bench.settings.heat_input * job.welder.tack_length
    tacks = []
    for number, stretch_number in enumerate(stage.stretches):
        stretch = assembly.stretches[stretch_number]
        seam = assembly.seams[stretch.seam]
        rise = float(bench.model.modes.spot[stretch_number] @ stage.states[:, number])
        tacks.append(
            PlannedTack(
                number + 1,
                seam.attachment,
                seam.name,
                stretch.middle,
                _distance(job, seam, stretch.middle),
                _clock(seam, stretch.middle),
                float(stage.starts[number]),
                0.0,
                job.ambient.temperature + rise,
                heat,
                job.welder.tack_length,
            )
        )
    return tuple(tacks)


def _beads(job: Job, bench: OnTheBench, trial: Trial) -> tuple[PlannedBead, ...]:
    line = trial.timeline
    return tuple(
        _bead(
            job,
            bench,
            number,
            bead,
            step.reverse,
            step.wait,
            float(line.starts[number]),
            float(line.arcs[number]),
            float(line.spots[number]),
        )
        for number, step in enumerate(line.steps)
        for bead in [bench.model.assembly.beads[step.bead]]
    )


def _bead(
    job: Job,
    bench: OnTheBench,
    number: int,
    bead: Bead,
    reverse: bool,
    wait: float,
    start: float,
    arc: float,
    rise: float,
) -> PlannedBead:
    seam = bench.model.assembly.seams[bead.seam]
    begin, end = (bead.end, bead.start) if reverse else (bead.start, bead.end)
    return PlannedBead(
        number=number + 1,
        attachment=seam.attachment,
        seam=seam.name,
        from_s=begin,
        to_s=end,
        from_x=_distance(job, seam, begin),
        to_x=_distance(job, seam, end),
        from_clock=_clock(seam, begin),
        to_clock=_clock(seam, end),
        direction=_direction(seam, begin, end),
        start_s=start,
        arc_s=arc,
        wait_s=wait,
        spot_c=job.ambient.temperature + rise,
        heat_j=bench.settings.heat_input * bead.length,
    )


def _distance(job: Job, seam: Seam, s: float) -> float:
    """Distance from the left flange of a place on a seam [m]."""
    return float(job.housing.length / 2 - seam.at(seam.path, np.array(s))[0])


def _clock(seam: Seam, s: float) -> float | None:
    """Clock position of a place on a seam, above 0 and up to 12."""
    if seam.clock is None:
        return None
    return float(seam.at(seam.clock, np.array(s))) % 12.0 or 12.0


def _direction(seam: Seam, begin: float, end: float) -> str:
    if seam.clock is not None:
        return "clockwise" if end > begin else "anticlockwise"
    travel = seam.at(seam.path, np.array(end)) - seam.at(seam.path, np.array(begin))
    # Along the axle wins unless it hardly counts: a bead up the centre's flank still goes to the left or right.
    axis = int(np.argmax(np.abs(travel) * np.array([3.0, 1.0, 1.0])))
    return DIRECTIONS[axis][int(travel[axis] > 0)]


def _totals(job: Job, bench: OnTheBench, trial: Trial) -> Totals:
    ambient, line = job.ambient.temperature, trial.timeline
    tack_arcs = len(bench.tacks.stretches) * job.welder.tack_length / bench.settings.travel_speed
    seals = bool(job.housing.seals)
    return Totals(
        bench_s=line.end,
        arc_s=float(line.arcs.sum()) + tack_arcs,
        wait_s=float(sum(step.wait for step in line.steps)),
        hottest_spot_c=ambient + trial.hottest,
        ambient_c=ambient,
        tack_utilisation=trial.worst_tack,
        bearing_seat_c=ambient + bench.warmest(trial, "bearing seat"),
        seal_c=ambient + bench.warmest(trial, "seal") if seals else None,
        turns=line.turns,
        turn_s=line.turns * job.bench.turn_time,
    )


def _prediction(job: Job, benches: Benches, trial: Trial) -> Prediction:
    middle = figures(trial.shape)
    low, high = band(benches, trial.timeline.steps, middle)
    shape = trial.shape
    axis = AxisLine(job.housing.length / 2 - shape.stations, shape.vertical, shape.fore_aft)
    return Prediction(as_shape(middle), low, high, axis)
