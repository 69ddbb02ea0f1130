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
    from axlewright.tasks.archives import (
        archive_name,
        find_job,
        job_list,
        make_backup,
        opened_record,
        restore_backup,
        take_in_file,
        write_archive_file,
    )
    from axlewright.tasks.checking import Checked, check_straightness
    from axlewright.tasks.describing import described_job, refused
    from axlewright.tasks.describing_text import (
        demo_titles,
        has_comments,
        tables_of,
        uploaded_job_text,
        written_anew,
        written_over,
    )
    from axlewright.tasks.following import follower_of
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
    from axlewright.tasks.long_work import do_work
    from axlewright.tasks.photographs import add_photograph
    from axlewright.tasks.places import cache_folder, data_folder
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
    "add_photograph",
    "archive_name",
    "cache_folder",
    "check_straightness",
    "correct",
    "correction_text",
    "data_folder",
    "demo_names",
    "demo_readings",
    "demo_text",
    "demo_titles",
    "described_job",
    "do_work",
    "find_job",
    "follower_of",
    "forget",
    "has_comments",
    "job_list",
    "learn_job",
    "learn_trial",
    "make_backup",
    "merge_shop",
    "opened_record",
    "plan_job",
    "plan_scrap_trial",
    "plan_text",
    "read_job",
    "read_shop",
    "refused",
    "replan_job",
    "replan_text",
    "reset_shop",
    "restore_backup",
    "shop_factors",
    "shop_path",
    "shop_text",
    "straightness_text",
    "tables_of",
    "take_in_file",
    "uploaded_job_text",
    "write_archive_file",
    "write_correction",
    "write_form",
    "write_plan",
    "write_replan",
    "write_straightness",
    "write_trial",
    "written_anew",
    "written_over",
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
        "axlewright.tasks.archives": (
            "archive_name",
            "find_job",
            "job_list",
            "make_backup",
            "opened_record",
            "restore_backup",
            "take_in_file",
            "write_archive_file",
        ),
        "axlewright.tasks.checking": (
            "Checked",
            "check_straightness",
        ),
        "axlewright.tasks.describing": ("described_job", "refused"),
        "axlewright.tasks.describing_text": (
            "demo_titles",
            "has_comments",
            "tables_of",
            "uploaded_job_text",
            "written_anew",
            "written_over",
        ),
        "axlewright.tasks.following": ("follower_of",),
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
        "axlewright.tasks.long_work": ("do_work",),
        "axlewright.tasks.photographs": ("add_photograph",),
        "axlewright.tasks.places": ("cache_folder", "data_folder"),
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
