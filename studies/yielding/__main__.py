"""Run the study: `python -m studies.yielding [job ...]` from the project's root."""

from __future__ import annotations

import csv
import sys
import time
from dataclasses import astuple
from pathlib import Path

import numpy as np

from axlewright.distortion.model import build_model
from axlewright.job.demo_jobs import demo_text
from axlewright.job.reading import parse_job
from axlewright.plan.bench import OnTheBench, on_the_bench
from axlewright.plan.common_practice import common_practice
from studies.yielding.figures import HEADINGS, Figures, elastic_figures, yielding_figures
from studies.yielding.compare import MAIN
from studies.yielding.laid_out import Yielding
from studies.yielding.plans import plans

JOBS = ("truss-only", "rescue-truck", "cast-centre")

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
    chosen = plans(bench, common)
    rows = [elastic_figures(bench, name, plan) for plan in chosen]
    for walk, rule in WALKS.items():
        rows += [yielding_figures(bench, name, walk, rule, plan) for plan in chosen]
        print(f"{name}: {walk}, {len(chosen)} plans, {time.perf_counter() - began:.0f} s", file=sys.stderr)
    return rows


def save(rows: list[Figures], path: Path) -> None:
    """Write results, four figures each."""
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(HEADINGS)
        for row in rows:
            writer.writerow([f"{value:.4g}" if isinstance(value, float) else value for value in astuple(row)])


if __name__ == "__main__":
    for name in sys.argv[1:] or JOBS:
        save(walked(name), HERE / f"{name}.csv")
