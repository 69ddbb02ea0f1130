"""Speed of a check of straightness. Run: .venv/bin/python -m pytest benchmarks --benchmark-enable -s"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from reference.jobs import demo

from axlewright.job.demo_jobs import demo_readings, demo_text
from axlewright.straightness.check import straightness_report
from axlewright.straightness.readings.file import parse_readings

ANSWER_S = 1.0
"""What an answer may take, the start of the program included."""


def test_a_check_of_the_demo(benchmark) -> None:
    """Both sets read, fitted, judged, with advice: without the start of the program."""
    job = demo("rescue-truck")
    texts = [demo_readings("rescue-truck", which) for which in ("before", "after")]

    def check() -> None:
        straightness_report(job, *(parse_readings(text, "demo", job) for text in texts))

    benchmark(check)
    print(f"\ncheck: {1e3 * benchmark.stats['median']:.0f} ms")
    assert benchmark.stats["median"] < 0.1 * ANSWER_S


def test_the_command_answers_within_a_second(benchmark, tmp_path: Path) -> None:
    """The whole command, from the start of Python to the last line of the tables."""
    (tmp_path / "job.toml").write_text(demo_text("rescue-truck"), encoding="utf-8")
    for which in ("before", "after"):
        (tmp_path / f"{which}.csv").write_text(demo_readings("rescue-truck", which), encoding="utf-8")
    words = ["straightness", "job.toml", "after.csv", "--before", "before.csv"]
    command = [sys.executable, "-m", "axlewright", *words]
    benchmark.pedantic(
        lambda: subprocess.run(command, cwd=tmp_path, capture_output=True, check=True), rounds=5
    )
    print(
        f"\nstraightness on the command line: {benchmark.stats['median']:.2f} s (required {ANSWER_S:.0f} s)"
    )
    assert benchmark.stats["median"] < ANSWER_S
