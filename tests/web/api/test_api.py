"""The record for other programs: what can be done, and how it is refused."""

from __future__ import annotations

import base64
import io
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx2
import pytest
from api_shop import opened_shop
from PIL import Image
from starlette.testclient import TestClient

from axlewright.errors import DamagedRecordError, Fault
from axlewright.job.demo_jobs import demo_readings, demo_text
from axlewright.record.kinds import KINDS
from axlewright.record.stages import hold_points
from axlewright.record.store import Store
from axlewright.web.api import bodies

SPOILED = "runout,between centres,abc,,,,,0.21,2.25,,,,,\n"
JOB_TEXT = demo_text("truss-only")


class Caller:
    """Another program, and a job it has begun."""

    def __init__(self, client: TestClient, data: Path) -> None:
        self.client, self.data = client, data
        self.job = self.told("/api/jobs", text=JOB_TEXT, key="first").json()["job"]

    def post(self, path: str, **told: Any) -> httpx2.Response:
        """What is answered to something told."""
        return self.client.post(path.replace("JOB", getattr(self, "job", "")), json={"who": "Ann", **told})

    def told(self, path: str, **told: Any) -> httpx2.Response:
        """The same where it must have been written down."""
        answer = self.post(path, **told)
        assert answer.status_code == 201, answer.text
        return answer

    def get(self, path: str) -> httpx2.Response:
        """What is answered to a question."""
        return self.client.get(path.replace("JOB", self.job))

    def event(self, kind: str, body: dict[str, Any], **more: Any) -> httpx2.Response:
        """What is answered to an event."""
        return self.post("/api/jobs/JOB/events", kind=kind, body=body, **more)


@pytest.fixture
def api(tmp_path: Path) -> Iterator[Caller]:
    """A shop with one job."""
    with opened_shop(tmp_path) as (_shop, app), TestClient(app) as client:
        yield Caller(client, tmp_path)


def document(name: str, data: bytes, media_type: str = "") -> dict[str, str]:
    """A document as it is sent."""
    return {"name": name, "media_type": media_type, "data": base64.b64encode(data).decode()}


def faults(answer: httpx2.Response, status: int) -> str:
    """What a refusal says; it has the one form there is."""
    assert answer.status_code == status, answer.text
    told = answer.json()
    assert set(told) == {"faults"} and told["faults"]
    assert all(set(fault) == {"where", "value", "allowed", "remedy"} for fault in told["faults"])
    return str(told)


def test_a_job_from_its_file(api: Caller) -> None:
    """A job is begun from its file, is in the list, and its file comes back as it was sent."""
    told = api.get("/api/jobs/JOB").json()
    assert told["stage"] == "intake" and told["units"] == "mm" and told["latest"] == {"job file": 1}
    assert [one["job"] for one in api.get("/api/jobs").json()] == [api.job]
    assert api.get("/api/jobs/JOB/job-file").text == JOB_TEXT


def test_a_bad_job_file(api: Caller) -> None:
    """A job file that cannot be used is refused with the messages of the job file."""
    assert "not TOML" in faults(api.post("/api/jobs", text="no = = file"), 422)
    broken = JOB_TEXT.replace("outside_diameter", "outside_diametre", 1)
    assert "outside_diametre" in faults(api.post("/api/jobs", text=broken), 422)


def test_a_retry_counts_once(api: Caller) -> None:
    """The same telling with the same key gets the same answer and is in the record once."""
    first, again = (api.event("note", {"words": "once"}, key="a note") for _ in range(2))
    assert first.status_code == again.status_code == 201 and first.json() == again.json()
    assert api.post("/api/jobs", text=JOB_TEXT, key="first").json()["job"] == api.job
    assert len(api.get("/api/jobs/JOB/events").json()["events"]) == 2


