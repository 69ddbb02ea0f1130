"""The pages of the dimensions form, without a browser's scripts."""

from __future__ import annotations

import re
import tomllib

import pytest
from fastapi.testclient import TestClient
from web.dimensions.forms import DEMOS, FULL, SentForm, typed_demo
from web.shop_made import MadeUp

from axlewright.job import demo_text, parse_job
from axlewright.record.store import Store
from axlewright.tasks.keeping import job_of
from axlewright.tasks.standing import stands as state
from axlewright.tasks.texts import job_text


def opened(client: TestClient, address: str) -> dict[str, str]:
    """What the form at an address would send."""
    answer = client.get(address)
    assert answer.status_code == 200
    return SentForm(answer.text).fields


def uploaded(text: str | bytes, name: str = "my-axle.toml") -> dict[str, tuple[str, bytes, str]]:
    """A file as a browser sends it."""
    return {"file": (name, text.encode() if isinstance(text, str) else text, "application/toml")}


def job_in(answer_location: str) -> str:
    """The job an answer leads to."""
    return re.fullmatch(r"/jobs/([0-9a-f]{32})", answer_location)[1]  # type: ignore[index]


def test_ways_to_begin(client: TestClient) -> None:
    """A new job begins by form, with a file, or with one of the demo jobs, each by its own title."""
    page = client.get("/jobs/new").text
    for name in DEMOS:
        assert f'value="{name}"' in page
    assert "Cast-centre front axle" in page
    assert "/jobs/new/dimensions" in page


@pytest.mark.parametrize("name", DEMOS)
def test_demo_job(client: TestClient, store: Store, name: str) -> None:
    """A demo job becomes a job whose file is the demo's, comments and all."""
    answer = client.post("/jobs/demo", data={"name": name, "key": "k"})
    assert answer.status_code == 303
    job = job_in(answer.headers["location"])
    assert job_text(store, state(store, job)) == demo_text(name)


def test_no_such_demo(client: TestClient) -> None:
    """A demo job that is not there is refused with the names of those that are."""
    answer = client.post("/jobs/demo", data={"name": "nothing"})
    assert answer.status_code == 422
    assert "rescue-truck" in answer.text


@pytest.mark.parametrize("name", DEMOS)
def test_form_of_a_job_sends_the_same_job(client: TestClient, store: Store, name: str) -> None:
    """Opened and saved without a change, a job is left as it is: no event is added, no comment lost."""
    job = job_in(client.post("/jobs/demo", data={"name": name}).headers["location"])
    fields = opened(client, f"/jobs/{job}/dimensions")
    answer = client.post(f"/jobs/{job}/dimensions", data={**fields, "do": "save"})
    assert (answer.status_code, answer.headers["location"]) == (303, f"/jobs/{job}")
    assert len(store.events(job)) == 1
    assert client.get(f"/jobs/{job}/job.toml").text == demo_text(name)


def test_new_job_by_form(client: TestClient, store: Store) -> None:
    """Filled in and saved, the form begins a job that is the same as the file would have made."""
    empty = opened(client, "/jobs/new/dimensions")
    answer = client.post(
        "/jobs/new/dimensions", data={**empty, **typed_demo("truss-only").texts, "do": "save"}
    )
    assert answer.status_code == 303
    made = job_of(store, state(store, job_in(answer.headers["location"])))
    assert made == parse_job(demo_text("truss-only"), "demo")
    assert f"saved-draft={empty['draft']}" in answer.headers["set-cookie"]


def test_changed_value_keeps_comments(client: TestClient, job: MadeUp, store: Store) -> None:
    """A change by form changes one line of the file and keeps every comment."""
    fields = opened(client, f"/jobs/{job.job}/dimensions")
    answer = client.post(
        f"/jobs/{job.job}/dimensions", data={**fields, "housing.centre.height": "301.5", "do": "save"}
    )
    assert answer.status_code == 303
    before, after = (
        demo_text("rescue-truck").splitlines(),
        client.get(f"/jobs/{job.job}/job.toml").text.splitlines(),
    )
    changed = [(one, other) for one, other in zip(before, after, strict=True) if one != other]
    assert [other.split("#")[0].strip() for _, other in changed] == ["height = 301.5"]
    assert "# top to bottom" in changed[0][1]
    assert job_of(store, state(store, job.job)).housing.centre.height == 0.3015


