"""The list of jobs, a job, its stages, its history and its notes, asked in process."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta

import pytest
from fastapi.testclient import TestClient
from web.shop_made import MadeUp, made_up
from web.straight import made

from axlewright.record.events import Event
from axlewright.record.stages import stages
from axlewright.record.state import state_of
from axlewright.record.store import Store
from axlewright.tasks.standing import stands as state
from axlewright.web.in_words import event_words, size, when
from axlewright.web.next_step import next_step
from axlewright.web.pages.history import lines_of
from axlewright.web.pages.people import here_only


def text_of(html: str) -> str:
    """Words of a page without its markup, in one line."""
    body = html[html.index("<main") :] if "<main" in html else html
    return " ".join(re.sub(r"<[^>]*>", " ", body).split())


def test_an_empty_shop_tells_a_newcomer_what_to_do(client: TestClient) -> None:
    """Without a job the list says what one is, and offers a new one, the demo and an archive."""
    page = client.get("/").text
    assert "The shop has no job yet" in page
    assert 'href="/jobs/new"' in page
    assert 'action="/jobs/demo"' in page
    assert 'action="/jobs/take-in"' in page


def test_the_list_says_which_job_needs_me(client: TestClient, store: Store) -> None:
    """Each job shows its stage and place in the line, what it waits for, and its last event with who and when."""
    made_up(store, "Farm truck", "FT-8")
    words = text_of(client.get("/").text)
    for part in (
        "Farm truck",
        "FT-8",
        "intake 1 of 10",
        "Measure straightness before any work and 1 more",
        "just now, Ann",
    ):
        assert part in words


def test_many_jobs_can_be_searched(client: TestClient, store: Store) -> None:
    """Jobs are found by words of name or reference, and by stage; a search without a find says so."""
    made_up(store, "Farm truck", "FT-8")
    for number in range(6):
        made_up(store, f"Rescue truck {number}", f"RT-{number}").up_to("intake" if number else "strip")
    assert "1 of 7 jobs" in client.get("/?find=farm").text
    assert "1 of 7 jobs" in client.get("/?find=rt-3").text
    assert "5 of 7 jobs" in client.get("/?stage=strip").text
    assert "1 of 7 jobs" in client.get("/?stage=fit-up&find=RESCUE").text
    assert "No job is called so" in client.get("/?find=boat").text


def test_the_list_comes_in_pages(client: TestClient, store: Store) -> None:
    """Of thirty jobs twenty-four are shown at once, the rest on the next page."""
    for number in range(30):
        made_up(store, f"Truck {number:02}", "")
    first, second = client.get("/").text, client.get("/?page=2").text
    assert (first.count('class="over"'), second.count('class="over"')) == (24, 6)
    assert "Older" in first
    assert "Newer" in second


@pytest.mark.parametrize(
    ("walk", "words", "path"),
    [
        (lambda job: None, "Enter the readings before the work", "readings/before"),
        (lambda job: job.readings("before"), "Look and sign", "stages/intake#hold-point"),
        (lambda job: job.up_to("intake"), "Say that strip is done", "stages/strip"),
        (lambda job: job.up_to("strip"), "Make a plan", "plan"),
        (lambda job: job.up_to("weld"), "Enter the readings after the work", "readings/after"),
    ],
)
def test_there_is_one_thing_to_do_now(job: MadeUp, walk: object, words: str, path: str) -> None:
    """At each place in the line the job's page names one thing and leads to where it is done."""
    walk(job)  # type: ignore[operator]
    step = next_step(state(job.store, job.job))
    assert step is not None
    assert (step.words, step.path) == (words, path)


def test_a_finished_job_has_nothing_to_do(client: TestClient, job: MadeUp) -> None:
    """Once every stage is done, nothing is asked for."""
    job.up_to("hand-over")
    assert next_step(state(job.store, job.job)) is None
    assert "Every stage is done" in client.get(f"/jobs/{job.job}").text
    assert "every stage done" in client.get("/").text


def test_once_the_way_back_is_known_the_next_thing_is_to_measure_again(job: MadeUp) -> None:
    """A job that is not straight leads to the correction, and once that is worked out, to the readings after it."""
    job.up_to("check")
    job.check("outside")
    first = next_step(state(job.store, job.job))
    assert first is not None and first.path == "correct"
    made.correction(job, text="{}")
    then = next_step(state(job.store, job.job))
    assert then is not None and then.path == "readings/after"


def test_the_line_of_stages_says_it_in_words(client: TestClient, old_job: MadeUp) -> None:
    """Each of the ten stages says done, here or ahead, beside its shape."""
    page = client.get(f"/jobs/{old_job.job}").text
    said = re.findall(r'<span class="stage-says">(\w+)</span>', page)
    assert said == ["here", "done", "done", *["ahead"] * 7]


