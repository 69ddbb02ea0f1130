"""The bench as pages have it: taps, the stream, and companions in processes of their own."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
import urllib.error
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import pytest
from web.companion.bench_made import at_the_bench
from web.companion.served_bench import Ears, ServedBench, served_bench
from web.serving import serve_command

from axlewright.record.opening import open_store
from axlewright.tasks.telling import Telling
from axlewright.web.companion.companion import Settings
from axlewright.web.companion.companions import Companions


def until(so: Callable[[], bool], seconds: float = 30.0) -> None:
    """Wait until something is so."""
    end = time.monotonic() + seconds
    while not so():
        assert time.monotonic() < end, "it did not come to pass"
        time.sleep(0.02)


def alive(pid: int) -> bool:
    """Whether a process is there and no mere entry in a table."""
    try:
        return Path(f"/proc/{pid}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False


def test_a_tap_is_acknowledged_and_its_answer_comes_by_the_stream(served: ServedBench) -> None:
    """The acknowledgement names the event, the stream tells it, and then what follows from it."""
    bench = at_the_bench(served.store, "tap")
    ears = served.listen(bench.job)
    first = ears.following(2).data
    assert first["state"] == "not begun"
    told = served.tap(bench.job, event="start", bead=first["next"][0]["tag"], key="k-1")
    assert told["number"] == 3 and told["at"].endswith("Z")
    assert ears.until(lambda heard: heard.event == "told").data == {"number": 3}
    following = ears.following(3)
    assert following.data["state"] == "welding"
    assert following.id.startswith("3-")


def test_a_retry_counts_once(served: ServedBench) -> None:
    """The same key again gets the same number."""
    bench = at_the_bench(served.store, "retry")
    bead = bench.plan_order()[0]
    numbers = [served.tap(bench.job, event="start", bead=bead, key="again")["number"] for _ in range(2)]
    assert numbers == [3, 3]
    assert len(served.store.events(bench.job)) == 3


def test_several_taps_in_a_row_are_answered_by_the_last(served: ServedBench) -> None:
    """Each is acknowledged at once; the answer that arrives names the number it takes into account."""
    bench = at_the_bench(served.store, "many")
    ears = served.listen(bench.job)
    ears.following(2)
    with ThreadPoolExecutor(10) as taps:
        told = list(taps.map(lambda n: served.tap(bench.job, event="note", note=f"note {n}"), range(20)))
    assert sorted(one["number"] for one in told) == list(range(3, 23))
    assert ears.following(22).data["number"] == 22
    answers = [heard for heard in ears.all if heard.event == "following"]
    assert len(answers) < 21


def test_a_page_that_comes_back_is_not_told_what_it_has_heard(served: ServedBench) -> None:
    """With Last-Event-ID the stream begins with what is new."""
    bench = at_the_bench(served.store, "back")
    mark = served.listen(bench.job).following(2).id
    again = served.listen(bench.job, mark)
    told = served.tap(bench.job, event="note", note="after")
    assert again.following(2).data["number"] == told["number"]
    assert not [heard for heard in again.all if heard.id == mark]


def test_a_process_that_dies_is_started_again_and_answers(served: ServedBench) -> None:
    """A companion killed from outside comes back by itself, and the next tap is answered."""
    bench = at_the_bench(served.store, "killed")
    ears = served.listen(bench.job)
    ears.following(2)
    before = served.shop.companion.processes[bench.job]
    os.kill(before, signal.SIGKILL)
    until(lambda: served.shop.companion.processes.get(bench.job) not in (None, before))
    told = served.tap(bench.job, event="start", bead=bench.plan_order()[0])
    assert ears.following(told["number"]).data["state"] == "welding"


def test_two_jobs_are_followed_at_most(served: ServedBench) -> None:
    """With a third job the one longest not asked for is let go, and comes back when it is asked for."""
    jobs = [at_the_bench(served.store, f"lru-{n}").job for n in range(3)]
    for job in jobs:
        served.listen(job).following(2)
    until(lambda: set(served.shop.companion.processes) == set(jobs[1:]))
    ears = served.listen(jobs[0])
    told = served.tap(jobs[0], event="note", note="still here")
    assert ears.following(told["number"]).data["number"] == told["number"]


def test_a_new_plan_is_taken_up(served: ServedBench) -> None:
    """Events told by other ways are found: a plan made anew is followed from then on."""
    bench = at_the_bench(served.store, "replanned")
    ears = served.listen(bench.job)
    assert ears.following(2).data["plan"] == 2
    again = at_the_bench(served.store, "replanned")
    assert again.job == bench.job
    served.shop.companion.look(bench.job)
    assert ears.following(3).data["plan"] == 3


@pytest.mark.parametrize(
    ("told", "status", "words"),
    [
        ({"event": ""}, 422, "must be an event of the bead log"),
        ({"event": "start", "bead": "A1", "colour": "red"}, 422, "colour"),
        ({"event": "start", "told_at": "2026-03-14T13:00:00"}, 422, "told_at"),
        ({"kind": "withdrawal", "amends": 2}, 404, "not something told at the bench"),
        ({"kind": "withdrawal"}, 404, "not something told at the bench"),
        ({"kind": "withdrawal", "amends_key": "nobody's"}, 404, "not something told at the bench"),
        ({"event": "note", "note": "x" * 5000}, 422, "note"),
    ],
)
def test_what_cannot_be_written_down_is_refused_in_words(
    served: ServedBench, told: dict[str, object], status: int, words: str
) -> None:
    """A refusal is JSON with what is wrong, and nothing is written."""
    bench = at_the_bench(served.store, "refused")
    before = len(served.store.events(bench.job))
    with pytest.raises(urllib.error.HTTPError) as refused:
        served.tap(bench.job, **told)
    assert refused.value.code == status
    assert words in refused.value.read().decode()
    assert len(served.store.events(bench.job)) == before


def test_a_tap_is_taken_back_by_its_number_or_its_key(served: ServedBench) -> None:
    """Taking back what was tapped: by number, or by the key where the page does not know the number yet."""
    bench = at_the_bench(served.store, "undo")
    bead = bench.plan_order()[0]
    ears = served.listen(bench.job)
    first = served.tap(bench.job, event="start", bead=bead, key="one")
    served.tap(bench.job, kind="withdrawal", amends=first["number"], words="a slip")
    second = served.tap(bench.job, event="start", bead=bead, key="two")
    last = served.tap(bench.job, kind="withdrawal", amends_key="two", words="a slip")
    assert served.store.events(bench.job)[-1].amends == second["number"]
    assert ears.following(last["number"]).data["state"] == "not begun"


def test_a_companion_that_nobody_asks_is_let_go(places: Path) -> None:
    """After its idle time the process ends; the next question starts another."""
    store = open_store(places / "idle")
    companions = Companions(store, settings=replace(Settings(store), idle=0.5))
    try:
        job = at_the_bench(store, "idle").job
        assert companions.latest(job, 60.0).following is not None
        until(lambda: companions.processes == {})
        companions.told(job, 2)
        until(lambda: bool(companions.processes))
    finally:
        companions.close()
        store.close()


def test_companions_end_with_the_shop(places: Path) -> None:
    """Once the shop is closed, no process is left, and open streams have ended."""
    with served_bench(places / "closing") as shop:
        bench = at_the_bench(shop.store, "closing")
        ears = shop.listen(bench.job)
        ears.following(2)
        (process,) = shop.shop.companion.processes.values()
        began = time.monotonic()
    assert time.monotonic() - began < 5.0
    until(lambda: not alive(process), 5.0)


AS_A_SHOP = """
import sys, time
sys.path.insert(0, {tests!r})
from pathlib import Path
from web.companion.bench_made import at_the_bench
from axlewright.record.opening import open_store
from axlewright.web.companion.companions import Companions