def test_rows_taken_away_keep_other_comments(client: TestClient, job: MadeUp) -> None:
    """A gusset taken away by form takes its own lines out of the file, an added one is put in."""
    fields = opened(client, f"/jobs/{job.job}/dimensions")
    answer = client.post(f"/jobs/{job.job}/dimensions", data={**fields, "do": "remove:gusset.0"})
    fields = SentForm(answer.text).fields
    assert client.post(f"/jobs/{job.job}/dimensions", data={**fields, "do": "save"}).status_code == 303
    text = client.get(f"/jobs/{job.job}/job.toml").text
    assert [one["name"] for one in tomllib.loads(text)["gusset"]] == [
        "left rear gusset",
        "right front gusset",
        "right rear gusset",
    ]
    assert "# after cleaning; look in through the vent hole" in text


def test_other_units_write_the_file_anew(client: TestClient, job: MadeUp, store: Store) -> None:
    """In the other system the file is written anew, once it was said that its comments go; the housing is the same."""
    fields = opened(client, f"/jobs/{job.job}/dimensions")
    shown = client.post(f"/jobs/{job.job}/dimensions", data={**fields, "units": "inch", "do": "show"})
    fields = SentForm(shown.text).fields
    assert fields["units_typed"] == "inch"
    asked = client.post(f"/jobs/{job.job}/dimensions", data={**fields, "do": "save"})
    assert asked.status_code == 409
    assert "comments in it go" in asked.text
    saved = client.post(f"/jobs/{job.job}/dimensions", data={**SentForm(asked.text).fields, "do": "save"})
    assert saved.status_code == 303
    made = job_of(store, state(store, job.job))
    assert made.inch
    assert made.model_copy(update={"units": "mm"}) == parse_job(demo_text("rescue-truck"), "demo")


def test_faults_lose_nothing(client: TestClient, job: MadeUp, store: Store) -> None:
    """A form that cannot be saved comes back as it was typed, with the message at the field and on top."""
    fields = opened(client, f"/jobs/{job.job}/dimensions")
    typed = {**fields, "truss.0.top.2.1": "12 3/", "housing.length": " 1301 ", "job.notes": "two\nlines <&>"}
    answer = client.post(f"/jobs/{job.job}/dimensions", data={**typed, "do": "save"})
    assert answer.status_code == 422
    form = SentForm(answer.text)
    back = {name: text for name, text in form.fields.items() if name not in ("last", "touched")}
    assert back == {name: text for name, text in typed.items() if name not in ("last", "touched")}
    assert "#f-truss-0-top-2-1" in form.links
    field = re.search(r'<input id="f-truss-0-top-2-1"[^>]*>', answer.text)
    assert field is not None
    assert 'aria-invalid="true"' in field[0]
    assert "m-truss-0-top-2-1" in field[0]
    assert len(store.events(job.job)) == 1


def test_signed_dimensions_ask_why(client: TestClient, job: MadeUp, store: Store) -> None:
    """Dimensions that were signed are changed only with a reason, asked for with everything typed kept."""
    job.readings("before")
    job.sign("baseline")
    fields = opened(client, f"/jobs/{job.job}/dimensions")
    typed = {**fields, "housing.perch.0.height": "63"}
    asked = client.post(f"/jobs/{job.job}/dimensions", data={**typed, "do": "save"})
    assert asked.status_code == 409
    form = SentForm(asked.text)
    assert form.fields["housing.perch.0.height"] == "63"
    assert "reason" in form.fields
    told = {**form.fields, "reason": "Measured again", "do": "save"}
    assert client.post(f"/jobs/{job.job}/dimensions", data=told).status_code == 303
    assert store.events(job.job)[-1].reason == "Measured again"


def test_upload_begins_a_job(client: TestClient, store: Store) -> None:
    """An uploaded file becomes a job and is kept as it is."""
    answer = client.post("/jobs/upload", data={"key": "k"}, files=uploaded(FULL))
    assert answer.status_code == 303
    assert client.get(answer.headers["location"] + "/job.toml").text == FULL


