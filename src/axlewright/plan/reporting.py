"""From a tried plan to the report that screens, files and sheets are made from."""

from __future__ import annotations

from dataclasses import dataclass

from axlewright.distortion.model import Model
from axlewright.job.schema import Job
from axlewright.plan.bead_words import clock_position, distance_from_flange, hand_of_travel, seam_line
from axlewright.plan.bench import OnTheBench, Trial
from axlewright.plan.cautions import LEFT_OUT, cautions
from axlewright.plan.fixture import fixture_cautions, fixture_report, settled
from axlewright.plan.how_sure import COMMON, OURS, Edges, as_shape, edges, how_sure, plan_bands
from axlewright.plan.learned import narrowest, spreads_of
from axlewright.plan.pieces import PlannedBead, PlannedTack
from axlewright.plan.positions import Positions, positions
from axlewright.plan.report import (
    AxisLine,
    ModelSize,
    Plan,
    PlanReport,
    Prediction,
    Totals,
    TradeOff,
    WelderNotes,
)
from axlewright.plan.sampling import Say, figures_of, sample_plans, usual_samples
from axlewright.plan.settings import WeldSettings
from axlewright.plan.tags import bead_tags
from axlewright.plan.timeline import Timeline
from axlewright.plan.traces import traces
from axlewright.shop.factors import ShopFactors
from axlewright.weld.arc import process_name
from axlewright.weld.cooling import cooling_time


@dataclass(frozen=True)
class Origin:
    """Where our plan comes from: the trade-off it was chosen from, and why each bead is next."""

    trade_off: TradeOff | None = None
    why: tuple[str, ...] = ()


def plan_report(
    job: Job,
    bench: OnTheBench,
    ours: Trial,
    common: Trial,
    samples: int | None = None,
    say: Say = lambda done, of: None,
    origin: Origin = Origin(),
    shop: ShopFactors | None = None,
) -> PlanReport:
    """Everything a user gets from planning a job.

    Args:
        job: the job.
        bench: the job on the bench, with the tacks of our plan.
        ours: our plan, tried on it.
        common: common practice, tried on the job's own tacks.
        samples: how often uncertain inputs are drawn; left out, as suits the size of the model.
        say: told how the drawing goes.
        origin: what our plan was chosen from, and why.
        shop: what the shop has learned, whose middle the bench has; left out: nothing.
    """
    bench, ours, common = settled(bench, ours, common)
    usual = bench.with_own_tacks()
    fixture = fixture_report(bench, ours)
    plans = [(bench, ours.timeline.steps), (usual, common.timeline.steps)]
    sampled = sample_plans(plans, samples or usual_samples(bench), spreads_of(shop), say=say, shop=shop)
    found = [
        edges(sampled, n, figures_of(on, trial), narrowest(shop))
        for n, on, trial in ((OURS, bench, ours), (COMMON, usual, common))
    ]
    return PlanReport(
        job_name=job.job.name,
        job_reference=job.job.reference,
        inch=job.units == "inch",
        length=job.housing.length,
        model=_size(bench.model),
        welder=_welder(job, bench.settings),
        seams=tuple(seam_line(seam, job.housing.length / 2) for seam in bench.model.assembly.seams),
        ours=_plan("our plan", job, bench, found[OURS], ours, origin.why),
        common_practice=_plan("common practice", job, usual, found[COMMON], common, ()),
        cautions=(*fixture_cautions(fixture, job.inch), *cautions(job, bench, ours)),
        left_out=LEFT_OUT if shop is None or not shop.jobs else LEFT_OUT[:-1],
        how_sure=how_sure(sampled, shop),
        fixture=fixture,
        trade_off=origin.trade_off,
    )


def _plan(name: str, job: Job, bench: OnTheBench, found: Edges, trial: Trial, why: tuple[str, ...]) -> Plan:
    beads = _beads(job, bench, trial, why)
    return Plan(
        name,
        _tacks(job, bench),
        beads,
        _totals(job, bench, trial),
        _prediction(job, bench, found, trial),
        traces(bench, trial),
        plan_bands(found, job.ambient.temperature, bool(job.housing.seals)),
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


def _tacks(job: Job, bench: OnTheBench) -> tuple[PlannedTack, ...]:
    assembly, stage = bench.model.assembly, bench.tacks
    tacks = []
    for number, (stretch_number, length) in enumerate(
        zip(stage.stretches, bench.tack_lengths.tolist(), strict=True)
    ):
        stretch = assembly.stretches[stretch_number]
        seam = assembly.seams[stretch.seam]
        rise = float(bench.model.modes.spot[stretch_number] @ stage.states[:, number])
        tacks.append(
            PlannedTack(
                number + 1,
                seam.attachment,
                seam.name,
                stretch.middle,
                distance_from_flange(seam, job.housing.length / 2, stretch.middle),
                clock_position(seam, stretch.middle),
                float(stage.starts[number]),
                0.0,
                job.ambient.temperature + rise,
                bench.settings.heat_input * length,
                length,
                length > job.welder.tack_length + 1e-9 or stretch_number in bench.extra_tacks,
            )
        )
    return tuple(tacks)


def _beads(job: Job, bench: OnTheBench, trial: Trial, why: tuple[str, ...]) -> tuple[PlannedBead, ...]:
    lies = positions(bench.model.assembly, job.bench.turns, job.bench.overhead)
    tags = bead_tags(bench.model.assembly)
    return tuple(
        _bead(job, bench, trial.timeline, number, lies, tags[step.bead], why[number] if why else "")
        for number, step in enumerate(trial.timeline.steps)
    )


def _bead(
    job: Job, bench: OnTheBench, line: Timeline, number: int, lies: Positions, tag: str, why: str
) -> PlannedBead:
    step, half = line.steps[number], job.housing.length / 2
    bead = bench.model.assembly.beads[step.bead]
    seam = bench.model.assembly.seams[bead.seam]
    begin, end = (bead.end, bead.start) if step.reverse else (bead.start, bead.end)
    return PlannedBead(
        number=number + 1,
        tag=tag,
        attachment=seam.attachment,
        seam=seam.name,
        from_s=begin,
        to_s=end,
        from_x=distance_from_flange(seam, half, begin),
        to_x=distance_from_flange(seam, half, end),
        from_clock=clock_position(seam, begin),
        to_clock=clock_position(seam, end),
        direction=hand_of_travel(seam, begin, end),
        start_s=float(line.starts[number]),
        arc_s=float(line.arcs[number]),
        wait_s=step.wait,
        spot_c=job.ambient.temperature + float(line.spots[number]),
        heat_j=bench.settings.heat_input * bead.length,
        turn_deg=step.turn,
        position=str(lies.names[step.bead, lies.turns.index(step.turn)]),
        why=why,
    )


def _totals(job: Job, bench: OnTheBench, trial: Trial) -> Totals:
    ambient, line = job.ambient.temperature, trial.timeline
    tack_arcs = float(bench.tack_lengths.sum()) / bench.settings.travel_speed
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
        distortion=bench.distortion(trial),
    )


def _prediction(job: Job, bench: OnTheBench, found: Edges, trial: Trial) -> Prediction:
    shape = trial.shape
    axis = AxisLine(job.housing.length / 2 - shape.stations, shape.vertical, shape.fore_aft)
    low, middle, high = (as_shape(row) for row in (found.low, found.middle, found.high))
    return Prediction(as_shape(figures_of(bench, trial)), low, high, axis, middle)
