"""replan.json, plan.json as an input, and the manual."""

from __future__ import annotations

import json
import re
from pathlib import Path

import jsonschema
import pytest
from plan.planned import ours_for, plan_json, report_for, small_job
from reference.benches import bench_for
from replan.bench_log import demo_intent, intent_for, log_of, tag, waiting_job

from axlewright.errors import LogError
from axlewright.plan.replan.answer import moments, replanned
from axlewright.plan.replan.begun import begun_with
from axlewright.plan.replan.outcome import ReplanReport
from axlewright.plan.replan.reading import EVENTS
from axlewright.plan.replan.replan_file import replan_file, replan_schema
from axlewright.plan.replan.rows import COLUMNS

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "replan.md").read_text(encoding="utf-8")
LOG_PAGE = (ROOT / "docs" / "bead-log.md").read_text(encoding="utf-8")
RECORDS = {"ReplanFile": replan_schema(), **replan_schema()["$defs"]}
INTENT = intent_for(waiting_job())


def answered(*lines: str) -> ReplanReport:
    """The answer to a log of some lines."""
    return replanned(INTENT, log_of(INTENT, *lines), tries=2)


def eventful() -> ReplanReport:
    """An answer in which everything is filled in."""
    return answered(
        f"14:05:00,start,{tag(INTENT, 0)},,,,,,,,",
        f"14:05:08,stop,{tag(INTENT, 0)},,,,,,,,",
        f"14:06:30,temperature,{tag(INTENT, 1)},,,,,,35,,",
        f"14:06:40,temperature,{tag(INTENT, 1)},,,,,,212,,",
        f"14:07:00,skip,{tag(INTENT, 4)},,,,,,,,",
        "14:07:10,no tack,T3,,,,,,,,",
        f"14:08:00,start,{tag(INTENT, 2)},,,,,,,,",
    )


def as_json(report: ReplanReport) -> dict:
    """replan.json as a reader sees it."""
    return json.loads(replan_file(report).model_dump_json())


def test_the_committed_schema_is_the_models() -> None:
    """`schema/replan.schema.json` is what `replan_schema()` gives; write it anew after a change of the model."""
    committed = json.loads((ROOT / "schema" / "replan.schema.json").read_text(encoding="utf-8"))
    assert committed == replan_schema()


@pytest.mark.parametrize("report", [answered(), eventful()], ids=["empty", "eventful"])
def test_answers_fit_the_schema(report: ReplanReport) -> None:
    """What is written for an empty and a full log validates, and has no number that is none."""
    jsonschema.Draft202012Validator(replan_schema()).validate(as_json(report))
    json.dumps(as_json(report), allow_nan=False)


def test_what_was_logged_is_in_the_answer() -> None:
    """Beads laid, skipped and burning, readings with their doubts, lost tacks and the clock stand in the file."""
    found = as_json(eventful())
    assert [bead["tag"] for bead in found["laid"]] == [tag(INTENT, 0), tag(INTENT, 2)]
    assert found["burning"] == tag(INTENT, 2)
    assert found["skipped"] == [tag(INTENT, 4)] and found["tacks_out"] == ["T3"]
    assert [reading["used"] for reading in found["readings"]] == [True, False]
    assert len(found["faults"]) == 1 and "line 5" in found["faults"][0]
    left = {bead["tag"] for bead in found["way"]["beads"]}
    assert left == set(INTENT.names.tags) - {tag(INTENT, n) for n in (0, 2, 4)}
    first = found["laid"][0]["start_s"]
    assert found["clock_at_first_arc_s"] + first == pytest.approx(14 * 3600 + 300, abs=0.2)


def test_the_present_may_be_given() -> None:
    """Given in the log's own way it moves the present on; before the last entry or in another way it is refused."""
    log = log_of(INTENT, f"14:05:00,stop,{tag(INTENT, 0)},,,,,,,,")
    told = moments(INTENT, log, "14:15")
    assert told.now - told.events[-1].time == pytest.approx(600.0)
    told = moments(INTENT, log, "00:05")
    assert told.now - told.events[-1].time == pytest.approx(10 * 3600.0)
    for wrong in ("14:00", "20", "soon"):
        with pytest.raises(LogError):
            moments(INTENT, log, wrong)


def test_a_plan_is_found_again_in_its_own_json() -> None:
    """plan.json leads back to the steps it was made from."""
    job = small_job()
    steps = ours_for(job).timeline.steps
    read = begun_with(bench_for(job), json.dumps(plan_json(report_for(job))), "plan.json").steps
    assert [(s.bead, s.reverse, s.turn) for s in read] == [(s.bead, s.reverse, s.turn) for s in steps]
    assert [s.wait for s in read] == pytest.approx([s.wait for s in steps], abs=0.05)


@pytest.mark.parametrize("record", RECORDS)
def test_every_field_is_in_the_manual(record: str) -> None:
    """Under each record's heading stand exactly its fields."""
    section = PAGE.split(f"\n### {record}\n")[1].split("\n### ")[0].split("\n## ")[0]
    rows = re.findall(r"^\| `(\w+)` \|", section, re.M)
    assert sorted(rows) == sorted(RECORDS[record]["properties"])


def test_every_column_and_event_is_in_the_manual() -> None:
    """The page of the bead log tells exactly the columns and events that are read."""
    columns = LOG_PAGE.split("\n## Columns\n")[1].split("\n## ")[0]
    events = LOG_PAGE.split("\n## Events\n")[1].split("\n## ")[0]
    assert re.findall(r"^\| `([a-z]+)` \|", columns, re.M) == list(COLUMNS)
    assert re.findall(r"^\| `([a-z ]+)` \|", events, re.M) == list(EVENTS)


def test_the_manuals_example_is_read_without_a_fault() -> None:
    """The example log of the manual, made for the 36-bead demo, is read whole."""
    example = LOG_PAGE.split("```csv\n")[1].split("```")[0]
    intent = demo_intent("truss-only")
    log = log_of(intent, header=example)
    assert log.events and not log.faults
    assert not replanned(intent, log, tries=0).faults
