"""What a job was begun with: the plan's own bench, read back from its plan.json."""

from __future__ import annotations

import json
from functools import cache, partial
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from plan.planned import changed, common_for, plan_json, report_for, searched, small_job
from plan.test_fixture_plan import fixture_text
from reference import benches
from reference.benches import bench_for
from reference.jobs import demo, plain_tube, strip
from replan.bench_log import as_planned

from axlewright import tasks
from axlewright.errors import LogError
from axlewright.job.schema import Job
from axlewright.plan.bench import OnTheBench
from axlewright.plan.ours import our_plan
from axlewright.plan.replan.answer import replanned
from axlewright.plan.replan.begun import Begun, begun_with
from axlewright.plan.replan.reading import BeadLog
from axlewright.plan.replan.remaining import best_from_here
from axlewright.plan.reporting import plan_report
from axlewright.plan.search.search import Search
from axlewright.tasks import planning

QUICK = Search(plans=40, seconds=600.0)
SAMPLES = 4


@cache
def _planned(text: str) -> tuple[OnTheBench, str]:
    job = Job.model_validate_json(text)
    ours = searched(job, QUICK)
    report = plan_report(job, ours.bench, ours.trial, common_for(job), SAMPLES)
    shimmed = ours.bench.prebent_for(ours.trial.walked)
    return shimmed, json.dumps(plan_json(report))


def planned(job: Job) -> tuple[OnTheBench, str]:
    """The bench of a job's plan, and its plan.json."""
    return _planned(job.model_dump_json())


def begun(job: Job) -> Begun:
    """What the plan.json of a job's plan says it was begun with."""
    return begun_with(bench_for(job), planned(job)[1], "plan.json")


def clamped() -> Job:
    """A tube with two brackets above it in a fixture, whose pre-bend is left to us."""
    brackets = strip("first", at=300, length=100) + strip("second", at=650, length=100)
    return plain_tube(brackets + fixture_text((100, 500, 900)))


def heavy() -> Job:
    """The small job with tacks too short for any plan."""
    return changed(small_job(), "welder", tack_length=0.004)


@pytest.mark.parametrize(
    "job", [small_job(), heavy(), demo("rescue-truck")], ids=["small", "heavy", "rescue"]
)
def test_tacks_are_those_of_the_plan(job: Job) -> None:
    """Places are the plan's, and lengths within the micrometre that plan.json is written to."""
    own, found = planned(job)[0], begun(job).bench
    assert found.tack_places.tolist() == own.tack_places.tolist()
    assert found.tack_lengths == pytest.approx(own.tack_lengths, abs=1e-6)
    assert bool(found.longer_tacks) == bool(own.longer_tacks)


def test_the_plans_of_two_of_these_jobs_ask_for_longer_tacks() -> None:
    """Otherwise reading them back would prove nothing."""
    for job in (heavy(), demo("rescue-truck")):
        assert planned(job)[0].tack_lengths.max() > 1.2 * job.welder.tack_length


def test_added_tacks_come_last() -> None:
    """A tack beyond those of the job's spacing is read as added, with its length."""
    job = small_job()
    bench = bench_for(job)
    free = next(n for n in range(len(bench.model.assembly.stretches)) if n not in bench.tack_places)
    stretch = bench.model.assembly.stretches[free]
    seam = bench.model.assembly.seams[stretch.seam]
    plan = json.loads(planned(job)[1])
    more = {
        "attachment": seam.attachment,
        "seam": seam.name,
        "at_s_mm": 1e3 * stretch.middle,
        "length_mm": 25.0,
    }
    plan["tacks"].append(plan["tacks"][-1] | more)
    found = begun_with(bench, json.dumps(plan), "plan.json").bench
    assert found.extra_tacks == (free,)
    assert found.tack_lengths.tolist() == [*bench.tack_lengths.tolist(), 0.025]


def test_shims_are_those_of_the_plan() -> None:
    """They are what the plan chose, not what suits common practice; the shape expected is that of the plan."""
    job = clamped()
    own, found = planned(job)[0], begun(job)
    assert own.shim_heights.max() > 0
    assert found.bench.shim_heights == pytest.approx(own.shim_heights, abs=1e-6)
    plan = json.loads(planned(job)[1])
    shape = found.bench.try_plan(found.steps).shape
    assert 1e3 * shape.bow_vertical == pytest.approx(plan["predicted"]["bow_mm"]["vertical"], abs=2e-3)
    for support in plan["fixture"]["supports"]:
        support["shim_mm"] += 0.5
    other = begun_with(bench_for(job), json.dumps(plan), "plan.json").bench
    assert other.shim_heights == pytest.approx(own.shim_heights + 5e-4, abs=1e-6)