def test_a_key_used_for_something_else(api: Caller) -> None:
    """A key that was used for another telling is refused as a conflict, and nothing is written."""
    api.event("note", {"words": "once"}, key="a note")
    assert "something else" in faults(api.event("note", {"words": "twice"}, key="a note"), 409)
    assert len(api.get("/api/jobs/JOB/events").json()["events"]) == 2


def test_signed_off_is_changed_with_a_reason_only(api: Caller) -> None:
    """What a signature covers is changed only with a reason; without, that is a conflict."""
    found = [True] * len(hold_points()["baseline"].items)
    api.told("/api/jobs/JOB/sign-offs", hold_point="baseline", found=found)
    other = JOB_TEXT + "\n# measured again\n"
    assert "Give the reason" in faults(api.post("/api/jobs/JOB/job-file", text=other), 409)
    api.told("/api/jobs/JOB/job-file", text=other, reason="measured again")
    (signed,) = [
        s["hold_point"]["signed"] for s in api.get("/api/jobs/JOB").json()["stages"] if s["name"] == "intake"
    ]
    assert signed["changes"] == [3] and not signed["complete"]


def test_events_in_parts(api: Caller) -> None:
    """Events are read in order, part by part, and by kind."""
    for number in range(5):
        api.event("bench", {"event": "note", "note": str(number)})
    first = api.get("/api/jobs/JOB/events?limit=4").json()
    rest = api.get("/api/jobs/JOB/events?after=4").json()
    assert [e["number"] for e in first["events"]] == [1, 2, 3, 4] and first["more"]
    assert [e["number"] for e in rest["events"]] == [5, 6] and not rest["more"]
    assert [e["kind"] for e in api.get("/api/jobs/JOB/events?kind=job%20file").json()["events"]] == [
        "job file"
    ]


def test_taken_back(api: Caller) -> None:
    """An event that is taken back stays, but no longer counts."""
    api.event("note", {"words": "wrong"})
    api.told("/api/jobs/JOB/events/2/withdrawal", words="mistaken")
    told = api.get("/api/jobs/JOB/events").json()["events"]
    assert [event["counts"] for event in told] == [True, False, True]
    assert "only an event of this job" in faults(api.post("/api/jobs/JOB/events/1/withdrawal"), 422)
    assert "only an event of this job" in faults(api.event("withdrawal", {}, amends=1), 422)
    assert "taken back" in faults(api.event("withdrawal", {}), 422)


def test_readings_are_judged(api: Caller) -> None:
    """Readings are written down with how many lines can be used; a line that cannot is told."""
    text = demo_readings("rescue-truck", "before")
    job = api.told("/api/jobs", text=demo_text("rescue-truck")).json()["job"]
    answer = api.told(f"/api/jobs/{job}/readings", set="before", text=text + SPOILED).json()
    body = answer["event"]["body"]
    assert body["used"] == 33 and body["refused"] == 1 and "abc" in answer["faults"][0]
    sent = [document("readings.csv", text.encode())]
    body = {"set": "after", "used": 0, "refused": 0}
    again = api.told(f"/api/jobs/{job}/events", kind="readings", body=body, documents=sent).json()
    assert again["body"]["used"] == answer["event"]["body"]["used"]
    faults(api.post(f"/api/jobs/{job}/readings", set="before", text="nothing of use"), 422)


def test_a_photograph_is_cleaned(api: Caller) -> None:
    """A photograph sent as an event is kept as the pages keep it: a picture and nothing beside it."""
    picture = io.BytesIO()
    exif = Image.Exif()
    exif[0x010F] = "Secret maker"
    Image.new("RGB", (40, 30), "red").save(picture, "JPEG", exif=exif)
    answer = api.event("photograph", {"words": "red"}, documents=[document("x.jpg", picture.getvalue())])
    (line,) = answer.json()["documents"]
    kept = api.get(f"/api/jobs/JOB/documents/{line['digest']}")
    assert kept.headers["content-type"] == "application/octet-stream" and b"Secret" not in kept.content
    assert Image.open(io.BytesIO(kept.content)).size == (40, 30)
    faults(api.event("photograph", {}, documents=[document("x.jpg", b"no picture")]), 422)
    faults(api.event("photograph", {}), 422)


