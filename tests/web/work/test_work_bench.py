"""The work bench: what it takes, how it tells, what it writes, and that nothing it runs outlives or blocks the shop."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from web.work.benches import ENDLESS, QUICK, Shop, opened

from axlewright.errors import OptionError, RecordError, SignedOffError
from axlewright.job.demo_jobs import demo_text
from axlewright.record.events import Event
from axlewright.tasks.keeping import change_job_file, sign
from axlewright.tasks.long_asked import LongWork, long_work
from axlewright.tasks.standing import stands as state
from axlewright.tasks.telling import Telling
from axlewright.web.work import bench as work_bench

SHEETS = {"work-sheet-a4.pdf", "work-sheet-us-letter.pdf"}


@pytest.fixture(scope="module")
def planned(shop: Shop) -> Event:
    """A plan made while everything that was told of it was written down."""
    asked = shop.ask(shop.job(), "plan", **QUICK)
    told = []
    while (found := shop.now(asked.id)).running:
        if not told or (found.stage, found.done) != (told[-1].stage, told[-1].done):
            told.append(found)
        time.sleep(0.005)
    TOLD[:] = told
    return shop.done(asked.id)


TOLD = []
"""What was told of the plan above."""


def test_a_plan_is_written_down_as_one_event(shop: Shop, planned: Event) -> None:
    """The event says who asked and what it stands on, and brings plan, orders, view, drawings and sheets."""
    names = {line.name for line in planned.documents}
    assert names >= {"plan.json", "orders.json", "view.bin", "weld-map-1.svg", "trade-off.png", *SHEETS}
    assert (planned.kind, planned.who) == ("plan", "Ann")
    assert planned.body["stands_on"] == dict.fromkeys(("before", "after", "plan", "check")) | {"job_file": 1}
    trade = json.loads(shop.text(planned, "plan.json"))["trade_off"]
    assert planned.body["words"] == trade["why"]
    assert planned.body["chosen"] == planned.body["recommended"] == trade["chosen"]
    assert planned.body["beads"] == 8
    types = {line.name: line.media_type for line in planned.documents}
    assert types["work-sheet-a4.pdf"] == "application/pdf" and types["trade-off.svg"] == "image/svg+xml"


def test_its_progress_is_live(planned: Event) -> None:
    """Stages are told as they come, countable ones with counts that only grow, the search with the best so far."""
    stages = list(dict.fromkeys(one.stage for one in TOLD))
    assert stages[0] in ("waiting for its turn", "getting ready")
    assert {"looking for a better order", "drawing", "writing it down"} <= {*stages, "writing it down"}
    search = [one for one in TOLD if one.searching]
    assert search and all(one.of == 60 and "mm" in one.so_far for one in search)
    counts = [one.done for one in search if one.done is not None]
    assert counts == sorted(counts)
    assert [one.seconds for one in TOLD] == sorted(one.seconds for one in TOLD)
    assert [one.stages for one in TOLD] == sorted(one.stages for one in TOLD)


@pytest.mark.regression
def test_another_plan_is_chosen_without_a_search_and_after_a_restart(
    shop: Shop, planned: Event, data: Path
) -> None:
    """A shop opened anew takes a plan by its number: the figures of its point, the same trade-off, the same orders."""
    again = opened(shop.data)
    try:
        number = 1 if planned.body["chosen"] != 1 else 2
        event = again.done(again.ask(planned.job, "choose", number=str(number)).id)
        before, now = (json.loads(shop.text(one, "plan.json")) for one in (planned, event))
        point = before["trade_off"]["points"][number - 1]
        totals = now["totals"]
        same = ("bench_min", "hottest_spot_c", "distortion_mm", "tack_utilisation", "turns")
        assert {name: totals[name] for name in same} == {name: point[name] for name in same}
        assert now["trade_off"] == before["trade_off"] | {"chosen": number}
        assert now["common_practice"]["totals"] == before["common_practice"]["totals"]
        assert shop.text(event, "orders.json") == shop.text(planned, "orders.json")
        assert event.body["chosen"] == number
        assert event.body["words"].startswith(f"Plan {number} was chosen. Plan ")
        told = again.ended(again.ask(planned.job, "choose", number=99).id)
        assert told.status == "failed" and "a number of the trade-off" in told.faults[0]
    finally:
        again.work.close()
        again.store.close()


def test_a_search_is_stopped_with_its_best(shop: Shop) -> None:
    """Stopping a search keeps the best so far; what changed meanwhile makes it out of date, not lost."""
    job = shop.job()
    work = shop.ask(job, "plan", **ENDLESS)
    shop.until(work.id, lambda found: found.searching)
    text = shop.text(shop.store.events(job)[0], "job.toml")
    change_job_file(shop.store, job, text.replace("plain tube", "another"), "job.toml", Telling("Ben"))
    shop.work.stop(work.id)
    found = shop.now(work.id)
    assert (found.stage, found.searching, found.running) == ("taking the best plan so far", False, True)
    shop.work.stop(work.id)
    event = shop.done(work.id)
    assert json.loads(shop.text(event, "plan.json"))["trade_off"]["stopped"]
    stands = state(shop.store, job)
    assert stands.latest["plan"] == event
    assert event.body["stands_on"]["job_file"] == 1 and not stands.current(event)
    with pytest.raises(RecordError, match=r"out of date.*Plan again"):
        shop.ask(job, "choose", number=1)


def test_work_is_stopped_at_once(shop: Shop) -> None:
    """Stopping altogether ends the process and leaves nothing in the record; the next piece works."""
    job = shop.job()
    work = shop.ask(job, "plan", **ENDLESS)
    shop.until(work.id, lambda found: found.searching)
    running = shop.work.processes
    began = time.monotonic()
    shop.work.stop(work.id, keep=False)
    found = shop.now(work.id)
    assert (found.status, found.event) == ("stopped", None)
    assert time.monotonic() - began < 0.5
    assert not set(running) & set(shop.work.processes)
    wait_gone(running)
    assert len(shop.store.events(job)) == 1
    works(shop)


def test_before_there_is_a_plan_to_keep_stopping_stops_altogether(shop: Shop) -> None:
    """A wish to keep the best cannot be met before the search begins, and not where there is no search."""
    job = shop.measured_job()
    for kind in ("check", "plan"):
        work = shop.ask(job, kind)
        shop.work.stop(work.id, keep=True)
        assert shop.now(work.id).status == "stopped"


def test_the_death_of_a_process_is_told_plainly(shop: Shop) -> None:
    """A process killed from outside fails its piece with a remedy, and the next piece gets another process."""
    work = shop.ask(shop.job(), "plan", **ENDLESS)
    shop.until(work.id, lambda found: found.searching)
    (process,) = shop.work.processes
    os.kill(process, signal.SIGKILL if hasattr(signal, "SIGKILL") else signal.SIGTERM)
    found = shop.ended(work.id)
    assert found.status == "failed"
    assert "process was ended from outside" in found.faults[0] and "Ask for it again" in found.faults[0]
    works(shop)


def test_what_breaks_is_told_plainly_and_kept(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    """An error that should not be shows no trace; the trace is in a file in the shop's folder."""
    broken = LongWork("check", None, "no job file at all", before="nothing")  # type: ignore[arg-type]
    monkeypatch.setattr(work_bench, "long_work", lambda *_: broken)
    work = shop.ask(shop.job(), "plan")
    monkeypatch.setattr(work_bench, "long_work", lambda *_: LongWork("nonsense", None, ""))  # type: ignore[arg-type]
    other = shop.ask(shop.job(), "plan")
    assert shop.ended(work.id).status == "failed" and "job.toml" in shop.ended(work.id).faults[0]
    found = shop.ended(other.id)
    assert found.status == "failed" and "something broke inside axlewright" in found.faults[0]
    assert "Traceback" not in found.faults[0] and "KeyError" not in found.faults[0]
    (kept,) = (shop.data / "broken").glob("work-*.txt")
    assert "KeyError: 'nonsense'" in kept.read_text(encoding="utf-8")
    assert str(kept) in found.faults[0]