BAD_FILES = {
    "not TOML": (b"length 1300", "not TOML"),
    "not UTF-8": (b'units = "mm"\xff', "not UTF-8 text"),
    "empty": (b"", "empty"),
    "too large": (b"#" * 1_000_001, "larger than 1 MB"),
    "a wall too thick": (demo_text("truss-only").replace("wall = 8", "wall = 80", 1).encode(), "80 mm"),
}


@pytest.mark.parametrize("name", BAD_FILES)
def test_bad_files_are_refused(client: TestClient, job: MadeUp, store: Store, name: str) -> None:
    """A file that is no job file is refused with the job file's own words, for a new job and for one there is."""
    data, words = BAD_FILES[name]
    for address in ("/jobs/upload", f"/jobs/{job.job}/job.toml"):
        answer = client.post(address, files=uploaded(data))
        assert answer.status_code == 422
        assert words in answer.text
    assert client.post("/jobs/upload", data={}).status_code == 422
    assert len(store.events(job.job)) == 1


def test_replaced_file(client: TestClient, job: MadeUp) -> None:
    """Another file takes the place of a job's; where that was signed, a reason is asked for."""
    answer = client.post(f"/jobs/{job.job}/job.toml", files=uploaded(FULL))
    assert (answer.status_code, answer.headers["location"]) == (303, f"/jobs/{job.job}")
    assert client.get(f"/jobs/{job.job}/job.toml").text == FULL
    job.readings("before")
    job.sign("baseline")
    asked = client.post(f"/jobs/{job.job}/job.toml", files=uploaded(demo_text("rescue-truck")))
    assert asked.status_code == 409
    assert 'name="reason"' in asked.text
    told = client.post(
        f"/jobs/{job.job}/job.toml", files=uploaded(demo_text("rescue-truck")), data={"reason": "Wrong file"}
    )
    assert told.status_code == 303


def test_redrawn_answer(client: TestClient, job: MadeUp) -> None:
    """While typing, the answer brings the drawings of the section, and messages only at fields that were left."""
    fields = opened(client, f"/jobs/{job.job}/dimensions")
    typed = {**fields, "housing.left_tube.wall": "44.5", "section": "tubes", "touched": ""}
    answer = client.post(f"/jobs/{job.job}/dimensions/drawing", data=typed).text
    assert re.findall(r'id="figure-([^"]+)"', answer) == ["tubes"]
    assert "wrong-words" not in answer
    left = {**typed, "section": "", "touched": "housing.left_tube.wall"}
    answer = client.post(f"/jobs/{job.job}/dimensions/drawing", data=left).text
    assert "figure-truss-0" in answer
    assert "44.5 mm: must be 2 to 25 mm" in answer
    assert "1 to put right" in answer


def test_rows_by_button(client: TestClient) -> None:
    """Without scripts, buttons add and take away entries; the new entry's first field is gone to."""
    fields = opened(client, "/jobs/new/dimensions")
    page = client.post(
        "/jobs/new/dimensions", data={**fields, "housing.length": "1250", "do": "add:truss"}
    ).text
    form = SentForm(page)
    assert form.fields["truss.0.form"] == "box"
    assert form.fields["housing.length"] == "1250"
    assert re.search(r'<input id="f-truss-0-name"[^>]* autofocus', page)
    page = client.post("/jobs/new/dimensions", data={**form.fields, "do": "remove:truss.0"}).text
    assert "truss.0.form" not in SentForm(page).fields


def test_no_such_job(client: TestClient) -> None:
    """A job that is not in the record has no form and no file."""
    for address in ("/jobs/nothing/dimensions", "/jobs/nothing/job.toml"):
        assert client.get(address).status_code == 404
    assert client.post("/jobs/nothing/dimensions", data={"do": "save"}).status_code == 404


def test_no_inline_styles_or_scripts(client: TestClient, job: MadeUp) -> None:
    """The page keeps to the content security policy."""
    page = client.get(f"/jobs/{job.job}/dimensions").text
    assert "style=" not in page
    assert "<style" not in page
    assert not re.search(r"\son[a-z]+=", page)
    assert re.findall(r"<script(?![^>]* src=)", page) == []


def test_lists_of_names_for_spacers(client: TestClient, job: MadeUp) -> None:
    """A spacer's perch can be chosen from the perches there are."""
    page = client.get(f"/jobs/{job.job}/dimensions").text
    assert 'list="perch-names"' in page
    assert '<option value="right perch">' in page
