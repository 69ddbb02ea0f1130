"""One function for each thing a user asks for; screens and the command line call only these."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

from platformdirs import user_cache_path
from threadpoolctl import threadpool_limits

from axlewright.distortion.model import build_model
from axlewright.errors import Fault, OutputError
from axlewright.job.demo_jobs import demo_names, demo_text
from axlewright.job.reading import read_job
from axlewright.job.schema import Job
from axlewright.plan.bench import on_the_bench
from axlewright.plan.common_practice import common_practice
from axlewright.plan.ours import our_plan
from axlewright.plan.plan_file import plan_file
from axlewright.plan.report import PlanReport
from axlewright.plan.reporting import plan_report
from axlewright.sheets.drawings import save_drawings
from axlewright.sheets.output import write_whole
from axlewright.sheets.work_sheet import PAPERS, write_work_sheet

__all__ = ["cache_folder", "demo_names", "demo_text", "plan_job", "plan_text", "read_job", "write_plan"]

Say = Callable[[str], None]
"""Told the stage of the work, for people who wait."""


def cache_folder() -> Path:
    """Where built models are kept: AXLEWRIGHT_CACHE if set, else the user's own cache folder."""
    chosen = os.environ.get("AXLEWRIGHT_CACHE")
    return Path(chosen) if chosen else user_cache_path("axlewright")


def plan_job(job: Job, cache: Path | None = None, say: Say = lambda stage: None) -> PlanReport:
    """Plan a job: our order of work, and common practice on the same housing beside it.

    Args:
        job: the job, as `read_job` gives it.
        cache: folder of built models, or None to build afresh.
        say: told the stage of the work.

    Raises:
        GeometryError: the dimensions do not make a body.
    """
    # Our matrices are small: a second BLAS thread gains little on a free machine and, waiting in a loop, costs
    # up to ten times the whole run on a busy one (docs/decisions/0004).
    with threadpool_limits(limits=1, user_api="blas"):
        bench = on_the_bench(job, build_model(job, cache, say))
        say("walking common practice")
        common = bench.try_plan(common_practice(bench.model.assembly, job.bench))
        ours = our_plan(bench, common, lambda done, of: say(f"looking for a better order ({done} of {of})"))
        say("working out how sure this is")
        return plan_report(job, bench, ours, common)


def plan_text(report: PlanReport) -> str:
    """The report as plan.json."""
    return plan_file(report).model_dump_json(indent=2) + "\n"


def write_plan(report: PlanReport, folder: Path, say: Say = lambda stage: None) -> tuple[Path, ...]:
    """Write plan.json, the drawings and the work sheet on both papers.

    Raises:
        OutputError: the folder cannot be made or written to.
    """
    say("writing plan.json")
    path = folder / "plan.json"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        write_whole(path, plan_text(report).encode())
    except OSError as error:
        allowed = f"must be a folder that can be written to ({error.strerror or error})"
        remedy = "Name another folder with --out, or make room and allow writing there"
        raise OutputError(Fault("output folder", repr(str(folder)), allowed, remedy)) from error
    say("drawing")
    written = [path, *save_drawings(report, folder)]
    for paper in PAPERS:
        say(f"printing the work sheet ({paper})")
        sheet = folder / f"work-sheet-{paper}.pdf"
        write_work_sheet(report, sheet, paper)
        written.append(sheet)
    return tuple(written)