def test_a_document_of_another_job_is_not_shown(api: Caller) -> None:
    """A document is fetched through a job that has it, as a file and never as a page of the shop."""
    script = document("page.html", b"<script>alert(1)</script>", "text/html")
    (line,) = api.event("note", {"words": "see"}, documents=[script]).json()["documents"]
    other = api.told("/api/jobs", text=JOB_TEXT, key="another").json()["job"]
    shown = api.get(f"/api/jobs/JOB/documents/{line['digest']}")
    assert shown.content == b"<script>alert(1)</script>"
    assert shown.headers["content-disposition"] == 'attachment; filename="page.html"'
    assert shown.headers["x-content-type-options"] == "nosniff"
    faults(api.get(f"/api/jobs/{other}/documents/{line['digest']}"), 404)


@pytest.mark.parametrize(
    ("kind", "file", "body"),
    [
        ("check", "straightness.json", {"answer": "inside", "words": "straight"}),
        ("plan", "plan.json", {"chosen": 1, "recommended": 1, "beads": 3, "bench_min": 4.5}),
        ("correction", "correction.json", {"decision": "leave it", "recommended": None, "cycle": 1}),
    ],
)
def test_results_from_elsewhere(api: Caller, kind: str, file: str, body: dict[str, Any]) -> None:
    """A result worked out elsewhere comes with its figures and stands on events that there are."""
    on = {"stands_on": {"job_file": 1}}
    sent = [document(file, b"{}")]
    assert api.event(kind, {**body, **on}, documents=sent).status_code == 201
    assert api.get("/api/jobs/JOB").json()["results"][kind]["current"] is True
    assert file in faults(api.event(kind, {**body, **on}), 422)
    assert file in faults(api.event(kind, {**body, **on}, documents=[document(file, b"[")]), 422)
    nowhere = {"stands_on": {"job_file": 1, "before": 99}}
    assert "stands_on.before" in faults(api.event(kind, {**body, **nowhere}, documents=sent), 422)


def test_a_signature_is_on_what_was_seen(api: Caller) -> None:
    """A sign-off sent as an event must cover what the record has now, line by line."""
    point = hold_points()["baseline"]
    items = [{"words": words, "found": True} for words in point.items]
    body = {"hold_point": "baseline", "items": items, "covers": {"job file": 1, "readings before": 0}}
    assert "covers" in faults(api.event("sign-off", {**body, "covers": {"job file": 0}}), 422)
    assert "lines" in faults(api.event("sign-off", {**body, "items": items[1:]}), 422)
    assert "hold_point" in faults(api.event("sign-off", {**body, "hold_point": "no such"}), 422)
    first = api.event("sign-off", body, key="signed")
    api.told("/api/jobs/JOB/job-file", text=JOB_TEXT + "\n# again\n", reason="measured again")
    again = api.event("sign-off", body, key="signed")
    assert first.status_code == again.status_code == 201 and first.json()["digest"] == again.json()["digest"]


def test_stages_wait_for_what_they_need(api: Caller) -> None:
    """A stage is not done before what it needs, by either way of saying so."""
    said = {"stage": "intake", "done": True}
    assert "not ready" in faults(api.post("/api/jobs/JOB/stages", **said), 422)
    assert "not ready" in faults(api.event("stage", said), 422)
    assert api.event("stage", {"stage": "strip", "done": True}).status_code == 201


def test_a_job_file_as_an_event(api: Caller) -> None:
    """A job file sent as an event is read, and what its event tells is what the file says."""
    told = {"name": "something else", "reference": "", "units": "inch"}
    sent = [document("job.toml", (JOB_TEXT + "\n# again\n").encode())]
    answer = api.event("job file", told, documents=sent)
    assert answer.status_code == 201 and answer.json()["body"]["units"] == "mm"
    faults(api.event("job file", told), 422)
    faults(api.event("job file", told, documents=[document("job.toml", b"\xff")]), 422)
    faults(api.event("job file", told, documents=[document("job.toml", b"x = ")]), 422)