if __name__ == "__main__":
    store = open_store(Path({data!r}))
    companions = Companions(store)
    job = at_the_bench(store).job
    assert companions.latest(job, 60.0).following is not None
    print(companions.processes[job], flush=True)
    time.sleep(600)
"""


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="the system has no such signal")
def test_no_companion_outlives_a_server_that_is_killed(places: Path) -> None:
    """A server killed outright takes its companion with it."""
    script = places / "shop.py"
    tests = str(Path(__file__).parents[2])
    script.write_text(AS_A_SHOP.format(tests=tests, data=str(places / "killed")), encoding="utf-8")
    with subprocess.Popen([sys.executable, str(script)], stdout=subprocess.PIPE, text=True) as server:
        assert server.stdout is not None
        process = int(server.stdout.readline())
        assert alive(process)
        server.kill()
    until(lambda: not alive(process), 5.0)


@pytest.mark.skipif(os.name == "nt", reason="Ctrl+C is sent otherwise there")
def test_ctrl_c_closes_the_shop_while_a_page_listens(places: Path) -> None:
    """An open stream does not hold up the end of the server, and nothing is said about it."""
    data = places / "interrupted"
    store = open_store(data)
    job = at_the_bench(store).job
    store.close()
    command = serve_command(data)
    with subprocess.Popen(command, stderr=subprocess.PIPE, text=True) as server:
        try:
            assert server.stderr is not None
            address = server.stderr.readline().split()[-1]
            Ears(f"{address}/jobs/{job}/bench/stream").following(2)
            began = time.monotonic()
            server.send_signal(signal.SIGINT)
            assert server.wait(10) in (0, 130, -signal.SIGINT)
            assert time.monotonic() - began < 4.0
            said = server.stderr.read()
            assert "Traceback" not in said and "Cancel" not in said
        finally:
            server.kill()


def test_a_tap_on_signed_work_asks_for_the_reason(served: ServedBench) -> None:
    """Beads that are signed off are only told of with a reason; a page gets that as JSON."""
    bench = at_the_bench(served.store, "signed")
    covers = {"beads": 0}
    body = {"hold_point": "weld", "items": (), "covers": covers}
    served.store.append(bench.job, Telling("Ann").event("sign-off", body))
    with pytest.raises(urllib.error.HTTPError) as refused:
        served.tap(bench.job, event="start", bead="A1")
    assert refused.value.code == 409
    assert "signed" in refused.value.read().decode()
    assert served.tap(bench.job, event="start", bead="A1", reason="one was missed")["number"] == 4


def test_opening_the_bench_fetches_nothing_heavy() -> None:
    """The server stays light: model, search and numbers are fetched by the companion's process alone."""
    script = "import sys, axlewright.web.serve, axlewright.web.pages.bench; print(*sys.modules)"
    found = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert not {"numpy", "scipy", "threadpoolctl", "axlewright.tasks.following"} & set(found.stdout.split())
