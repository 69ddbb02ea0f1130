"""Writing a job back as TOML, in the job's own unit."""

from __future__ import annotations

from typing import Any

import tomlkit

from axlewright.job.schema import Job
from axlewright.job.settings import USUAL_STEP


def write_job(job: Job) -> str:
    """Text of a job file that reads back as the same job; bare numbers in the job's own unit."""
    tree = job.model_dump(by_alias=True, exclude_none=True, context={"inch": job.inch})
    if "bead_length" not in job.welder.model_fields_set and job.welder.bead_length == USUAL_STEP[job.inch]:
        # The usual bead may be longer than a short seam; a stated one may not.
        del tree["welder"]["bead_length"]
    return tomlkit.dumps(_without_empty_lists(tree))


def _without_empty_lists(tree: dict[str, Any]) -> dict[str, Any]:
    """Plain TOML values, values before tables; empty lists and texts say nothing and are left out."""
    plain = {key: _plain(value) for key, value in tree.items() if value not in ((), [], "")}
    return dict(sorted(plain.items(), key=lambda item: _is_table(item[1])))


def _plain(value: Any) -> Any:
    if isinstance(value, dict):
        return _without_empty_lists(value)
    return [_plain(entry) for entry in value] if isinstance(value, list | tuple) else value


def _is_table(value: Any) -> bool:
    return isinstance(value, dict) or (isinstance(value, list) and bool(value) and isinstance(value[0], dict))
