"""Make the plans the tests of the plan page look at: `python tests/web/plan/make_plans.py`, some minutes.

They are kept because a search takes half a minute and the page only reads. `test_plan_data.py` fails when plan.json has
changed its form, which is when to make them again.
"""

from __future__ import annotations

import gzip
from pathlib import Path

from axlewright import tasks
from axlewright.job.reading import parse_job
from axlewright.job.writing import write_job

DATA = Path(__file__).parent / "data"
FIXTURE = """
[fixture]
prebend = "best"

[[fixture.support]]
at = 130

[[fixture.support]]
at = 650

[[fixture.support]]
at = 1170
"""


def job_texts() -> dict[str, str]:
    """A whole axle in mm with guard, seal and limits; and a truss in a fixture, in inches."""
    clamped = parse_job(tasks.demo_text("truss-only") + FIXTURE, "job.toml")
    return {
        "rescue-truck": tasks.demo_text("rescue-truck"),
        "clamped-inch": write_job(clamped.model_copy(update={"units": "inch"})),
    }


def main() -> None:
    """Write job files and plans."""
    DATA.mkdir(exist_ok=True)
    for name, text in job_texts().items():
        report = tasks.plan_job(parse_job(text, "job.toml"), tasks.cache_folder(), print)
        (DATA / f"{name}.toml").write_text(text, encoding="utf-8")
        packed = gzip.compress(tasks.plan_text(report).encode(), mtime=0)
        (DATA / f"{name}.plan.json.gz").write_bytes(packed)


if __name__ == "__main__":
    main()
