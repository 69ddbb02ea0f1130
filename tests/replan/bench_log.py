"""Intents, logs that follow a plan, and a log file's text, for the tests of this folder."""

from __future__ import annotations

from functools import cache

from plan.planned import changed, small_job
from reference.benches import bench_for
from reference.jobs import demo

from axlewright.job.schema import Job
from axlewright.plan.bounds import bounds, limits_of
from axlewright.plan.common_practice import common_practice
from axlewright.plan.coolest_first import Taste, coolest_first
from axlewright.plan.outlook import outlook
from axlewright.plan.replan.events import ArcStarted, ArcStopped, Event
from axlewright.plan.replan.intent import Intent
from axlewright.plan.replan.reading import BeadLog, parse_log

HEADER = "time,event,bead,attachment,seam,from,to,what,value,error,note\n"


def waiting_job() -> Job:
    """The small job with a limit on its spots that makes its plan wait."""
    return changed(small_job(), "limits", spot=75.0)


@cache
def _intent(text: str) -> Intent:
    """A job with the plan that one rule makes of it."""
    bench = bench_for(Job.model_validate_json(text))
    common = bench.try_plan(common_practice(bench.model.assembly, bench.job.bench))
    limits = limits_of(bench, bounds(bench, common))
    view = outlook(bench.model, bench.heated, bench.job.bench)
    taste = Taste(limits.spot, 15.0, 15.0, True, limits.watch)
    return Intent(bench, coolest_first(view, bench.job.bench, bench.tacks, taste).steps, common).ready()


def intent_for(job: Job) -> Intent:
    """A job on the bench with a plan; the same job twice gives the same intent."""
    return _intent(job.model_dump_json())


def demo_intent(name: str) -> Intent:
    """A demo on the bench with a plan."""
    return intent_for(demo(name))


def as_planned(intent: Intent, count: int) -> tuple[Event, ...]:
    """A log of the first beads, each started and stopped as planned."""
    line = intent.plan.timeline
    events: list[Event] = []
    for step, start, arc in list(zip(line.steps, line.starts, line.arcs, strict=True))[:count]:
        events.append(ArcStarted(time=float(start), bead=step.bead))
        events.append(ArcStopped(time=float(start + arc), bead=step.bead))
    return tuple(events)


def log_of(intent: Intent, *lines: str, header: str = HEADER) -> BeadLog:
    """The log of some lines."""
    job = intent.bench.job
    return parse_log(header + "\n".join(lines), "log.csv", intent.names, job.inch)


def faults_of(log: BeadLog) -> list[str]:
    """The messages of a log's faults."""
    return [str(fault) for fault in log.faults]


def tag(intent: Intent, place: int) -> str:
    """Name of the bead at a place of the plan."""
    return intent.names.tags[intent.steps[place].bead]
