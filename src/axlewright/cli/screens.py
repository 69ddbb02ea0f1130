"""What the terminal shows of each answer."""

from __future__ import annotations

from typing import TYPE_CHECKING

from axlewright.on_demand import on_demand

if TYPE_CHECKING:
    from axlewright.cli.correct import show_correction
    from axlewright.cli.jobs import show_jobs
    from axlewright.cli.learn import show_shop
    from axlewright.cli.replan import show_faults, show_replan
    from axlewright.cli.show import show_plan
    from axlewright.cli.straightness import show_straightness
    from axlewright.cli.trial import show_trial

__all__ = [
    "show_correction",
    "show_faults",
    "show_jobs",
    "show_plan",
    "show_replan",
    "show_shop",
    "show_straightness",
    "show_trial",
]

__getattr__ = on_demand(
    __name__,
    {
        "axlewright.cli.correct": ("show_correction",),
        "axlewright.cli.jobs": ("show_jobs",),
        "axlewright.cli.learn": (
            "show_shop",
            "show_trial",
        ),
        "axlewright.cli.replan": (
            "show_faults",
            "show_replan",
        ),
        "axlewright.cli.show": ("show_plan",),
        "axlewright.cli.straightness": ("show_straightness",),
        "axlewright.cli.trial": ("show_trial",),
    },
)