def test_every_stage_has_a_page(client: TestClient, old_job: MadeUp) -> None:
    """What is done in a stage, what it needs and the lines of its hold point stand on its page."""
    for stage in stages():
        words = client.get(f"/jobs/{old_job.job}/stages/{stage.name}").text.replace("&#39;", "'")
        assert stage.does in words
        for need in stage.needs:
            assert need.words in words
        for item in stage.hold_point.items if stage.hold_point else ():
            assert item in words


ALL_YES = {f"line-{at}": "yes" for at in range(3)}


def test_signing_a_hold_point(client: TestClient, job: MadeUp) -> None:
    """Every line answered yes and a name sign it; the stage is done with it; the name stays on the device."""
    job.readings("before")
    sent = {**ALL_YES, "who": "Ann Önal", "note": "cold", "key": "one", "done": "yes"}
    for _ in range(2):
        answer = client.post(f"/jobs/{job.job}/stages/intake/sign", data=sent)
        assert answer.status_code == 303
    events = job.store.events(job.job)
    assert [event.kind for event in events[2:]] == ["sign-off", "stage"]
    assert (events[2].who, events[2].body["note"]) == ("Ann Önal", "cold")
    assert client.cookies["who"] == "Ann%20%C3%96nal"
    assert "At the bench: <strong>Ann Önal</strong>" in client.get("/").text


@pytest.mark.parametrize(
    ("left_out", "says"), [({"who": " "}, "Write your name"), ({"line-1": ""}, "every line needs an answer")]
)
def test_half_a_signature_is_none(
    client: TestClient, job: MadeUp, left_out: dict[str, str], says: str
) -> None:
    """Without a name, or with a line unanswered, nothing is signed, and what was answered stays."""
    job.readings("before")
    sent = {**ALL_YES, "who": "Ann", "note": "cold", **left_out}
    answer = client.post(f"/jobs/{job.job}/stages/intake/sign", data=sent)
    assert answer.status_code == 422
    assert says in text_of(answer.text)
    assert ">cold</textarea>" in answer.text
    assert re.search(r'name="line-0" value="yes" required checked', answer.text)
    assert len(job.store.events(job.job)) == 2


def test_a_line_not_found_so_holds_the_stage(client: TestClient, job: MadeUp) -> None:
    """Signed with a line at not yet, the stage is not done, and the page shows which line it is."""
    job.readings("before")
    sent = {**ALL_YES, "line-2": "not yet", "who": "Ann", "done": "yes"}
    assert client.post(f"/jobs/{job.job}/stages/intake/sign", data=sent).status_code == 303
    assert [event.kind for event in job.store.events(job.job)] == ["job file", "readings", "sign-off"]
    assert "not every line was found so" in client.get(f"/jobs/{job.job}/stages/intake").text
    refused = client.post(f"/jobs/{job.job}/stages/intake/done", data={})
    assert refused.status_code == 422
    assert "Sign it first" in refused.text


def test_changes_since_signing_show_plainly(client: TestClient, old_job: MadeUp) -> None:
    """What was changed after it was signed is named with its number, who, and why."""
    words = text_of(client.get(f"/jobs/{old_job.job}/stages/intake").text)
    assert "Changed since it was signed by Ann" in words
    assert "Readings before the work: 29 used, 1 refused No. 16" in words
    assert "Reason: One line was misread" in words


def test_a_stage_goes_without_what_it_needs_only_with_words(client: TestClient, job: MadeUp) -> None:
    """A stage that misses something is done only where a note says why."""
    job.up_to("weld")
    path = f"/jobs/{job.job}/stages/check/done"
    assert client.post(path, data={}).status_code == 422
    assert client.post(path, data={"note": "measured at the customer's"}).status_code == 303
    assert job.store.events(job.job)[-1].body == {
        "stage": "check",
        "done": True,
        "note": "measured at the customer's",
    }


def test_a_stage_can_be_taken_up_again(client: TestClient, job: MadeUp) -> None:
    """A stage that is done can be opened again, with the reason."""
    job.up_to("strip")
    client.post(f"/jobs/{job.job}/stages/strip/again", data={"note": "oil found"})
    assert state(job.store, job.job).stage.plan.name == "strip"
    assert "oil found" in client.get(f"/jobs/{job.job}/stages/strip").text


def test_a_note_is_kept_once(client: TestClient, job: MadeUp) -> None:
    """A note sent twice with the key of its form is one note, shown on the job and on its stage as it was written."""
    sent = {
        "words": "<script>not run</script>\nleft seal weeps",
        "stage": "intake",
        "key": "k",
        "back": "/jobs",
    }
    assert client.post(f"/jobs/{job.job}/notes", data=sent).headers["location"] == "/jobs"
    client.post(f"/jobs/{job.job}/notes", data=sent)
    assert len(job.store.events(job.job)) == 2
    for path in ("", "/stages/intake", "/history"):
        page = client.get(f"/jobs/{job.job}{path}").text
        assert "&lt;script&gt;not run" in page
        assert "<script>not run" not in page


