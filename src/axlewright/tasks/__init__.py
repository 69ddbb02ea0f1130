"""One function for each thing a user asks for; screens and the command line call only these."""

from __future__ import annotations

from axlewright.job.demo_jobs import demo_names, demo_readings, demo_text
from axlewright.job.reading import read_job
from axlewright.job.schema import Job
from axlewright.plan.search.search import SECONDS as SEARCH_SECONDS
from axlewright.plan.search.search import Search
from axlewright.straightness.correct.report import WAYS, Way
from axlewright.straightness.files import correction_text, straightness_text
from axlewright.tasks.learning import shop_factors
from axlewright.tasks.places import cache_folder
from axlewright.tasks.planning import plan_job, plan_text, replan_job, replan_text, write_plan, write_replan
from axlewright.tasks.straightness import (
    Asked,
    Checked,
    check_straightness,
    correct,
    write_correction,
    write_form,
    write_straightness,
)

__all__ = [
    "SEARCH_SECONDS",
    "WAYS",
    "Asked",
    "Checked",
    "Job",
    "Search",
    "Way",
    "cache_folder",
    "check_straightness",
    "correct",
    "correction_text",
    "demo_names",
    "demo_readings",
    "demo_text",
    "plan_job",
    "plan_text",
    "read_job",
    "replan_job",
    "replan_text",
    "shop_factors",
    "straightness_text",
    "write_correction",
    "write_form",
    "write_plan",
    "write_replan",
    "write_straightness",
]
