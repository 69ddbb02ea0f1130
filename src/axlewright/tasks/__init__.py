"""One function for each thing a user asks for; screens and the command line call only these."""

from __future__ import annotations

from axlewright.job.demo_jobs import demo_names, demo_text
from axlewright.job.reading import read_job
from axlewright.plan.search.search import SECONDS as SEARCH_SECONDS
from axlewright.plan.search.search import Search
from axlewright.tasks.places import cache_folder
from axlewright.tasks.planning import plan_job, plan_text, replan_job, replan_text, write_plan, write_replan

__all__ = [
    "SEARCH_SECONDS",
    "Search",
    "cache_folder",
    "demo_names",
    "demo_text",
    "plan_job",
    "plan_text",
    "read_job",
    "replan_job",
    "replan_text",
    "write_plan",
    "write_replan",
]