def test_an_empty_note_is_refused(client: TestClient, job: MadeUp) -> None:
    """A note without words is refused in words."""
    assert client.post(f"/jobs/{job.job}/notes", data={"words": ""}).status_code == 422


def test_the_history_tells_every_kind_in_words(client: TestClient, old_job: MadeUp) -> None:
    """Every event has its number, its words, who told it, and nothing is left out."""
    page = client.get(f"/jobs/{old_job.job}/history").text
    words = text_of(page).replace("&#34;", '"')
    for event in old_job.store.events(old_job.job):
        assert event_words(event) in words
        assert f'id="no-{event.number}"' in page
    assert "Takes back no. 14: Note: Written on the wrong job" in words
    assert "no longer counts taken back by no. 15" in words
    assert "Changed after it was signed: One line was misread" in words
    assert old_job.store.events(old_job.job)[-1].digest in page


def test_the_history_of_one_kind(client: TestClient, old_job: MadeUp) -> None:
    """The history can be narrowed to one kind."""
    words = text_of(client.get(f"/jobs/{old_job.job}/history?kind=photograph").text)
    assert "2 events" in words
    assert "Old bracket, cut proud" in words
    assert "Plan of 36 beads" not in words


def test_taking_back_and_letting_count_again(client: TestClient, job: MadeUp) -> None:
    """An event taken back no longer counts; taking that back lets it count again; both stay in the history."""
    client.post(f"/jobs/{job.job}/notes", data={"words": "twice"})
    client.post(f"/jobs/{job.job}/history/2/take-back", data={"words": "wrong job"})
    assert state(job.store, job.job).of_kind("note") == ()
    assert "Let no. 2 count again" in client.get(f"/jobs/{job.job}/history").text
    client.post(f"/jobs/{job.job}/history/3/take-back", data={"words": "right after all"})
    assert [event.number for event in state(job.store, job.job).of_kind("note")] == [2]
    lines = lines_of(state(job.store, job.job), list(job.store.events(job.job)))
    assert [line.counts for line in lines] == [True, True, False, True]
    assert [line.gone_by and line.gone_by.number for line in lines] == [None, None, 4, None]


def test_taking_back_what_was_signed_needs_a_reason(client: TestClient, job: MadeUp) -> None:
    """What a hold point covers is taken back only with a reason, which is asked for."""
    job.up_to("intake")
    path = f"/jobs/{job.job}/history/2/take-back"
    asked = client.post(path, data={"words": "misread", "key": "k"})
    assert asked.status_code == 409
    assert "Why is it changed after it was signed?" in asked.text
    assert client.post(path, data={"words": "misread", "key": "k", "reason": "misread"}).status_code == 303


def test_a_clock_set_back_is_told_of(old_job: MadeUp) -> None:
    """Where the clock stood earlier than at the event before, the history says before which."""
    events = list(old_job.store.events(old_job.job))
    events[5] = Event(**{**vars(events[5]), "at": events[4].at - timedelta(days=1)})
    back = [line.event.number for line in lines_of(state_of(events), events) if line.clock_back]
    assert back == [6]


def test_the_name_at_the_bench(client: TestClient, job: MadeUp) -> None:
    """The name given on a device is who tells what it tells; an empty one is forgotten."""
    answer = client.post("/at-the-bench", data={"name": "  Ben   Ö. ", "back": f"/jobs/{job.job}"})
    assert answer.headers["location"] == f"/jobs/{job.job}"
    assert "samesite=lax" in answer.headers["set-cookie"].lower()
    client.post(f"/jobs/{job.job}/notes", data={"words": "by Ben"})
    client.post("/at-the-bench", data={"name": ""})
    client.post(f"/jobs/{job.job}/notes", data={"words": "by nobody"})
    assert [event.who for event in job.store.events(job.job)[1:]] == ["Ben Ö.", "not named"]


@pytest.mark.parametrize(
    "path", ["//elsewhere.example", "/\\elsewhere", "https://elsewhere.example", "", "/a\r\nb: c", "/\t/x"]
)
def test_a_form_leads_nowhere_else(path: str) -> None:
    """Going on after a form never leads out of the shop."""
    assert here_only(path) == "/"


def test_times_in_words() -> None:
    """Times are said as one would: just now, minutes, today, yesterday, the day."""
    now = datetime(2031, 6, 3, 14, 0, tzinfo=UTC).astimezone().replace(hour=14)
    ago = lambda **back: when(now - timedelta(**back), now)  # noqa: E731
    assert ago(seconds=20) == "just now"
    assert ago(minutes=1) == "1 minute ago"
    assert ago(minutes=59) == "59 minutes ago"
    assert ago(hours=2) == "today 12:00"
    assert ago(days=1) == "yesterday 14:00"
    assert ago(days=3) == "31 May 2031, 14:00"
    assert ago(minutes=-5) == "today 14:05"
    assert (size(812), size(14_200), size(2_340_000)) == ("812 bytes", "14 kB", "2.3 MB")
