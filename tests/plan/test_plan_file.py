"""plan.json: its schema, its units, its manual page."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path

import jsonschema
import pytest
from plan.planned import common_report, plan_json, report_for, small_job
from sheets.sample_report import sample_report
from sheets.sample_trade import trade_off

from axlewright.job.reading import parse_job
from axlewright.job.writing import write_job
from axlewright.plan.plan_file import plan_schema

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "plan-json.md").read_text(encoding="utf-8")
RECORDS = {"PlanFile": plan_schema(), **plan_schema()["$defs"]}


def test_the_committed_schema_is_the_models() -> None:
    """`schema/plan.schema.json` is what `plan_schema()` gives; write it anew after a change of the model."""
    committed = json.loads((ROOT / "schema" / "plan.schema.json").read_text(encoding="utf-8"))
    assert committed == plan_schema()


def test_plans_fit_the_schema() -> None:
    """What is written for small and large jobs, with and without guard and seals, validates."""
    jsonschema.Draft202012Validator.check_schema(plan_schema())
    validator = jsonschema.Draft202012Validator(plan_schema())
    for report in (report_for(small_job()), common_report("rescue-truck")):
        validator.validate(plan_json(report))


@pytest.mark.parametrize("field", ["bench_min", "beads", "cautions", "camber_deg"])
def test_the_schema_refuses_what_is_incomplete(field: str) -> None:
    """A plan without one of its fields, or with one too many, does not validate."""
    validator = jsonschema.Draft202012Validator(plan_schema())
    whole = plan_json(report_for(small_job()))
    holders = [whole, whole["totals"], whole["predicted"]]
    holder = next(part for part in holders if field in part)
    value = holder.pop(field)
    assert not validator.is_valid(whole)
    holder |= {field: value, "extra": 1}
    assert not validator.is_valid(whole)


@pytest.mark.analytical
def test_marks_are_millimetres_from_the_left_flange() -> None:
    """Brackets of 100 mm about 300 and 650 mm are welded in beads from 250 to 300 to 350 and 600 to 650 to 700 mm."""
    beads = plan_json(report_for(small_job()))["beads"]
    found = sorted((bead["attachment"], *sorted((bead["from_mm"], bead["to_mm"]))) for bead in beads)
    upper, lower = (
        [(name, at, at + 50.0) for at in places for _ in range(2)]
        for name, places in (("upper", (250.0, 300.0)), ("lower", (600.0, 650.0)))
    )
    assert found == lower + upper


@pytest.mark.analytical
def test_an_inch_job_is_written_in_millimetres() -> None:
    """The same job written in inches gives the same numbers; only the job's own units differ."""
    metric = small_job()
    inches = write_job(metric.model_copy(update={"units": "inch"}))
    ours, other = (plan_json(report_for(job)) for job in (metric, parse_job(inches, "inches")))
    assert (ours["job"].pop("units"), other["job"].pop("units")) == ("mm", "inch")
    for plan in (ours, other):
        # Reasons are texts for the shop, in its own units.
        del plan["model"], plan["trade_off"]["why"]
        for bead in plan["beads"]:
            del bead["why"]
    assert _rounded(ours) == _rounded(other)


def _rounded(value: object) -> object:
    """Numbers to four digits after the point: inches read back differ by rounding."""
    if isinstance(value, dict):
        return {key: _rounded(entry) for key, entry in value.items()}
    if isinstance(value, list):
        return [_rounded(entry) for entry in value]
    return pytest.approx(value, rel=1e-4, abs=2e-3) if isinstance(value, float) else value


def test_json_and_report_tell_the_same() -> None:
    """Metres become millimetres, seconds of sums minutes, joules kilojoules."""
    report = report_for(small_job())
    written = plan_json(report)
    totals, bead, tack = report.ours.totals, report.ours.beads[0], report.ours.tacks[0]
    assert written["totals"]["bench_min"] == pytest.approx(totals.bench_s / 60, abs=0.005)
    assert written["totals"]["arc_min"] == pytest.approx(totals.arc_s / 60, abs=0.005)
    assert written["beads"][0]["from_mm"] == pytest.approx(1e3 * bead.from_x, abs=5e-4)
    assert written["beads"][0]["heat_kj"] == pytest.approx(1e-3 * bead.heat_j, abs=5e-4)
    assert written["beads"][0]["start_s"] == pytest.approx(bead.start_s, abs=0.05)
    assert written["tacks"][0]["at_mm"] == pytest.approx(1e3 * tack.at_x, abs=5e-4)
    shape = report.ours.prediction.shape
    assert written["predicted"]["bow_mm"]["vertical"] == pytest.approx(1e3 * shape.bow_vertical, abs=5e-4)
    assert written["predicted"]["camber_deg"]["left"] == pytest.approx(shape.camber_deg.left, abs=5e-5)
    assert len(written["common_practice"]["beads"]) == len(report.common_practice.beads)