@pytest.mark.parametrize(
    "job", [heavy(), demo("rescue-truck"), clamped()], ids=["heavy", "rescue", "clamped"]
)
@pytest.mark.parametrize("share", [0.0, 0.3, 0.8])
def test_a_log_that_follows_the_plan_changes_nothing(job: Job, share: float) -> None:
    """On the plan's own bench the way on is the plan: steps, and times to the tenth of a second of plan.json."""
    intent = begun(job).intent(common_for(job))
    count = int(share * len(intent.steps))
    standing = intent.standing(as_planned(intent, count))
    found = best_from_here(intent, standing)
    assert found.kept == "plan" and found.steps == intent.steps[count:]
    written = [bead["start_s"] for bead in json.loads(planned(job)[1])["beads"][count:]]
    assert found.line.starts == pytest.approx(np.array(written), abs=0.06)
    assert found.trial.worst_tack == pytest.approx(intent.plan.worst_tack, rel=1e-6)


def test_on_the_jobs_own_tacks_the_plan_would_not_hold() -> None:
    """The same plan overloads shorter tacks: the bench matters to the answer."""
    job = heavy()
    found = begun(job)
    assert bench_for(job).try_plan(found.steps).worst_tack > 1.0
    report = replanned(found.intent(common_for(job)), BeadLog((), (), False))
    assert report.way.worst_tack == pytest.approx(found.bench.try_plan(found.steps).worst_tack, rel=1e-6)


@pytest.mark.parametrize("job", [heavy(), clamped()], ids=["heavy", "clamped"])
def test_without_its_file_the_plan_is_found_again(
    job: Job, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The task gives the same answer whether the plan is read from its file or looked for again."""
    monkeypatch.setattr(planning, "our_plan", partial(our_plan, search=QUICK))
    plan, log = tmp_path / "plan.json", tmp_path / "log.csv"
    plan.write_text(planned(job)[1], encoding="utf-8")
    log.write_text("time,event,bead\n14:05:00,start,A1\n14:05:40,stop,C1\n", encoding="utf-8")
    told, found = (
        json.loads(tasks.replan_text(tasks.replan_job(job, log, path, cache=benches.CACHE[0])))
        for path in (plan, None)
    )
    for answer in (told, found):
        assert len(answer["laid"]) == 2 and answer["way"].pop("worst_tack") <= 1.0
    assert _rounded(found) == _rounded(told)


def _rounded(value: Any) -> Any:
    """Numbers with the micrometres that plan.json rounds lengths by taken into account."""
    if isinstance(value, dict):
        return {key: _rounded(entry) for key, entry in value.items()}
    if isinstance(value, list):
        return [_rounded(entry) for entry in value]
    return pytest.approx(value, rel=1e-4, abs=2e-3) if isinstance(value, float) else value


def broken(part: str, number: int, **values: Any) -> str:
    """The small job's plan.json with something else in one record of a list."""
    plan = json.loads(planned(small_job())[1])
    plan[part][number] |= values
    return json.dumps(plan)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (lambda: broken("tacks", 2, at_s_mm=1.0), "must have the job's 8 tacks in their order"),
        (lambda: broken("tacks", 2, seam="no seam"), "must have the job's 8 tacks in their order"),
        (lambda: broken("tacks", 0, length_mm=900.0), "T1 of 900 mm: must be at most"),
        (lambda: broken("tacks", 0, length_mm=0.0), r"tacks\.0\.length_mm: .* greater than 0"),
        (lambda: broken("beads", 3, from_s_mm=1.0), "must have each of the job's 8 beads once"),
        (lambda: broken("beads", 3, turn_deg=45.0), "at turns that it allows"),
        (lambda: broken("beads", 3, wait_s=-1.0), r"beads\.3\.wait_s"),
        (lambda: broken("beads", 3, wait_s=float("nan")), r"beads\.3\.wait_s"),
        (lambda: planned(demo("rescue-truck"))[1], r"a plan of \d+ tacks: must have the job's 8"),
    ],
)
def test_a_plan_that_does_not_fit_says_what(text: Any, words: str) -> None:
    """Tacks, beads, turns or shims that the job does not have are one message with file, value and remedy."""
    with pytest.raises(LogError, match=words) as caught:
        begun_with(bench_for(small_job()), text(), "plan.json")
    assert "leave the option out" in str(caught.value)


def test_a_fixture_that_the_job_has_not_is_refused() -> None:
    """A plan made in a fixture is no plan for the same housing lying free."""
    plan = json.loads(planned(clamped())[1])
    free = clamped().model_copy(update={"fixture": None})
    with pytest.raises(LogError, match="a fixture of 3 supports: must have the job's 0"):
        begun_with(bench_for(free), json.dumps(plan), "plan.json")


@pytest.mark.parametrize(
    "text", ["", "[]", '{"beads": 3}', '{"beads": [{}]}', '{"beads": []}', "[" * 100_000]
)
def test_what_is_no_plan_is_refused(text: str) -> None:
    """Anything but a plan.json gives one clear error."""
    with pytest.raises(LogError, match=r"plan\.json.*as this program writes it"):
        begun_with(bench_for(small_job()), text, "plan.json")


def test_a_plan_of_another_job_is_refused() -> None:
    """A plan whose tacks the job does not have says so."""
    text = json.dumps(plan_json(report_for(small_job())))
    with pytest.raises(LogError, match="Is it a plan of this job"):
        begun_with(bench_for(demo("truss-only")), text, "plan.json")