@pytest.mark.parametrize(
    "told",
    [
        {"kind": "note", "body": {"words": 1}},
        {"kind": "note", "body": {}},
        {"kind": "note", "body": {"words": "x", "more": 1}},
        {"kind": "note", "body": {"words": "x"}, "more": 1},
        {"kind": "note", "body": {"words": "x"}, "who": ""},
        {"kind": "note", "body": {"words": "x"}, "who": None},
        {"kind": "note", "body": {"words": "x"}, "told_at": "2026-01-01T00:00:00"},
        {"kind": "note", "body": {"words": "x"}, "told_at": 5},
        {"kind": "note", "body": {"words": "x\0"}},
        {"kind": "note", "body": {"words": "x"}, "amends": 10**30},
        {"kind": "stage", "body": {"stage": "strip", "done": 1}},
        {"kind": "readings", "body": {"set": "before", "used": "1", "refused": 0}},
        {"kind": "unheard of", "body": {}},
        {"body": {"words": "x"}},
        {"kind": "note", "body": {"words": "x"}, "documents": [{"name": "x", "data": "no base64!"}]},
        {"kind": "note", "body": {"words": "x"}, "documents": [{"name": "", "data": ""}]},
    ],
)
def test_what_is_not_as_described(api: Caller, told: dict[str, Any]) -> None:
    """A body that is not as described is refused, a number taken for a word included, and nothing is written."""
    faults(api.post("/api/jobs/JOB/events", **told), 422)
    assert len(api.get("/api/jobs/JOB/events").json()["events"]) == 1


@pytest.mark.parametrize("body", [b"", b"{", b"\xff", b"[" * 100_000, b'"' + b"x" * 1000 + b'"'])
def test_what_is_no_json(api: Caller, body: bytes) -> None:
    """A body that is not JSON is refused, one that is not said to be JSON as well."""
    headers = {"content-type": "application/json"}
    path = f"/api/jobs/{api.job}/events"
    faults(api.client.post(path, content=body, headers=headers), 422)
    faults(api.client.post(path, content=body, headers={"content-type": "text/plain"}), 415)


def test_a_document_too_large(api: Caller) -> None:
    """A document larger than is taken is refused, and so is a request larger than any."""
    large = document("x", bytes(bodies.LARGEST_DOCUMENT + 3))
    assert "at most" in faults(api.event("note", {"words": "x"}, documents=[large]), 422)
    faults(api.event("note", {"words": "x"}, documents=[large, large]), 413)


def test_every_kind_is_described(api: Caller) -> None:
    """The description tells the kinds apart and has the fields of each."""
    described = api.get("/api/openapi.json").json()
    kinds = described["components"]["schemas"]["NewEvent"]["discriminator"]["mapping"]
    assert set(kinds) == set(KINDS)
    bench = described["components"]["schemas"][kinds["bench"].rpartition("/")[2]]
    body = described["components"]["schemas"][bench["properties"]["body"]["$ref"].rpartition("/")[2]]
    assert set(body["properties"]) == set(KINDS["bench"].model_fields)
    assert not [
        path
        for path in described["paths"]
        if not path.startswith(("/jobs", "/long-work", "/archives", "/backups", "/health", "/version"))
    ]


def test_long_work(api: Caller) -> None:
    """Long work is asked for, followed and stopped; the same asked for again is the one under way."""
    first, again = (
        api.post("/api/jobs/JOB/long-work", kind="plan", options={"seconds": 5}) for _ in range(2)
    )
    assert first.status_code == again.status_code == 202 and first.json()["id"] == again.json()["id"]
    path = f"/api/long-work/{first.json()['id']}"
    assert api.get(path).json()["status"] in ("waiting", "working")
    assert [one["id"] for one in api.get("/api/jobs/JOB/long-work").json()] == [first.json()["id"]]
    assert api.client.post(f"{path}/stop", json={"keep": False}).json()["status"] == "stopped"
    faults(api.get("/api/long-work/unknown"), 404)
    assert "readings" in faults(api.post("/api/jobs/JOB/long-work", kind="check"), 422)
    faults(api.post("/api/jobs/JOB/long-work", kind="plan", options={"seconds": 0.1}), 422)


