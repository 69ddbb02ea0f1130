"""Who is let through, what every answer carries, and errors in plain words."""

from __future__ import annotations

from pathlib import Path

import pytest
from fastapi import FastAPI, Form
from fastapi.testclient import TestClient
from web.conftest import FROM_HERE
from web.shop_made import MadeUp

from axlewright.errors import Fault, RecordError
from axlewright.web import guard
from axlewright.web.app import make_app
from axlewright.web.open_shop import OpenShop


@pytest.mark.parametrize("host", ["localhost", "localhost:8090", "127.0.0.1:8090", "[::1]:8090", "LOCALHOST"])
def test_this_machine_may_ask(client: TestClient, host: str) -> None:
    """A browser on this machine is answered, by whichever of the machine's own names it asks."""
    assert client.get("/", headers={"host": host}).status_code == 200


@pytest.mark.parametrize(
    "host", ["elsewhere.example", "localhost.elsewhere.example", "127.0.0.1.example", "", "a:b:c"]
)
def test_no_other_name_leads_here(client: TestClient, job: MadeUp, host: str) -> None:
    """Asked by another name, the shop shows nothing: such a name was given by a page that means no good."""
    answer = client.get(f"/jobs/{job.job}", headers={"host": host})
    assert answer.status_code == 403
    assert "Rescue truck" not in answer.text


def test_other_names_can_be_allowed(shop: OpenShop) -> None:
    """A shop made with further names answers to them, and only to them."""
    client = TestClient(make_app(shop, hosts=("shop.example",)), base_url="http://shop.example")
    assert client.get("/").status_code == 200
    assert client.get("/", headers={"host": "localhost"}).status_code == 403


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://elsewhere.example"},
        {"origin": "null"},
        {"origin": "http://localhost:9999"},
        {"origin": "", "referer": "http://elsewhere.example/page"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
    ],
)
def test_pages_from_elsewhere_change_nothing(app: FastAPI, job: MadeUp, headers: dict[str, str]) -> None:
    """What a page of another site sends is refused and leaves no event."""
    client = TestClient(app, base_url="http://localhost", follow_redirects=False)
    answer = client.post(f"/jobs/{job.job}/notes", data={"words": "not ours"}, headers=headers)
    assert answer.status_code == 403
    assert "another site" in answer.text
    assert len(job.store.events(job.job)) == 1


@pytest.mark.parametrize(
    "headers",
    [FROM_HERE, {"referer": "http://localhost/jobs"}, {**FROM_HERE, "sec-fetch-site": "same-origin"}, {}],
)
def test_our_own_pages_may_write(app: FastAPI, job: MadeUp, headers: dict[str, str]) -> None:
    """What our own pages send is written down; so is what no browser sends."""
    client = TestClient(app, base_url="http://localhost", follow_redirects=False)
    assert client.post(f"/jobs/{job.job}/notes", data={"words": "ours"}, headers=headers).status_code == 303
    assert job.store.events(job.job)[-1].body["words"] == "ours"


@pytest.mark.parametrize("path", ["/", "/nothing", "/static/shop.css", "/jobs/none", "/offline"])
def test_every_answer_is_careful(client: TestClient, path: str) -> None:
    """Nothing inline or from elsewhere runs, nothing is guessed, nobody frames or embeds us."""
    headers = client.get(path).headers
    rules = headers["content-security-policy"]
    assert "default-src 'self'" in rules
    assert "unsafe" not in rules
    assert "frame-ancestors 'none'" in rules
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["referrer-policy"] == "same-origin"
    assert headers["cross-origin-resource-policy"] == "same-origin"


def test_what_is_refused_is_as_careful(client: TestClient) -> None:
    """An answer to a request that is not let through carries the same headers."""
    headers = client.get("/", headers={"host": "elsewhere.example"}).headers
    assert headers["x-content-type-options"] == "nosniff"
    assert "default-src 'self'" in headers["content-security-policy"]


def test_too_much_is_refused(client: TestClient, job: MadeUp, monkeypatch: pytest.MonkeyPatch) -> None:
    """A body that is announced too long is refused before it is read, one that turns out so while it is."""
    monkeypatch.setattr(guard, "LARGEST", 1000)
    path = f"/jobs/{job.job}/notes"
    announced = client.post(path, data={"words": "x" * 2000})
    assert announced.status_code == 413
    assert "too large" in announced.text

    def in_pieces() -> object:
        yield b"words="
        for _ in range(20):
            yield b"x" * 100

    form = {"content-type": "application/x-www-form-urlencoded"}
    unannounced = client.post(path, content=in_pieces(), headers=form)  # type: ignore[arg-type]
    assert unannounced.status_code == 413
    assert len(job.store.events(job.job)) == 1


