"""Speed of the main job on the demos. Run: .venv/bin/python -m pytest benchmarks --benchmark-enable -s"""

from __future__ import annotations

import subprocess
import sys
import time

import numpy as np
import pytest
from reference.benches import bench_for
from reference.full_order import full_order_for
from reference.jobs import demo

from axlewright.distortion.model import build_model
from axlewright.distortion.springs import fillet_stiffness
from axlewright.plan.common_practice import common_practice
from axlewright.plan.ours import our_plan
from axlewright.weld.steel import steel

BUILD_LIMIT_S = {"truss-only": 6.0, "rescue-truck": 15.0}
WALK_LIMIT_S = {"truss-only": 0.003, "rescue-truck": 0.015}
SEARCH_LIMIT_S = 20.0

PEAK = """
import sys
from pathlib import Path
from axlewright import tasks
job = tasks.read_job(Path(sys.argv[1]))
report = tasks.plan_job(job)
tasks.write_plan(report, Path(sys.argv[2]))
peak = next(line for line in open("/proc/self/status", encoding="utf-8") if line.startswith("VmHWM"))
print(int(peak.split()[1]) / 1e6)
"""


@pytest.mark.parametrize("name", BUILD_LIMIT_S)
def test_build(benchmark, name: str) -> None:
    """Building a model afresh."""
    job = demo(name)
    benchmark.pedantic(build_model, args=(job,), rounds=2, iterations=1)
    print(f"\n{name}: model in {benchmark.stats['min']:.2f} s (limit {BUILD_LIMIT_S[name]} s)")


@pytest.mark.parametrize("name", WALK_LIMIT_S)
def test_walk(benchmark, name: str) -> None:
    """One plan put in time and walked, and the ratio to re-solving the whole mesh for every bead."""
    bench = bench_for(demo(name))
    steps = common_practice(bench.model.assembly, bench.job.bench)
    bench.try_plan(steps)
    benchmark.pedantic(bench.try_plan, args=(steps,), rounds=20, iterations=1)
    took = benchmark.stats["median"]
    print(f"\n{name}: plan tried in {1e3 * took:.1f} ms (limit {1e3 * WALK_LIMIT_S[name]:.0f} ms)")
    line = bench.in_time(steps)
    alone = min(_timed(lambda: bench.walk(line)) for _ in range(10))
    one_step = _full_order_step(bench, line)
    ratio = one_step * (len(bench.tacks.stretches) + len(steps)) / alone
    print(f"{name}: walk alone {1e3 * alone:.1f} ms; full order {one_step:.2f} s a step: {ratio:.0f} to 1")


@pytest.mark.parametrize("name", WALK_LIMIT_S)
def test_search(benchmark, name: str) -> None:
    """The search as a user gets it (limit 20 s), and what it finds beside common practice in the same run."""
    bench = bench_for(demo(name))
    common = bench.try_plan(common_practice(bench.model.assembly, bench.job.bench))
    ours = benchmark.pedantic(our_plan, args=(bench, common), rounds=1, iterations=1)
    took, trade = benchmark.stats["median"], ours.trade_off
    point = next(point for point in trade.points if point.number == trade.chosen)
    shares = point.bench_s / trade.common.bench_s, point.distortion / trade.common.distortion
    how = "stopped by the time limit" if trade.stopped else "all tried"
    print(f"\n{name}: {trade.tried} plans in {took:.1f} s (limit {SEARCH_LIMIT_S:.0f} s), {how}")
    print(f"{name}: bench time {shares[0]:.3f}, distortion {shares[1]:.3f} of common practice")


def _full_order_step(bench, line) -> float:
    """Time of one bead on the full mesh, after a few tacks: every step factorises once."""
    walk = full_order_for(bench)
    per_length = fillet_stiffness(bench.settings.leg, steel(bench.job.housing.steel))
    for stretch, state in zip(bench.tacks.stretches[:2], bench.tacks.states.T[:2], strict=True):
        walk.set_tack(int(stretch), per_length * bench.job.welder.tack_length, state)
    state = np.zeros(len(bench.model.modes.rate))
    return _timed(lambda: walk.displacement(state))


def _timed(work) -> float:
    began = time.perf_counter()
    work()
    return time.perf_counter() - began


def test_second_plan_starts_from_the_cache(benchmark, tmp_path) -> None:
    """Loading a model that was built before (limit 1 s)."""
    job = demo("rescue-truck")
    build_model(job, tmp_path)
    benchmark.pedantic(build_model, args=(job, tmp_path), rounds=3, iterations=1)
    print(f"\nrescue-truck: model from cache in {benchmark.stats['median']:.2f} s (limit 1 s)")


def test_peak_memory(benchmark, tmp_path) -> None:
    """Peak memory of planning the 100-bead demo with all sheets (limit 1.5 GB), read where /proc tells it."""
    if not sys.platform.startswith("linux"):
        pytest.skip("peak memory is read from /proc")
    from_text = tmp_path / "job.toml"
    from_text.write_text(_demo_text(), encoding="utf-8")
    command = [sys.executable, "-c", PEAK, str(from_text), str(tmp_path / "out")]
    result = benchmark.pedantic(
        subprocess.run,
        args=(command,),
        kwargs={"capture_output": True, "text": True, "check": True},
        rounds=1,
    )
    print(f"\nrescue-truck: peak memory {float(result.stdout):.2f} GB (limit 1.5 GB)")


def _demo_text() -> str:
    command = [sys.executable, "-m", "axlewright", "demo", "rescue-truck"]
    return subprocess.run(command, capture_output=True, text=True, check=True, encoding="utf-8").stdout


def test_start_up(benchmark) -> None:
    """The command line from start to first work (limit 2 s)."""
    command = [sys.executable, "-m", "axlewright", "version"]
    benchmark.pedantic(
        subprocess.run, args=(command,), kwargs={"check": True, "capture_output": True}, rounds=3
    )
    print(f"\nstart-up {benchmark.stats['median']:.2f} s (limit 2 s)")
