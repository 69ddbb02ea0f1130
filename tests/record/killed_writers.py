"""A program that starts writers and kills them. Run: python killed_writers.py FOLDER ROUNDS SEED

Prints, as JSON, the job, what the writers had acknowledged, and how many of them died how. A writer is a fork of this
program, so that 200 of them cost no 200 starts of Python; the record is never open in the parent while it forks.
"""

from __future__ import annotations

import json
import os
import random
import select
import signal
import sys
import time
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

from tellings import bead, job_file

from axlewright.record.events import Document
from axlewright.record.opening import open_store

LONGEST_S = 0.020
"""A writer is killed at a random moment up to this: after its first acknowledgement, while it writes and acknowledges;
every fourth one after its fork, while it opens the record."""


@dataclass
class Seen:
    """What came of the writers."""

    job: str
    acknowledged: dict[str, tuple[int, str]] = field(default_factory=dict)
    killed: int = 0
    killed_before_anything: int = 0
    found_written: int = 0


def main(folder: Path, rounds: int, seed: int) -> None:
    """Start and kill writers, then let one finish."""
    store = open_store(folder)
    seen, chance = Seen(store.create_job(job_file()).job), random.Random(seed)
    store.close()
    for number in range(rounds):
        _one_writer(folder, seen, chance.uniform(0.0, LONGEST_S), at_once=number % 4 == 0)
    _one_writer(folder, seen, None)
    print(json.dumps(vars(seen)))


def _one_writer(folder: Path, seen: Seen, kill_after: float | None, at_once: bool = False) -> None:
    """One writer goes on after the last acknowledged event: the one in doubt is told again with its key."""
    begin, (reading, writing) = len(seen.acknowledged), os.pipe()
    process = os.fork()
    if process == 0:
        os.close(reading)
        try:
            _write(folder, seen.job, begin, writing, 5 if kill_after is None else 10_000)
        finally:
            os._exit(0)
    os.close(writing)
    lines = _lines(reading, process, kill_after, at_once)
    os.close(reading)
    os.waitpid(process, 0)
    for line in lines:
        key, number, digest, again = line.split()
        seen.acknowledged[key] = (int(number), digest)
        seen.found_written += again == "again"
    if kill_after is not None:
        seen.killed += 1
        seen.killed_before_anything += not lines


def _lines(reading: int, process: int, kill_after: float | None, at_once: bool) -> list[str]:
    """Whole lines a writer gave before it ended."""
    given, until = b"", time.monotonic() + kill_after if at_once and kill_after is not None else None
    while True:
        left = None if until is None else max(0.0, until - time.monotonic())
        if not select.select([reading], [], [], left)[0]:
            os.kill(process, signal.SIGKILL)
            until = kill_after = None
        some = os.read(reading, 65536)
        if not some:
            return given.decode("ascii").split("\n")[:-1]
        given += some
        if kill_after is not None and until is None:
            until = time.monotonic() + kill_after


def _write(folder: Path, job: str, begin: int, writing: int, count: int) -> None:
    started = datetime.now(UTC)
    store = open_store(folder)
    for number in range(begin, begin + count):
        photo = Document("p.jpg", "image/jpeg", number.to_bytes(4, "big") * 4000)
        event = store.append(job, bead(f"C{number}", f"e{number}", documents=(photo,) * (number % 3 == 0)))
        again = "again" if event.at < started else "new"
        os.write(writing, f"{event.key} {event.number} {event.digest} {again}\n".encode("ascii"))
    store.close()


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3]))
