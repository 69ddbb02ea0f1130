"""The picture of a plan that can be turned and played."""

from __future__ import annotations

from pathlib import Path

from threadpoolctl import threadpool_limits

from axlewright.distortion.model import skin_of
from axlewright.plan.bench import OnTheBench, Trial
from axlewright.plan.moving_picture import moving_picture
from axlewright.plan.picture_file import picture_bytes
from axlewright.tasks.places import cache_folder

VIEW_FILE = "view.bin"
"""What the picture of a plan is called among the documents of its event."""

VIEW_TYPE = "application/gzip"


def plan_view(bench: OnTheBench, trial: Trial, cache: Path | None = None) -> bytes:
    """A plan as a moving picture for the page: gzip, as docs/view.md describes.

    Args:
        bench: the job on the bench, with the tacks of the plan.
        trial: the plan, tried on it.
        cache: folder of built models, where the skin is kept; left out, the usual one.
    """
    with threadpool_limits(limits=1, user_api="blas"):
        skin = skin_of(bench.unvaried, bench.job, cache or cache_folder())
        return picture_bytes(moving_picture(bench, trial, skin))
