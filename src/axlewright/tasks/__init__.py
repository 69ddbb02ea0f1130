"""One function for each thing a user asks for; screens and the command line call only these."""

from __future__ import annotations

from typing import TYPE_CHECKING

from axlewright.on_demand import on_demand

if TYPE_CHECKING:
    from axlewright.job.demo_jobs import demo_names, demo_readings, demo_text
    from axlewright.job.reading import read_job
    from axlewright.job.schema import Job
    from axlewright.plan.search.search import Search
    from axlewright.shop.shop_file import Shop, read_shop, reset_shop, shop_path
    from axlewright.straightness.correct.report import Way
    from axlewright.straightness.files import correction_text, straightness_text
    from axlewright.tasks.checking import Checked, check_straightness
    from axlewright.tasks.learning import (
        Housing,
        forget,
        learn_job,
        learn_trial,
        merge_shop,
        plan_scrap_trial,
        shop_factors,
        shop_text,
        write_trial,
    )
    from axlewright.tasks.places import cache_folder
    from axlewright.tasks.planning import (
        plan_job,
        plan_text,
        replan_job,
        replan_text,
        write_plan,
        write_replan,
    )
    from axlewright.tasks.straightening import (
        Asked,
        correct,
        write_correction,
        write_form,
        write_straightness,
    )

__all__ = [
    "Asked",
    "Checked",
    "Housing",
    "Job",
    "Search",
    "Shop",
    "Way",
    "cache_folder",
    "check_straightness",
    "correct",
    "correction_text",
    "demo_names",
    "demo_readings",
    "demo_text",
    "forget",
    "learn_job",
    "learn_trial",
    "merge_shop",
    "plan_job",
    "plan_scrap_trial",
    "plan_text",
    "read_job",
    "read_shop",
    "replan_job",
    "replan_text",
    "reset_shop",
    "shop_factors",
    "shop_path",
    "shop_text",
    "straightness_text",
    "write_correction",
    "write_form",
    "write_plan",
    "write_replan",
    "write_straightness",
    "write_trial",
]

__getattr__ = on_demand(
    __name__,
    {
        "axlewright.job.demo_jobs": (
            "demo_names",
            "demo_readings",
            "demo_text",
        ),
        "axlewright.job.reading": ("read_job",),
        "axlewright.job.schema": ("Job",),
        "axlewright.plan.search.search": ("Search",),
        "axlewright.shop.shop_file": (
            "Shop",
            "read_shop",
            "reset_shop",
            "shop_path",
        ),
        "axlewright.straightness.correct.report": ("Way",),
        "axlewright.straightness.files": (
            "correction_text",
            "straightness_text",
        ),
        "axlewright.tasks.checking": (
            "Checked",
            "check_straightness",
        ),
        "axlewright.tasks.learning": (
            "Housing",
            "forget",
            "learn_job",
            "learn_trial",
            "merge_shop",
            "plan_scrap_trial",
            "shop_factors",
            "shop_text",
            "write_trial",
        ),
        "axlewright.tasks.places": ("cache_folder",),
        "axlewright.tasks.planning": (
            "plan_job",
            "plan_text",
            "replan_job",
            "replan_text",
            "write_plan",
            "write_replan",
        ),
        "axlewright.tasks.straightening": (
            "Asked",
            "correct",
            "write_correction",
            "write_form",
            "write_straightness",
        ),
    },
)