def test_the_same_asked_twice_is_one_piece(shop: Shop) -> None:
    """A double click, another tablet and a reload find the piece that runs; so does a retry of what is done."""
    job = shop.measured_job()
    telling = Telling("Ann")
    first = shop.work.ask(job, "check", {}, telling)
    assert shop.work.ask(job, "check", {}, telling).id == first.id
    assert shop.ask(job, "check").id == first.id
    assert [one.id for one in shop.work.of_job(job)] == [first.id]
    event = shop.done(first.id)
    assert shop.work.ask(job, "check", {}, telling).id == first.id
    again = opened(shop.data)
    retried = again.work.ask(job, "check", {}, telling)
    assert (retried.status, retried.event) == ("done", event.number)
    again.work.close()
    again.store.close()
    assert sum(one.kind == "check" for one in shop.store.events(job)) == 1


def test_other_options_take_the_place_of_what_runs(shop: Shop) -> None:
    """Asked again with something else, or from what has changed since, work begins anew and the earlier stops."""
    job = shop.measured_job()
    first = shop.ask(job, "plan", **ENDLESS)
    second = shop.ask(job, "plan", plans=1_000_000, seconds=500)
    change_job_file(shop.store, job, demo_text("rescue-truck") + "\n", "job.toml", Telling("Ann"))
    third = shop.ask(job, "plan", plans=1_000_000, seconds=500)
    found = {one.id: one.status for one in shop.work.of_job(job)}
    assert len({first.id, second.id, third.id}) == 3
    assert (found[first.id], found[second.id]) == ("stopped", "stopped")
    shop.work.stop(third.id, keep=False)


