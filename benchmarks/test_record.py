"""Speed of the record. Run: .venv/bin/python -m pytest benchmarks/test_record.py --benchmark-enable -s"""

from __future__ import annotations

import sqlite3
import statistics
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from axlewright.record.chain import chained_digest
from axlewright.record.events import Document, NewEvent
from axlewright.record.opening import DATABASE, open_store
from axlewright.record.store import Store

ACKNOWLEDGED_S = 0.050
"""What an event may take to be on the disk and acknowledged, at the 95th percentile."""

EVENTS_S = 0.025
"""What all 2,000 events of a job may take to be read."""

DEVICES, PER_SECOND, SECONDS = 4, 5, 4


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where the record is."""
    return tmp_path_factory.mktemp("shop")


@pytest.fixture(scope="module")
def store(folder: Path) -> Iterator[Store]:
    """A record in a file with one job of 2,000 events."""
    with pytest.MonkeyPatch.context() as patch:
        patch.delenv(DATABASE, raising=False)
        store = open_store(folder)
    file = Document("job.toml", "application/toml", b"[job]\n")
    first = store.create_job(NewEvent("job file", "Ann", {"name": "Truss", "units": "mm"}, "file", (file,)))
    events = [first, store.append(first.job, _bead("k2"))]
    # Taken in at once, which is quicker than telling one by one.
    for number in range(3, 2001):
        event = replace(events[1], number=number, key=f"k{number}")
        events.append(replace(event, digest=chained_digest(event, events[-1].digest)))
    store.take_in(first.job, events, {})
    yield store
    store.close()


def _bead(key: str) -> NewEvent:
    body = {"event": "bead", "bead": "C7", "start": "10:31:05", "end": "10:31:58", "note": "as planned"}
    return NewEvent("bench", "Ben", body, key, device="tablet")


def _bare(folder: Path) -> Callable[[str], None]:
    """The least that keeps a row as safely: one insert into an SQLite file, written through to the disk."""
    connection = sqlite3.connect(folder / "bare.db", isolation_level=None, check_same_thread=False)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("CREATE TABLE event (key TEXT PRIMARY KEY, body TEXT)")
    one_at_a_time = threading.Lock()

    def insert(key: str) -> None:
        with one_at_a_time:
            connection.execute("INSERT INTO event VALUES (?, ?)", (key, "x" * 400))

    return insert


def _devices(tells: tuple[Callable[[str], object], ...], spell: int) -> list[float]:
    """95th percentiles of what each way of telling takes with all devices at work, in seconds, told by turns."""
    took: list[list[float]] = [[] for _ in tells]

    def device(number: int) -> None:
        begin = time.monotonic() + number / (DEVICES * PER_SECOND)
        for event in range(PER_SECOND * SECONDS):
            for turn, (tell, times) in enumerate(zip(tells, took, strict=True)):
                due = begin + (event + turn / len(tells)) / PER_SECOND
                time.sleep(max(0.0, due - time.monotonic()))
                asked = time.perf_counter()
                tell(f"{spell}-{number}-{event}")
                times.append(time.perf_counter() - asked)

    threads = [threading.Thread(target=device, args=(number,)) for number in range(DEVICES)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert all(len(times) == DEVICES * PER_SECOND * SECONDS for times in took)
    return [statistics.quantiles(times, n=20)[-1] for times in took]


def test_an_event_is_acknowledged_within_a_twentieth_of_a_second(store: Store, tmp_path: Path) -> None:
    """4 devices at 5 events a second on a job of 2,000 events."""
    job = store.jobs()[0].job
    tells = (lambda key: store.append(job, _bead(key)), _bare(tmp_path))
    # The quietest of three spells: what else runs on the machine only ever adds.
    took, bare = min(_devices(tells, spell) for spell in range(3))
    print(
        f"\nevent acknowledged: {1e3 * took:.1f} ms at the 95th percentile (required {1e3 * ACKNOWLEDGED_S:.0f});"
        f" bare insert {1e3 * bare:.1f} ms, ratio {took / bare:.1f}"
    )
    assert took < ACKNOWLEDGED_S


def test_writing_as_fast_as_it_goes(store: Store, tmp_path: Path) -> None:
    """What the record adds to a bare insert, one event after the other; no limit, for comparison."""
    job, insert = store.jobs()[0].job, _bare(tmp_path)
    took: dict[str, list[float]] = {"record": [], "bare": []}
    for number in range(300):
        for name, tell in (("record", lambda key: store.append(job, _bead(key))), ("bare", insert)):
            asked = time.perf_counter()
            tell(f"fast-{number}")
            took[name].append(time.perf_counter() - asked)
    record, bare = (statistics.median(took[name]) for name in ("record", "bare"))
    print(
        f"\nevent one after the other: {1e3 * record:.2f} ms, bare {1e3 * bare:.2f} ms, ratio {record / bare:.1f}"
    )


def test_reading_2000_events(benchmark, store: Store) -> None:
    """A store that remembers nothing yet."""
    job = store.jobs()[0].job
    benchmark.pedantic(lambda fresh: fresh.events(job), setup=lambda: ((Store(store.engine),), {}), rounds=30)
    # The quickest: what else runs on the machine only ever adds.
    print(f"\n2,000 events read: {1e3 * benchmark.stats['min']:.1f} ms (wanted {1e3 * EVENTS_S:.0f})")
    assert benchmark.stats["min"] < EVENTS_S


def test_reading_2000_events_again(benchmark, store: Store) -> None:
    """A store that only has to ask what came since."""
    job = store.jobs()[0].job
    benchmark(lambda: store.events(job))
    print(f"\n2,000 events read again: {1e3 * benchmark.stats['median']:.2f} ms")
    assert benchmark.stats["median"] < 0.2 * EVENTS_S


def test_opening(benchmark, store: Store, folder: Path) -> None:
    """A record of 2,000 events, checked and of the present version."""
    benchmark(lambda: open_store(folder).close())
    size = (folder / "axlewright.db").stat().st_size
    print(f"\nrecord of {1e-6 * size:.1f} MB opened: {1e3 * benchmark.stats['median']:.1f} ms")
    assert benchmark.stats["median"] < 0.1


def test_importing() -> None:
    """What the record costs a cold start over what SQLAlchemy and pydantic cost; the quickest of five."""
    lines = (
        "import time, sys; a = time.perf_counter(); import sqlalchemy, pydantic; from pydantic import BaseModel",
        "class A(BaseModel): x: int",
        "b = time.perf_counter(); import axlewright.record.opening",
        "print(b - a, time.perf_counter() - b)",
    )
    command = [sys.executable, "-c", "\n".join(lines)]
    runs = [subprocess.run(command, capture_output=True, check=True, text=True).stdout for _ in range(5)]
    packages, record = min((tuple(float(part) for part in run.split()) for run in runs), key=sum)
    print(f"\nimport: SQLAlchemy and pydantic {1e3 * packages:.0f} ms, the record {1e3 * record:.0f} ms more")
    assert record < 0.1