def test_archives(api: Caller, tmp_path: Path) -> None:
    """A job is fetched as one file and taken in by another shop, with its further events."""
    early = api.get("/api/jobs/JOB/archive.zip")
    assert (
        early.headers["content-type"] == "application/zip" and ".zip" in early.headers["content-disposition"]
    )
    api.event("note", {"words": "more"})
    late = api.get("/api/jobs/JOB/archive.zip").content
    with opened_shop(tmp_path / "other") as (_shop, app), TestClient(app) as other:
        for data, new in ((early.content, 1), (late, 1), (late, 0)):
            answer = other.post("/api/archives", content=data, headers={"content-type": "application/zip"})
            assert answer.status_code == 201 and answer.json()["new"] == new
        assert other.get(f"/api/jobs/{api.job}/archive.zip").content == late
        faults(
            other.post("/api/archives", content=late[:50], headers={"content-type": "application/zip"}), 422
        )
        faults(other.post("/api/archives", content=late, headers={"content-type": "text/plain"}), 415)


def test_backups(api: Caller) -> None:
    """A backup is made when asked for, and named."""
    made = api.client.post("/api/backups")
    assert made.status_code == 201
    path = api.data / "backups" / made.json()["name"]
    assert path.stat().st_size == made.json()["size"]


def test_health_and_version(api: Caller) -> None:
    """Whether the record can be read, and which versions are here."""
    assert api.get("/api/health").json() == {"status": "ok", "jobs": 1}
    assert set(api.get("/api/version").json()) == {"axlewright", "record", "archive"}


@pytest.mark.parametrize(
    ("method", "path", "status"),
    [
        ("GET", "/api/nothing", 404),
        ("GET", "/api/jobs/0000", 404),
        ("GET", "/api/jobs/0000/events", 404),
        ("GET", "/api/jobs/JOB/events/9", 404),
        ("GET", "/api/jobs/JOB/events/0", 422),
        ("GET", "/api/jobs/JOB/events?after=-1", 422),
        ("GET", "/api/jobs/JOB/events?limit=1001", 422),
        ("GET", "/api/jobs/JOB/events?kind=unheard", 422),
        ("GET", "/api/jobs/a.b", 422),
        ("DELETE", "/api/jobs/JOB", 405),
        ("PUT", "/api/jobs/JOB/events", 405),
    ],
)
def test_refusals_have_one_form(api: Caller, method: str, path: str, status: int) -> None:
    """Whatever is refused is told in the same form."""
    answer = api.client.request(method, path.replace("JOB", api.job))
    faults(answer, status)
    if status == 405:
        assert "GET" in answer.headers["allow"]


def test_pages_of_other_sites_are_not_let_through(api: Caller) -> None:
    """A page of another site, or one that gave itself a name for this machine, cannot use the API."""
    told = {"who": "Ann", "kind": "note", "body": {"words": "x"}}
    path = f"/api/jobs/{api.job}/events"
    for headers in ({"origin": "http://elsewhere.example"}, {"host": "elsewhere.example"}):
        faults(api.client.post(path, json=told, headers=headers), 403)


def test_a_damaged_record_is_told(api: Caller, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the record is damaged, that is told as such and not as a mistake of who asked."""

    def damaged(store: Store) -> None:
        raise DamagedRecordError(
            Fault("record", "damaged", "a page is not what it was", "Bring a backup back.")
        )

    monkeypatch.setattr(Store, "jobs", damaged)
    assert "Bring a backup back" in faults(api.get("/api/health"), 503)
