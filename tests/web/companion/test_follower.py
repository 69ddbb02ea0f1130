"""What follows from what was tapped at the bench: a small job of eight beads, in this process."""

from __future__ import annotations

import json
import time
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from reference import benches
from web.companion.bench_made import ARC, AtTheBench, at_the_bench, small_follower, small_plan
from web.work.benches import SMALL

from axlewright import tasks
from axlewright.errors import RecordError
from axlewright.job.reading import parse_job
from axlewright.record.store import Store
from axlewright.tasks.following_asked import asked, in_step
from axlewright.tasks.following_clock import as_log_time
from axlewright.tasks.keeping import start_job
from axlewright.tasks.telling import Telling


@pytest.fixture
def bench(store: Store) -> AtTheBench:
    """The job at the bench, nothing told yet."""
    return at_the_bench(store)


def tags(following: dict[str, object]) -> list[str]:
    """Names of the beads to come."""
    return [bead["tag"] for bead in following["next"]]  # type: ignore[attr-defined, index]


def test_before_anything_is_told_the_plans_own_first_beads_are_next(bench: AtTheBench) -> None:
    """An empty log: not begun, nothing laid, the beads of the plan in its order."""
    following = bench.following()
    assert following["state"] == "not begun"
    assert (following["laid"], following["of"], following["tacks_set"]) == (0, 8, 0)
    assert tags(following) == bench.plan_order()
    assert (following["doubts"], following["stop"], following["burning"]) == ([], None, None)
    assert following["number"] == 2 and following["plan"] == 2


def test_an_answer_is_whole_json(bench: AtTheBench) -> None:
    """Every answer goes to pages as strict JSON."""
    bench.lay(bench.plan_order()[0], 30)
    bench.tap("temperature", bench.plan_order()[1], 2, value="40")
    again = json.loads(json.dumps(bench.following(), allow_nan=False))
    first = again["next"][0]
    for field in (
        "tag",
        "number",
        "from",
        "to",
        "datum",
        "direction",
        "turns",
        "position",
        "start_at",
        "spot",
    ):
        assert first[field] not in (None, ""), field
    assert again["drift"][0]["measured_c"] == 40.0


def test_tacks_that_are_told_are_counted_and_the_first_bead_waits_for_the_rest(bench: AtTheBench) -> None:
    """While tacks are set, the state is tacking, and the first bead starts after those that are missing."""
    before = bench.following()
    for number in range(2):
        bench.tap("tack", f"T{number + 1}", 60 - 20 * number)
    following = bench.following()
    assert following["state"] == "tacking"
    assert following["tacks_set"] == 2 < following["tacks_of"]
    assert tags(following) == bench.plan_order()
    assert following["next"][0]["start_at"] < before["next"][0]["start_at"]


def test_once_the_tacks_are_done_the_first_bead_is_waited_for_or_ready(bench: AtTheBench) -> None:
    """After "tacks done" all tacks count, and the plan's first bead is next."""
    bench.tap("tacks done", ago=600)
    following = bench.following()
    assert following["state"] == "ready"
    assert following["tacks_set"] == following["tacks_of"]
    assert tags(following)[0] == bench.plan_order()[0]


def test_while_an_arc_burns_the_state_is_welding(bench: AtTheBench) -> None:
    """A start without a stop: the bead burns since it was tapped, and is neither laid nor to come."""
    first, second, *_ = bench.plan_order()
    started = bench.tap("start", first, 3)
    following = bench.following()
    assert following["state"] == "welding"
    assert following["burning"]["tag"] == first
    assert following["burning"]["number"] == started.number
    assert following["burning"]["since"] == f"{bench.now - timedelta(seconds=3):%Y-%m-%dT%H:%M:%SZ}"
    assert following["laid"] == 0 and tags(following)[0] == second


def test_after_a_stop_the_bead_is_laid(bench: AtTheBench) -> None:
    """A start and a stop: one bead laid, the next one of the plan to come, as the record's last event says."""
    first, second, *_ = bench.plan_order()
    bench.lay(first, 20)
    following = bench.following()
    assert (following["laid"], following["burning"]) == (1, None)
    assert tags(following)[0] == second
    assert following["number"] == 4


def test_after_the_last_bead_all_is_done(bench: AtTheBench) -> None:
    """All beads laid: done, nothing to come, and the shape of the housing as it is."""
    for place, bead in enumerate(bench.plan_order()):
        bench.lay(bead, 60.0 * (9 - place))
    following = bench.following()
    assert (following["state"], following["laid"], following["next"]) == ("done", 8, [])
    assert following["shape"]["camber"][0]["words"]
    assert following["spot_now_c"] is None


def test_a_withdrawn_start_never_was(bench: AtTheBench) -> None:
    """What is taken back does not count; the answer takes the withdrawal into account."""
    started = bench.tap("start", bench.plan_order()[0], 3)
    taken = bench.take_back(started)
    following = bench.following()
    assert (following["state"], following["number"]) == ("not begun", taken.number)


def test_a_start_long_ago_without_a_stop_is_asked_about(bench: AtTheBench) -> None:
    """Power cut in the middle of a bead: after three times its arc's time it no longer burns, and is asked about."""
    first = bench.plan_order()[0]
    started = bench.tap("start", first, 600)
    following = bench.following()
    assert following["burning"] is None
    assert (following["unfinished"]["tag"], following["unfinished"]["number"]) == (first, started.number)
    assert following["unfinished"]["to"]
    assert f"What happened to bead {first}?" in following["doubts"][0]
    assert following["laid"] == 0


