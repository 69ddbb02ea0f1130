"""Run the study: `python -m studies.yielding [job ...]` from the project's root."""

from __future__ import annotations

import sys
import time
from pathlib import Path

import numpy as np

from axlewright.distortion.model import build_model
from axlewright.job.demo_jobs import demo_text
from axlewright.job.reading import parse_job
from axlewright.plan.bench import OnTheBench, on_the_bench
from axlewright.plan.common_practice import common_practice
from studies.yielding.compare import ELASTIC, MAIN
from studies.yielding.figures import Figures, elastic_figures, yielding_figures
from studies.yielding.laid_out import Yielding
from studies.yielding.picture import draw
from studies.yielding.plans import COMMON, OURS, plans
from studies.yielding.results import JOBS, save, summarise

HERE = Path(__file__).parent

WALKS = {
    MAIN: Yielding(),
    "strength x0.7": Yielding(0.7),
    "strength x1.3": Yielding(1.3),
    "tacks only": Yielding(tacks_only=True),
    "more moments": Yielding(after=(5.0, 15.0, 60.0, 300.0)),
    "sets late, no yielding": Yielding(np.inf),
    "sets when the arc stops": Yielding(soft=0.0),
    "sets when the arc stops, strength x0.7": Yielding(0.7, soft=0.0),
    "sets when the arc stops, no yielding": Yielding(np.inf, soft=0.0),
    "there from the start of the arc": Yielding(soft=None),
}
"""Ways of walking, by the name the results give them; all besides the package's own elastic walk."""


def bench_of(name: str) -> OnTheBench:
    """A demo job on the bench."""
    job = parse_job(demo_text(name), name)
    return on_the_bench(job, build_model(job))


def walked(name: str) -> list[Figures]:
    """All plans of a job walked all ways."""
    bench, began = bench_of(name), time.perf_counter()
    common = bench.try_plan(common_practice(bench.model.assembly, bench.job.bench))
    chosen, stronger = plans(bench, common)
    rows = [elastic_figures(bench, name, ELASTIC, plan) for plan in chosen]
    for walk, rule in WALKS.items():
        rows += [yielding_figures(bench, name, walk, rule, plan) for plan in chosen]
        print(f"{name}: {walk}, {len(chosen)} plans, {time.perf_counter() - began:.0f} s", file=sys.stderr)
    if stronger is not bench:
        for plan in [plan for plan in chosen if plan.name in (COMMON, OURS)]:
            rows.append(elastic_figures(stronger, name, f"{ELASTIC}, stronger tacks", plan))
            rows.append(yielding_figures(stronger, name, f"{MAIN}, stronger tacks", WALKS[MAIN], plan))
    return rows


if __name__ == "__main__":
    for name in sys.argv[1:] or JOBS:
        save(walked(name), HERE / f"{name}.csv")
    summarise(HERE)
    draw(HERE, HERE.parents[1] / "docs" / "theory" / "yielding.png")
