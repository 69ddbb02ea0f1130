"""`axlewright replan` at a terminal."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from said import files_below

LOG = """time,event,bead,value
14:05:00,start,A1,
14:05:08,stop,A1,
14:05:40,stop,C1,
14:06,temperature,A2,7
14:07,start,Q3,
"""


@pytest.fixture
def log_file(tmp_path: Path) -> Path:
    """A log of two beads, a reading below the air's temperature and a bead that does not exist."""
    path = tmp_path / "log.csv"
    path.write_text(LOG, encoding="utf-8")
    return path


def test_it_tells_where_things_stand_and_the_next_bead(axle, job_file: Path, log_file: Path) -> None:
    """Standard output has the state, the next bead and all left; faults of the log stand beside it by line."""
    said = axle("replan", str(job_file), str(log_file))
    assert said.code == 0
    assert "2 beads laid, 6 left" in said.out
    assert "Next: " in said.out and "Arc heat: " in said.out
    assert "No results of this shop stand behind the bands yet" in " ".join(said.out.split())
    assert "2 entries of the log need a look" in said.err
    assert "log.csv line 5" in said.err and "below the air" in said.err
    assert 'log.csv line 6: bead is "Q3"' in said.err
    assert log_file.read_text(encoding="utf-8") == LOG


def test_json_is_alone_and_out_holds_the_same(axle, job_file: Path, log_file: Path, tmp_path: Path) -> None:
    """--json prints replan.json and nothing else; --out writes the same text and says so."""
    folder = tmp_path / "new" / "out"
    said = axle("replan", str(job_file), str(log_file), "--json", "--out", str(folder))
    assert said.code == 0
    answer = json.loads(said.out)
    assert len(answer["laid"]) == 2 and len(answer["way"]["beads"]) == 6
    assert (folder / "replan.json").read_text(encoding="utf-8") == said.out
    assert files_below(folder) == {"replan.json"}
    assert "replan.json" in said.err.splitlines()[-1]


def test_a_plan_made_before_is_followed(axle, job_file: Path, tmp_path: Path) -> None:
    """With the plan's own plan.json and nothing logged, the way on is that plan."""
    plan = tmp_path / "plan.json"
    plan.write_text(axle("plan", str(job_file), "--json").out, encoding="utf-8")
    log = tmp_path / "empty.csv"
    log.write_text("time,event,bead\n", encoding="utf-8")
    said = axle("replan", str(job_file), str(log), "--plan", str(plan), "--json")
    assert said.code == 0
    planned, way = json.loads(plan.read_text(encoding="utf-8")), json.loads(said.out)["way"]
    assert way["kept"] == "plan"
    assert [bead["from_mm"] for bead in way["beads"]] == [bead["from_mm"] for bead in planned["beads"]]
    assert [bead["wait_s"] for bead in way["beads"]] == [bead["wait_s"] for bead in planned["beads"]]
    assert "looking for a better order" not in said.err


@pytest.mark.parametrize(
    ("name", "text"), [("none.csv", None), ("empty.csv", ""), ("noise.csv", "bead\nA1\n")]
)
def test_a_log_that_is_none_is_refused(
    axle, job_file: Path, tmp_path: Path, name: str, text: str | None
) -> None:
    """A missing, an empty and a headless log each end with code 2 and one message, before any planning."""
    if text is not None:
        (tmp_path / name).write_text(text, encoding="utf-8")
    said = axle("replan", str(job_file), str(tmp_path / name))
    assert said.code == 2
    assert name in said.err and said.out == ""
    assert "looking for a better order" not in said.err
