"""Speed of the draws behind the bands. Run: .venv/bin/python -m pytest benchmarks --benchmark-enable -s"""

from __future__ import annotations

import time
from functools import partial

import pytest
from reference.benches import bench_for
from reference.jobs import demo

from axlewright.distortion.model import build_model
from axlewright.heat.varied import HeatFactors
from axlewright.plan.common_practice import common_practice
from axlewright.plan.sampling import sample_plans, usual_samples

LIMIT_S = {"truss-only": 30.0, "rescue-truck": 20.0}


@pytest.mark.parametrize("name", LIMIT_S)
def test_draws(benchmark, name: str) -> None:
    """Two plans walked with as many draws as is usual for the model: 200 on the 36-bead demo."""
    bench = bench_for(demo(name))
    steps = common_practice(bench.model.assembly, bench.job.bench)
    count = usual_samples(bench)
    plans = [(bench, steps), (bench, steps[::-1])]
    benchmark.pedantic(partial(sample_plans, plans, count), rounds=1, iterations=1)
    took = benchmark.stats["min"]
    print(f"\n{name}: {count} draws of two plans in {took:.1f} s (limit {LIMIT_S[name]:.0f} s)")
    assert took < LIMIT_S[name]


@pytest.mark.parametrize("name", LIMIT_S)
def test_another_heat_flow(benchmark, name: str) -> None:
    """Another heat flow from the modes alone, and what building the model again would cost."""
    job = demo(name)
    model = bench_for(job).model
    benchmark.pedantic(model.varied, args=(HeatFactors(loss=1.2, seam=0.5),), rounds=5, iterations=1)
    began = time.perf_counter()
    build_model(job)
    again = time.perf_counter() - began
    took = benchmark.stats["median"]
    print(
        f"\n{name}: other heat flow in {1e3 * took:.0f} ms, built again in {again:.1f} s: {again / took:.0f} to 1"
    )
