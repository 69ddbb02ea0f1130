"""Small jobs of any shape give plans that hold together."""

from __future__ import annotations

import jsonschema
import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from reference.jobs import plain_tube, strip

from axlewright import tasks
from axlewright.job.schema import Job
from axlewright.plan.plan_file import plan_file, plan_schema


@st.composite
def small_jobs(draw: st.DrawFn) -> Job:
    """A tube of some size with two short brackets somewhere on it, some limits and habits."""
    brackets = [
        strip(
            name,
            at=draw(st.integers(low, low + 120)),
            clock=draw(st.sampled_from([12, 1.5, 3, 6, 8, 9])),
            length=draw(st.integers(30, 150)),
        )
        for name, low in (("one", 260), ("two", 560))
    ]
    limit = draw(st.sampled_from(["", "[limits]\nspot = 45\n", "[limits]\nspot = 120\n"]))
    habits = f"[bench]\nbeads_between_cool_downs = {draw(st.integers(1, 6))}\n"
    diameter = draw(st.integers(82, 110))
    return plain_tube("".join(brackets) + limit + habits, diameter=diameter, wall=draw(st.integers(6, 12)))


# Each example builds a model, which takes half a second.
@settings(max_examples=8)
@given(small_jobs())
def test_any_small_job_gets_a_valid_plan(job: Job) -> None:
    """Finite numbers that fit the schema, every bead once, ours quicker than common practice or as quick."""
    report = tasks.plan_job(job, None)
    jsonschema.validate(plan_file(report).model_dump(mode="json"), plan_schema())
    laid = [
        sorted((b.attachment, b.seam, *sorted((b.from_s, b.to_s))) for b in plan.beads)
        for plan in (report.ours, report.common_practice)
    ]
    assert laid[0] == laid[1]
    assert len(set(laid[0])) == len(laid[0])
    figures = [report.ours.totals.bench_s, report.ours.prediction.shape.bow_vertical]
    assert np.all(np.isfinite(figures + [bead.spot_c for bead in report.ours.beads]))
    if job.limits.spot is not None:
        assert report.ours.totals.hottest_spot_c <= job.limits.spot + 0.1
    else:
        assert report.ours.totals.bench_s <= report.common_practice.totals.bench_s