def test_two_pieces_run_at_once_and_a_third_waits(shop: Shop) -> None:
    """Of three jobs two are worked on; the third begins when one ends, and only one process is kept then."""
    asked = [shop.ask(shop.job(), "plan", **ENDLESS) for _ in range(3)]
    for one in asked[:2]:
        shop.until(one.id, lambda found: found.searching)
    assert shop.now(asked[2].id).status == "waiting"
    assert len(shop.work.processes) == 2
    shop.work.stop(asked[0].id, keep=False)
    assert shop.now(asked[2].id).status == "working"
    for one in asked:
        shop.work.stop(one.id, keep=False)
    assert all(not shop.now(one.id).running for one in asked)
    assert len(shop.work.processes) <= 1


def test_one_process_is_kept_ready(shop: Shop) -> None:
    """When two pieces have come to their ends one process waits for the next, and no more."""
    jobs = [shop.measured_job() for _ in range(2)]
    for job in jobs:
        shop.judged(job)
    asked = [shop.ask(job, "correct", ways=["press"]) for job in jobs]
    for one in asked:
        shop.done(one.id)
    assert len(shop.work.processes) == 1


def test_what_is_signed_is_changed_only_for_a_reason(shop: Shop) -> None:
    """A check that is signed is not made anew without a reason, which is asked for before any work; it is kept."""
    job = shop.measured_job()
    items = (True, True)
    sign(shop.store, job, "straight enough", items, Telling("Ben"))
    with pytest.raises(SignedOffError, match=r"straight enough.*reason"):
        shop.ask(job, "check")
    assert shop.done(shop.ask(job, "check", "measured again").id).reason == "measured again"


def test_a_correction_stands_on_its_check(shop: Shop) -> None:
    """A correction brings its figures, drawing and sheets, and says which check and which readings it stands on."""
    job = shop.measured_job()
    check = shop.judged(job)
    event = shop.done(shop.ask(job, "correct", ways=["press"]).id)
    assert event.body["stands_on"] == {
        "job_file": 1, "before": 2, "after": 3, "check": check.number, "plan": None,
    }  # fmt: skip
    assert (event.kind, event.body["cycle"], event.body["decision"]) == ("correction", 1, "correct")
    assert {line.name for line in event.documents} == {
        "correction.json", "correction.svg", "correction.png",
        "correction-sheet-a4.pdf", "correction-sheet-us-letter.pdf",
    }  # fmt: skip
    text = shop.text(event, "correction.json")
    shop.read(job, "after")
    shop.judged(job)
    work = long_work(shop.store, state(shop.store, job), "correct", {"cracked": "yes"})
    assert work.earlier == (text,), "one that was planned on an earlier check may have been carried out"
    assert (work.options.cycle, work.options.cracked, len(work.options.ways)) == (2, True, 3)
    second = shop.done(shop.ask(job, "correct", ways=["heat lines"]).id)
    assert second.body["cycle"] == 2
    assert long_work(shop.store, state(shop.store, job), "correct", {}).earlier == (text,)


