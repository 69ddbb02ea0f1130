"""Nothing acknowledged is lost, and nothing counts twice, when programs are killed while they write."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from axlewright.record.opening import open_store

HERE = Path(__file__).parent

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs os.fork")


def _killed(folder: Path, rounds: int) -> dict[str, Any]:
    command = [sys.executable, str(HERE / "killed_writers.py"), str(folder), str(rounds), "20260314"]
    done = subprocess.run(command, capture_output=True, text=True, timeout=300)
    assert done.returncode == 0, done.stderr
    return dict(json.loads(done.stdout))


@pytest.mark.parametrize("rounds", [200])
def test_two_hundred_kills_lose_nothing(database: str, tmp_path: Path, rounds: int) -> None:
    """200 writers killed at random moments: every acknowledged event is there as acknowledged, none twice."""
    seen = _killed(tmp_path, rounds)
    store = open_store(tmp_path)
    told = {event.key: (event.number, event.digest) for event in store.events(seen["job"])[1:]}
    assert {key: tuple(answer) for key, answer in seen["acknowledged"].items()} == told
    counted = Counter(event.body["bead"] for event in store.events(seen["job"])[1:])
    assert max(counted.values()) == 1 and len(counted) == len(told)
    assert store.verify() == ()
    store.close()
    # The test has teeth only where writers died in the midst of it, some between the disk and the acknowledgement.
    print({name: value for name, value in seen.items() if isinstance(value, int)}, len(told))
    assert seen["killed"] == rounds and len(told) > rounds / 2
    assert 0 < seen["killed_before_anything"] <= rounds / 4
    assert seen["found_written"] > 0
