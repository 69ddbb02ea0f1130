"""The shop's pages: from the start to the first page, every page of a long job, and what is sent first."""

from __future__ import annotations

import gc
import gzip
import os
import re
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi.testclient import TestClient
from web.plan.seeded import plan_text, tell_plan
from web.serving import serve_command
from web.shop_made import MadeUp, long_job, made_up
from web.straight import made

from axlewright.record.opening import open_store
from axlewright.record.stages import stages
from axlewright.tasks.keeping import write_note
from axlewright.tasks.telling import Telling
from axlewright.web.app import make_app
from axlewright.web.open_shop import OpenShop
from axlewright.web.work.bench import WorkBench

pytestmark = pytest.mark.benchmark

COLD_START = 1.5
"""From the start of the process to the first page [s], issue 5."""

PAGE = 0.100
"""Any page of a job with 100 beads and 2,000 events, on the server [s], issue 5."""

FIRST_LOAD = 400_000
"""What a browser fetches for a first page, compressed, without pictures [byte], issue 5."""

PATHS = (
    "",
    "/history",
    "/history?page=50",
    "/history?kind=bench",
    "/photographs",
    "/sheets",
    "/stages/weld",
    "/stages/intake",
    "/plan",
    "/whence/distortion",
    "/readings/after",
    "/check",
    "/correct",
    "/dimensions",
)


@pytest.fixture(scope="module")
def long(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[TestClient, MadeUp]]:
    """A shop with a long job and twenty short ones."""
    data = tmp_path_factory.mktemp("long")
    store = open_store(data)
    for number in range(20):
        made_up(store, f"Truck {number}").up_to("intake")
    job = long_job(store)
    tell_plan(job, plan_text("rescue-truck"))
    made.check(job)
    made.correction(job)
    work = WorkBench(store, data)
    app = make_app(OpenShop(store, work, data), beforehand=True)
    client = TestClient(app, base_url="http://localhost")
    # As the shop is once its first page was answered.
    client.get(f"/jobs/{job.job}")
    yield client, job
    gc.unfreeze()
    work.close()
    store.close()


def _seconds(client: TestClient, path: str) -> float:
    started = time.perf_counter()
    answer = client.get(path)
    assert answer.status_code == 200
    return time.perf_counter() - started


@pytest.mark.parametrize("path", PATHS)
def test_a_page_of_a_long_job(long: tuple[TestClient, MadeUp], path: str) -> None:
    """Every page of a job with 2,000 events is made within 100 ms, also right after something was told."""
    client, job = long
    _seconds(client, f"/jobs/{job.job}{path}")
    taken = []
    for number in range(9):
        write_note(job.store, job.job, f"one more, {number}", Telling("Ann"))
        taken.append(_seconds(client, f"/jobs/{job.job}{path}"))
    middle = sorted(taken)[len(taken) // 2]
    sys.stderr.write(f"{path or '/'}: {1000 * middle:.0f} ms, at most {1000 * max(taken):.0f} ms\n")
    assert middle <= PAGE


def test_the_list_of_jobs(long: tuple[TestClient, MadeUp]) -> None:
    """The list with a long job in it is made within 100 ms."""
    client, _ = long
    _seconds(client, "/")
    taken = sorted(_seconds(client, "/") for _ in range(9))
    sys.stderr.write(f"jobs: {1000 * taken[4]:.0f} ms\n")
    assert taken[4] <= PAGE


def test_what_is_sent_first(long: tuple[TestClient, MadeUp]) -> None:
    """A first page with its style and scripts is at most 400 kB, compressed, without pictures."""
    client, job = long
    for path in (f"/jobs/{job.job}", *(f"/jobs/{job.job}/stages/{stage.name}" for stage in stages()[:1])):
        page = client.get(path).text
        files = set(re.findall(r'(?:src|href)="(/static/[^"]+\.(?:css|js)[^"]*)"', page))
        sizes = {file: len(gzip.compress(client.get(file).content, 6)) for file in files}
        total = sum(sizes.values()) + len(gzip.compress(page.encode(), 6))
        sys.stderr.write(f"{path}: {total / 1000:.0f} kB\n")
        assert total <= FIRST_LOAD


def test_from_cold_to_the_first_page(tmp_path: Path) -> None:
    """The real process answers its first page within 1.5 s of its start.

    Where other programs keep the machine busy, the wall clock tells of them; then processor time is held against it.
    """
    first, *rest = [_cold_start(tmp_path) for _ in range(8)]
    said = ", ".join(f"{wall:.2f} s ({cpu:.2f} s of processor time)" for wall, cpu in sorted(rest))
    sys.stderr.write(f"first start ever: {first[0]:.2f} s ({first[1]:.2f} s); later: {said}\n")
    quiet = os.getloadavg()[0] < 0.7 * (os.cpu_count() or 1)
    assert min(wall if quiet else cpu for wall, cpu in rest) <= COLD_START


def _cold_start(data: Path) -> tuple[float, float]:
    """Time from the start of the process to its first page on the wall, and of the processor [s]."""
    command = serve_command(data)
    started = time.perf_counter()
    before = os.times()
    with subprocess.Popen(command, stderr=subprocess.PIPE, text=True) as process:
        assert process.stderr is not None
        address = process.stderr.readline().split()[-1]
        with urllib.request.urlopen(address, timeout=20) as answer:
            answer.read()
        taken = time.perf_counter() - started
        process.kill()
    after = os.times()
    used = after.children_user + after.children_system - before.children_user - before.children_system
    return taken, used