def test_readings_are_judged_before_they_are_corrected(shop: Shop) -> None:
    """Without a check, or where readings changed since, a correction is refused with what to do."""
    job = shop.measured_job()
    with pytest.raises(RecordError, match="judged first"):
        shop.ask(job, "correct")
    shop.judged(job)
    shop.read(job, "before")
    with pytest.raises(RecordError, match="judged first"):
        shop.ask(job, "correct")


@pytest.mark.parametrize(
    ("kind", "options"),
    [
        ("choose", {}),
        ("choose", {"number": "two"}),
        ("correct", {"ways": ["hammer"]}),
        ("plan", {"seconds": "0"}),
        ("check", {"number": 1}),
    ],
)
def test_options_there_are_not_are_refused(shop: Shop, kind: str, options: dict[str, object]) -> None:
    """What cannot be asked for is refused before any work, by name."""
    with pytest.raises(OptionError, match=next(iter(options), "number")):
        shop.work.ask(shop.job(), kind, options, Telling("Ann"))  # type: ignore[arg-type]


@pytest.mark.parametrize("kind", ["choose", "check", "correct"])
def test_what_is_missing_is_told_before_any_work(shop: Shop, kind: str) -> None:
    """Without a plan there is nothing to choose from, without readings nothing to judge or correct."""
    with pytest.raises(RecordError, match="missing"):
        shop.ask(shop.job(), kind, **({"number": 1} if kind == "choose" else {}))  # type: ignore[arg-type]


AS_A_SHOP = """
import sys, time
sys.path.insert(0, {tests!r})
if __name__ == "__main__":
    from pathlib import Path
    from web.work.benches import ENDLESS, opened
    shop, idle = opened(Path({data!r})), opened(Path({data!r}))
    idle.work.warm()
    work = shop.ask(shop.job(), "plan", **ENDLESS)
    shop.until(work.id, lambda found: found.searching)
    print(*shop.work.processes, *idle.work.processes, flush=True)
    time.sleep(60)
"""


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="the system has no such signal")
def test_no_process_outlives_the_server(shop: Shop, data: Path) -> None:
    """A server killed in the middle of a search takes its processes with it, that which works and that which waits."""
    script = data.parent / "shop.py"
    script.write_text(
        AS_A_SHOP.format(tests=str(Path(__file__).parents[2]), data=str(data)), encoding="utf-8"
    )
    with subprocess.Popen([sys.executable, str(script)], stdout=subprocess.PIPE, text=True) as server:
        assert server.stdout is not None
        processes = tuple(int(word) for word in server.stdout.readline().split())
        assert len(processes) == 2
        server.kill()
    wait_gone(processes)


def test_closing_the_shop_ends_all_work(shop: Shop, data: Path) -> None:
    """When the shop is closed its processes are gone, and nothing more is begun."""
    other = opened(data)
    work = other.ask(other.job(), "plan", **ENDLESS)
    processes = other.work.processes
    other.work.close()
    assert other.now(work.id).status == "stopped"
    wait_gone(processes)
    other.work.warm()
    assert other.work.processes == ()
    other.store.close()


def test_the_server_stays_light() -> None:
    """Opening the work bench fetches nothing of model, search, drawing and printing; the working process does."""
    found = subprocess.run(
        [sys.executable, "-c", "import sys, axlewright.web.pages.work; print(*sys.modules)"],
        capture_output=True,
        text=True,
        check=True,
    ).stdout.split()
    heavy = {"matplotlib", "typst", "threadpoolctl", "axlewright.plan.bench", "axlewright.distortion.model"}
    assert not heavy & set(found)


def works(shop: Shop) -> None:
    """That the next piece of work is taken up."""
    work = shop.ask(shop.job(), "plan", **ENDLESS)
    shop.until(work.id, lambda found: found.searching)
    shop.work.stop(work.id, keep=False)


def wait_gone(processes: tuple[int, ...]) -> None:
    """Wait until no such process is there."""
    end = time.monotonic() + 10.0
    while any(map(alive, processes)):
        assert time.monotonic() < end, f"still there: {processes}"
        time.sleep(0.02)


def alive(process: int) -> bool:
    """Whether there is a process of that number."""
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    return True
