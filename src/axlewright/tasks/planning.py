"""Planning a job, and planning again from where it stands."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from threadpoolctl import threadpool_limits

from axlewright.distortion.model import build_model
from axlewright.job.schema import Job
from axlewright.job.stretches import refuse_bare
from axlewright.plan.bench import OnTheBench, Trial, on_the_bench
from axlewright.plan.common_practice import common_practice
from axlewright.plan.fixture import settled
from axlewright.plan.learned import inputs_of
from axlewright.plan.ours import Ours, our_plan
from axlewright.plan.plan_file import plan_file
from axlewright.plan.replan.answer import replanned
from axlewright.plan.replan.begun import Begun, read_plan_json
from axlewright.plan.replan.outcome import ReplanReport
from axlewright.plan.replan.reading import read_log
from axlewright.plan.replan.replan_file import replan_file
from axlewright.plan.replan.replay import names_for
from axlewright.plan.report import PlanReport
from axlewright.plan.reporting import Origin, plan_report
from axlewright.plan.sampling import Say as Counting
from axlewright.plan.search.chains import RECOMMENDED, best
from axlewright.plan.search.search import USUAL, Search
from axlewright.plan.search.tries import Tries
from axlewright.sheets.drawings import save_drawings
from axlewright.sheets.work_sheet import PAPERS, write_work_sheet
from axlewright.shop.factors import ShopFactors
from axlewright.tasks.places import written
from axlewright.units import format_deflection, format_duration

Say = Callable[[str], None]
"""Told the stage of the work, for people who wait."""

LOOKING = "looking for a better order"
SURE = "working out how sure this is"
"""Stages that are counted."""


def plan_job(
    job: Job,
    cache: Path | None = None,
    say: Say = lambda stage: None,
    search: Search = USUAL,
    choose: int | None = None,
    shop: ShopFactors | None = None,
) -> PlanReport:
    """Plan a job: our order of work, and common practice on the same housing beside it.

    An interrupt from the keyboard during the search stops the search, and the best plan so far is taken.

    Args:
        job: the job, as `read_job` gives it.
        cache: folder of built models, or None to build afresh.
        say: told the stage of the work.
        search: how thorough to search.
        choose: number of the plan to take, as the trade-off shows it; left out, the recommended one.
        shop: what the shop's own results have taught; left out: nothing.

    Raises:
        GeometryError: the dimensions do not make a body, or nothing is welded on.
        JobFileError: a bead can be reached at none of the turns the job allows.
        OptionError: there is no plan of that number.
    """
    refuse_bare(job)
    # Our matrices are small: a second BLAS thread gains little on a free machine and, waiting in a loop, costs
    # up to ten times the whole run on a busy one (docs/decisions/0004).
    with threadpool_limits(limits=1, user_api="blas"):
        bench = put_on_bench(job, cache, say, shop)
        common = try_common(bench, say)
        ours = our_plan(bench, common, search, choose, lambda tries: say(_how_far(tries, job.inch)))
        say(SURE)
        return report_of(ours, common, shop, lambda done, of: say(f"{SURE} ({done} of {of})"))


def report_of(ours: Ours, common: Trial, shop: ShopFactors | None, say: Counting) -> PlanReport:
    """The report of a plan that was found.

    Args:
        ours: the plan.
        common: common practice, tried on the job's own tacks.
        shop: what the shop has learned, whose middle the bench has; left out: nothing.
        say: told how the drawing of uncertain inputs goes.
    """
    origin = Origin(ours.trade_off, ours.why)
    return plan_report(ours.bench.job, ours.bench, ours.trial, common, say=say, origin=origin, shop=shop)


def put_on_bench(job: Job, cache: Path | None, say: Say, shop: ShopFactors | None) -> OnTheBench:
    """The job on the bench, with what the shop has learned."""
    model = build_model(job, cache, say)
    return on_the_bench(job, model, inputs_of(shop) if shop is not None and shop.learned else None)


def try_common(bench: OnTheBench, say: Say) -> Trial:
    """Common practice, tried on the job's own tacks."""
    say("walking common practice")
    return bench.try_plan(common_practice(bench.model.assembly, bench.job.bench))


def _how_far(tries: Tries, inch: bool) -> str:
    """How far the search is, and the best plan so far."""
    return f"{LOOKING} ({tries.done} of {tries.plans}, best so far {so_far(tries, inch)})"


def so_far(tries: Tries, inch: bool) -> str:
    """Bench time and distortion of the best plan so far."""
    leading = best(tries, RECOMMENDED).counts
    return f"{format_duration(float(leading[0]))}, {format_deflection(float(leading[2]), inch)}"


def plan_text(report: PlanReport) -> str:
    """The report as plan.json."""
    return plan_file(report).model_dump_json(indent=2) + "\n"


def write_plan(report: PlanReport, folder: Path, say: Say = lambda stage: None) -> tuple[Path, ...]:
    """Write plan.json, the drawings and the work sheet on both papers.

    Raises:
        OutputError: the folder cannot be made or written to.
    """
    say("writing plan.json")
    path = written(folder, "plan.json", plan_text(report))
    say("drawing")
    done = [path, *save_drawings(report, folder)]
    for paper in PAPERS:
        say(f"printing the work sheet ({paper})")
        sheet = folder / f"work-sheet-{paper}.pdf"
        write_work_sheet(report, sheet, paper)
        done.append(sheet)
    return tuple(done)


def replan_job(
    job: Job,
    log: Path,
    plan: Path | None = None,
    at: str | None = None,
    cache: Path | None = None,
    say: Say = lambda stage: None,
    shop: ShopFactors | None = None,
) -> ReplanReport:
    """Where things stand after what a bead log tells, and the best way on. The log is only read.

    Args:
        job: the job, as `read_job` gives it.
        log: the bead log.
        plan: plan.json of the plan the job was begun with; left out, plans are looked for as `plan_job` does, and
            the recommended one is taken.
        at: the present, written as the log writes its times; left out, its last entry.
        cache: folder of built models, or None to build afresh.
        say: told the stage of the work.
        shop: what the shop's own results have taught; left out: nothing.

    Raises:
        GeometryError: the dimensions do not make a body, or nothing is welded on.
        JobFileError: a bead can be reached at none of the turns the job allows.
        LogError: nothing of the log can be used, or the plan is not of this job.
    """
    refuse_bare(job)
    with threadpool_limits(limits=1, user_api="blas"):
        bench = put_on_bench(job, cache, say, shop)
        # A log that is none is refused before the search; what it says is read again by the names of the plan.
        say("reading the log")
        read_log(log, names_for(bench, ()), job.inch)
        begun = None if plan is None else read_plan_json(bench, plan)
        common = try_common(bench, say)
        intent = (begun or _begun_anew(bench, common, say)).intent(common, shop)
        say("looking for the best way on")
        return replanned(intent, read_log(log, intent.names, job.inch), at)


def _begun_anew(bench: OnTheBench, common: Trial, say: Say) -> Begun:
    """The recommended plan, looked for again."""
    inch = bench.job.inch
    ours = our_plan(bench, common, say=lambda tries: say(_how_far(tries, inch)))
    return Begun(settled(ours.bench, ours.trial, common)[0], ours.trial.timeline.steps)


def replan_text(report: ReplanReport) -> str:
    """The report as replan.json."""
    return replan_file(report).model_dump_json(indent=2) + "\n"


def write_replan(report: ReplanReport, folder: Path) -> tuple[Path, ...]:
    """Write replan.json.

    Raises:
        OutputError: the folder cannot be made or written to.
    """
    return (written(folder, "replan.json", replan_text(report)),)