def test_names_and_places_along_the_seam_are_written() -> None:
    """Each bead and tack has its name in the bead log, and its place in millimetres along its seam."""
    report = report_for(small_job())
    written = plan_json(report)
    assert [bead["tag"] for bead in written["beads"]] == [bead.tag for bead in report.ours.beads]
    assert sorted(bead["tag"] for bead in written["beads"]) == [
        "A1",
        "A2",
        "B1",
        "B2",
        "C1",
        "C2",
        "D1",
        "D2",
    ]
    ends = {bead["tag"]: sorted((bead["from_s_mm"], bead["to_s_mm"])) for bead in written["beads"]}
    assert ends["A1"] == ends["D1"] == [0.0, 50.0] and ends["A2"] == ends["D2"] == [50.0, 100.0]
    assert [tack["tag"] for tack in written["tacks"]] == [f"T{n + 1}" for n in range(len(report.ours.tacks))]
    for entry, tack in zip(written["tacks"], report.ours.tacks, strict=True):
        assert entry["at_s_mm"] == pytest.approx(1e3 * tack.at_s, abs=5e-4)


def test_turns_reasons_and_longer_tacks_are_written() -> None:
    """Each bead has turn, position and reason, each tack its length in mm, the sums turns and their minutes."""
    report = sample_report(full=False)
    written = plan_json(report)
    beads = zip(written["beads"], report.ours.beads, strict=True)
    assert all((b["turn_deg"], b["position"], b["why"]) == (p.turn_deg, p.position, p.why) for b, p in beads)
    assert {bead["turn_deg"] for bead in written["beads"]} == {90.0, 270.0, 0.0}
    lengths = {tack["number"]: (tack["length_mm"], tack["enlarged"]) for tack in written["tacks"]}
    assert lengths[3] == lengths[14] == (30.0, True) and lengths[4] == (20.0, False)
    assert (written["totals"]["turns"], written["totals"]["turn_min"]) == (3, 6.0)
    assert written["totals"]["distortion_mm"] == pytest.approx(0.28)


def test_the_trade_off_is_written() -> None:
    """Every plan compared is there in mm and minutes, with common practice, choice and reason; else null."""
    report = sample_report(full=False)
    validator = jsonschema.Draft202012Validator(plan_schema())
    written = plan_json(report)
    trade, kept = written["trade_off"], report.trade_off
    validator.validate(written)
    for entry, point in zip(trade["points"], kept.points, strict=True):
        assert entry["number"] == point.number and entry["within"] == point.within
        assert entry["bench_min"] == pytest.approx(point.bench_s / 60, abs=0.005)
        assert entry["distortion_mm"] == pytest.approx(1e3 * point.distortion, abs=5e-4)
        assert entry["tack_utilisation"] == pytest.approx(point.tack_utilisation, abs=5e-4)
    assert (trade["common_practice"]["number"], trade["chosen"], trade["recommended"]) == (0, 9, 9)
    assert (trade["why"], trade["tried"], trade["stopped"]) == (kept.why, 4812, False)
    none = plan_json(replace(report, trade_off=trade_off(4, recommended=None, chosen=1)))
    assert none["trade_off"]["recommended"] is None
    alone = plan_json(replace(report, trade_off=None))
    assert alone["trade_off"] is None
    validator.validate(none)
    validator.validate(alone)


def test_there_is_no_number_that_is_none() -> None:
    """The text is JSON of the strict kind: no NaN, no infinity."""

    def refuse(constant: str) -> None:
        raise AssertionError(constant)

    text = json.dumps(plan_json(common_report("rescue-truck")))
    json.loads(text, parse_constant=refuse)


def _rows(record: str) -> list[str]:
    """Fields in the table under a record's heading in the manual."""
    section = PAGE.split(f"\n## {record}\n")[1].split("\n## ")[0]
    return re.findall(r"^\| `(\w+)` \|", section, re.M)


@pytest.mark.parametrize("record", RECORDS)
def test_every_field_is_in_the_manual(record: str) -> None:
    """Under each record's heading stand exactly its fields."""
    assert sorted(_rows(record)) == sorted(RECORDS[record]["properties"])


def test_the_manual_names_only_records_that_exist() -> None:
    """Every heading of the page is a record of the schema."""
    assert set(re.findall(r"^## (\w+)$", PAGE, re.M)) == set(RECORDS)