def test_pages_that_are_not_there(client: TestClient, job: MadeUp) -> None:
    """An unknown address, job, event or document is 404, in words and with a way on."""
    for path in (
        "/nothing",
        "/jobs/none",
        f"/jobs/{job.job}/documents/1/none.pdf",
        f"/jobs/{job.job}/stages/none",
    ):
        answer = client.get(path)
        assert answer.status_code == 404, path
        assert "There is no such page" in answer.text
        assert 'href="/"' in answer.text


def test_wrong_ways_to_ask(client: TestClient, job: MadeUp) -> None:
    """An address that takes no such request is 405; numbers that are none are 422, in words."""
    assert "This cannot be done here" in client.post("/offline").text
    answer = client.get(f"/jobs/{job.job}/history?page=none")
    assert answer.status_code == 422
    assert "page" in answer.text


def test_parts_of_pages_get_parts(client: TestClient) -> None:
    """A part of a page that asks gets a part to show, not a page."""
    answer = client.get("/jobs/none", headers={"hx-request": "true"})
    assert answer.status_code == 404
    assert "<html" not in answer.text
    assert "is not in the record" in answer.text


def test_programs_get_json(client: TestClient) -> None:
    """Under /api an error is JSON with where, value, allowed and remedy."""
    answer = client.get("/api/nothing")
    assert answer.status_code == 404
    assert set(answer.json()["faults"][0]) == {"where", "value", "allowed", "remedy"}


@pytest.fixture
def breaking(app: FastAPI) -> TestClient:
    """A shop with two pages that fail, as nothing in the shop was made to."""

    def breaks() -> None:
        raise ZeroDivisionError("the secret of the trade")

    def damaged() -> None:
        raise RecordError(Fault("words", "<b>bold</b>", "must be plain", "Write it again."))

    app.add_api_route("/breaks", breaks)
    app.add_api_route("/damaged", damaged)
    # Before what answers for everything else.
    app.router.routes.insert(0, app.router.routes.pop())
    app.router.routes.insert(0, app.router.routes.pop())
    return TestClient(app, base_url="http://localhost", headers=FROM_HERE)


def test_what_breaks_is_kept_in_a_file(breaking: TestClient, shop: OpenShop) -> None:
    """Where something breaks, the page names the file that says what, shows no traceback, and the shop goes on."""
    answer = breaking.get("/breaks")
    assert answer.status_code == 500
    assert "secret" not in answer.text
    (kept,) = (shop.data / "broke").glob("*.txt")
    assert str(kept) in answer.text
    assert "the secret of the trade" in Path(kept).read_text(encoding="utf-8")
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert breaking.get("/").status_code == 200


def test_what_people_wrote_is_never_markup(breaking: TestClient) -> None:
    """Words in a fault are shown as they are, not run."""
    answer = breaking.get("/damaged")
    assert answer.status_code == 422
    assert "&lt;b&gt;bold&lt;/b&gt;" in answer.text


def test_what_was_signed_asks_for_a_reason(app: FastAPI, shop: OpenShop, job: MadeUp) -> None:
    """A form that changes what was signed comes back with its values, asks why, and then goes through."""
    job.readings("before")
    job.sign("baseline")

    def change(words: str = Form(""), reason: str = Form("")) -> str:
        job.tell("readings", {"set": "before", "used": len(words), "refused": 0}, reason=reason)
        return "written"

    app.add_api_route("/change", change, methods=["POST"])
    app.router.routes.insert(0, app.router.routes.pop())
    client = TestClient(app, base_url="http://localhost", headers=FROM_HERE)
    asked = client.post("/change", data={"words": 'say "so"', "reason": ""})
    assert asked.status_code == 409
    assert 'name="words" value="say &#34;so&#34;"' in asked.text
    assert asked.text.count('name="reason"') == 1
    assert len(job.store.events(job.job)) == 3
    assert client.post("/change", data={"words": 'say "so"', "reason": "misread"}).status_code == 200
    assert job.store.events(job.job)[-1].reason == "misread"
