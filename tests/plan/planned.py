"""Jobs planned once for all tests of this folder."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

from reference.benches import bench_for
from reference.jobs import demo, plain_tube, strip

from axlewright import tasks
from axlewright.housing.seam import Seam
from axlewright.job.schema import Job
from axlewright.plan.bench import OnTheBench, Trial
from axlewright.plan.common_practice import common_practice
from axlewright.plan.ours import Ours, our_plan
from axlewright.plan.report import PlanReport
from axlewright.plan.reporting import Origin, plan_report
from axlewright.plan.search.search import Search

SAMPLES = 16
"""Draws of uncertain inputs in reports whose bands do not matter much."""

TWO_BRACKETS = strip("upper", at=300, length=100) + strip("lower", at=650, clock=6, length=100)


def small_job(extra: str = "") -> Job:
    """A tube with two short brackets: eight beads, a model in half a second."""
    return plain_tube(TWO_BRACKETS + extra)


def changed(job: Job, part: str, **values: object) -> Job:
    """The job with some values of one of its tables changed."""
    return job.model_copy(update={part: getattr(job, part).model_copy(update=values)})


@cache
def _common(text: str) -> Trial:
    bench = bench_for(Job.model_validate_json(text))
    return bench.try_plan(common_practice(bench.model.assembly, bench.job.bench))


def common_for(job: Job) -> Trial:
    """Common practice tried on a job."""
    return _common(job.model_dump_json())


QUICK = Search(plans=150, seconds=600.0)
"""A search for tests that do not ask how good the best plan is."""


@cache
def _ours(text: str, search: Search) -> Ours:
    job = Job.model_validate_json(text)
    return our_plan(bench_for(job), common_for(job), search)


def searched(job: Job, search: Search = QUICK) -> Ours:
    """Our plan of a job, with what it was chosen from."""
    return _ours(job.model_dump_json(), search)


def ours_for(job: Job) -> Trial:
    """Our plan tried on a job."""
    return searched(job).trial


@cache
def _report(text: str) -> PlanReport:
    job = Job.model_validate_json(text)
    ours = searched(job)
    origin = Origin(ours.trade_off, ours.why)
    return plan_report(job, ours.bench, ours.trial, common_for(job), SAMPLES, origin=origin)


def report_for(job: Job) -> PlanReport:
    """The report of a job's plan."""
    return _report(job.model_dump_json())


@cache
def common_report(name: str) -> PlanReport:
    """A demo's report with common practice in place of our plan, which spares the search."""
    job = demo(name)
    return plan_report(job, bench_for(job), common_for(job), common_for(job), SAMPLES)


def plan_json(report: PlanReport) -> dict[str, Any]:
    """plan.json as a reader sees it."""
    return json.loads(tasks.plan_text(report))


def seams_in_order(bench: OnTheBench, trial: Trial) -> list[Seam]:
    """The seam of each bead in the order of a plan."""
    assembly = bench.model.assembly
    return [assembly.seams[assembly.beads[step.bead].seam] for step in trial.timeline.steps]