@pytest.mark.parametrize(
    "cells",
    [
        {"event": "start", "bead": "Z99"},
        {"event": "dance"},
        {"event": "temperature", "bead": "A1", "value": "9000"},
        {"event": "temperature", "what": "the moon", "value": "40"},
        {"event": "stop"},
        {"event": "tack", "bead": "T999"},
        {"event": "start", "bead": '";\n=cmd'},
    ],
)
def test_what_cannot_be_used_is_a_doubt_with_its_number_and_breaks_nothing(
    bench: AtTheBench, cells: dict[str, str]
) -> None:
    """An entry nobody can use, alone and beside good ones: the answer comes, and asks about that event."""
    told = bench.tap(**{"ago": 30.0, **cells})  # type: ignore[arg-type]
    assert any(f"event {told.number}" in doubt for doubt in bench.following()["doubts"])
    bench.lay(bench.plan_order()[0], 20)
    following = bench.following()
    assert following["laid"] == 1
    assert any(f"event {told.number}" in doubt for doubt in following["doubts"])


def test_a_cracked_tack_says_stop_until_the_next_arc(bench: AtTheBench) -> None:
    """A tack told to be gone once welding has begun stops the work; the next start takes that back."""
    first, second, *_ = bench.plan_order()
    bench.lay(first, 200)
    bench.tap("no tack", "T2", 100)
    following = bench.following()
    assert following["stop"].startswith("T2 has cracked")
    assert following["tacks_out"] == ["T2"]
    bench.tap("start", second, 3)
    assert bench.following()["stop"] is None


def test_the_final_state_is_that_of_a_replan_of_the_same_log(bench: AtTheBench, tmp_path: Path) -> None:
    """The companion and `axlewright replan` tell the same of the same log, told event by event or straight."""
    order = bench.plan_order()
    before: tuple[dict[str, object], ...] = ()
    for place, bead in enumerate(order[:5]):
        bench.lay(bead, 60.0 * (6 - place))
        following = small_follower().answer(replace(bench.asked(), before=before))
        before = tuple(following["next"])
    bench.tap("temperature", order[5], 20, value="45")
    asking = bench.asked()
    following = small_follower().answer(asking)
    log, plan = tmp_path / "log.csv", tmp_path / "plan.json"
    log.write_text(asking.log, encoding="utf-8")
    plan.write_text(small_plan(), encoding="utf-8")
    job = parse_job(SMALL, "job.toml")
    straight = tasks.replan_job(job, log, plan, as_log_time(asking.at), benches.CACHE[0])
    assert following["laid"] == len({bead.tag for bead in straight.laid}) == 5
    assert tags(following) == [bead.tag for bead in straight.way.beads]
    assert following["drift"][0]["expected_c"] == round(straight.readings[0].expected_c, 1)
    assert [bead["spot_c"] for bead in following["next"]] == [
        round(bead.bead.spot_c, 1) for bead in straight.way.beads
    ]


def test_only_what_is_otherwise_has_changed(bench: AtTheBench) -> None:
    """A bead laid as planned changes nothing; one laid out of order changes the beads whose place it takes."""
    order = bench.plan_order()
    bench.lay(order[0], 300)
    first = bench.following()
    bench.lay(order[1], 200)
    following = small_follower().answer(replace(bench.asked(), before=tuple(first["next"])))
    assert following["changed"] == []
    swapped = list(following["next"])
    swapped[0], swapped[1] = swapped[1], swapped[0]
    otherwise = small_follower().answer(replace(bench.asked(), before=tuple(swapped)))
    assert otherwise["changed"] == [following["next"][0]["tag"], following["next"][1]["tag"]]


def test_midnight_between_two_beads_is_no_matter(bench: AtTheBench) -> None:
    """Times have their dates: a night between two beads is a night."""
    first, second, *_ = bench.plan_order()
    bench.lay(first, 14 * 3600.0)
    bench.lay(second, 60.0)
    following = bench.following()
    assert (following["laid"], following["doubts"]) == (2, [])


def test_a_clock_set_back_does_not_run_time_back(bench: AtTheBench) -> None:
    """Events whose clock was set back by an hour between them stand in the order of their numbers, an hour later."""
    first, second, *_ = bench.plan_order()
    bench.lay(first, 60.0)
    bench.lay(second, 20.0)
    hour = timedelta(hours=1)
    events = bench.store.events(bench.job)
    back = [*events[:4], *(replace(e, at=e.at - hour, told_at=e.told_at - hour) for e in events[4:])]
    moved, ahead = in_step(back, datetime.now(UTC) - hour)
    assert hour - timedelta(seconds=5) < ahead < hour + timedelta(seconds=5)
    times = [event.told_at for event in moved[2:]]
    assert times == sorted(times)


def test_a_device_whose_clock_runs_ahead_tells_no_future(bench: AtTheBench) -> None:
    """What is dated later than it was written down counts as happening then."""
    bench.tap("start", bench.plan_order()[0], ago=-7200.0)
    following = bench.following()
    assert (following["state"], following["doubts"]) == ("welding", [])


def test_without_a_plan_there_is_nothing_to_follow(store: Store) -> None:
    """A job without a plan is refused in plain words."""
    job = start_job(store, SMALL, "job.toml", Telling("Ann")).job
    with pytest.raises(RecordError, match="Make a plan first"):
        asked(store, job, datetime.now(UTC))


def test_an_answer_to_a_small_job_is_quick(bench: AtTheBench) -> None:
    """The model is loaded once: an answer to eight beads takes less than the fifth of a second that 98 may take."""
    bench.lay(bench.plan_order()[0], 30 + ARC)
    question = bench.asked()
    small_follower().answer(question)
    took = []
    for _ in range(3):
        began = time.perf_counter()
        small_follower().answer(question)
        took.append(time.perf_counter() - began)
    assert min(took) < 0.2
