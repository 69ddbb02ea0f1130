"""Sheets, documents and files that stand still."""

from __future__ import annotations

import json

import pytest
from fastapi.testclient import TestClient
from web.shop_made import SVG, MadeUp

from axlewright.record.events import Document
from axlewright.web.pages.documents import SHOWN_AS


def test_sheets_say_what_they_are(client: TestClient, job: MadeUp) -> None:
    """Sheets of the latest plan are listed with what they are, in every form and paper they have."""
    event = job.plan()
    page = client.get(f"/jobs/{job.job}/sheets").text
    assert "Work sheet for the bench" in page
    assert "Weld map 1: every seam unrolled" in page
    assert page.index("Work sheet for the bench") < page.index("Weld map 1"), "what is printed comes first"
    for name in ("work-sheet-a4.pdf", "work-sheet-us-letter.pdf", "weld-map-1.svg"):
        assert f'href="/jobs/{job.job}/documents/{event.number}/{name}"' in page
    assert "plan.json" not in page


def test_sheets_out_of_date_are_not_to_be_worked_by(client: TestClient, job: MadeUp) -> None:
    """Once what a plan stands on is changed, its sheets are marked and warned of."""
    job.plan()
    assert "Do not work by these" not in client.get(f"/jobs/{job.job}/sheets").text
    job.tell("job file", {"name": "Other", "units": "mm"})
    page = client.get(f"/jobs/{job.job}/sheets").text
    assert "out of date" in page
    assert "Do not work by these" in page


def test_a_document_opens_as_what_it_is(client: TestClient, job: MadeUp) -> None:
    """A document has its media type, opens in the browser, and is not asked for twice."""
    number = job.plan().number
    base = f"/jobs/{job.job}/documents/{number}"
    for name, kind in (("work-sheet-a4.pdf", "application/pdf"), ("weld-map-1.png", "image/png")):
        answer = client.get(f"{base}/{name}")
        assert answer.headers["content-type"] == kind
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert "content-disposition" not in answer.headers
    again = client.get(f"{base}/weld-map-1.png", headers={"if-none-match": answer.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")


def test_a_drawing_runs_nothing(client: TestClient, job: MadeUp) -> None:
    """A drawing keeps its own style, and nothing else in it is allowed."""
    number = job.plan().number
    answer = client.get(f"/jobs/{job.job}/documents/{number}/weld-map-1.svg")
    assert answer.content == SVG
    rules = answer.headers["content-security-policy"]
    assert "default-src 'none'" in rules
    assert "style-src 'unsafe-inline'" in rules
    assert "script" not in rules
    assert "sandbox" in rules


@pytest.mark.parametrize(
    "name", ["page.html", "page.xhtml", "page.xml", "page.htm", "run.js", "noend", "x.svgz"]
)
def test_no_document_is_ever_a_page(client: TestClient, job: MadeUp, name: str) -> None:
    """Whatever a record calls a document, only what is known is shown; the rest is saved as a file."""
    number = job.tell(
        "note", {"words": "x"}, Document(name, "text/html", b"<script>alert(1)</script>")
    ).number
    answer = client.get(f"/jobs/{job.job}/documents/{number}/{name}")
    assert answer.headers["content-type"] == "application/octet-stream"
    assert answer.headers["content-disposition"] == "attachment"
    assert not any("html" in kind or "script" in kind for kind in SHOWN_AS.values())


@pytest.mark.parametrize(
    "path",
    ["0/job.toml", "2/job.toml", "-1/job.toml", "1/job.tom", "1/..%2fjob.toml", "99999999999999999999/x"],
)
def test_documents_that_are_not_there(client: TestClient, job: MadeUp, path: str) -> None:
    """A number or name that is not in the record is answered with 404."""
    assert client.get(f"/jobs/{job.job}/documents/{path}").status_code in (404, 422)


def test_standing_files_are_kept_while_they_are_the_same(client: TestClient) -> None:
    """A file asked for by the mark of its content is kept for good; without the mark it is asked for each time."""
    page = client.get("/").text
    address = page.split('rel="stylesheet" href="')[1].split('"')[0]
    kept = client.get(address)
    assert "immutable" in kept.headers["cache-control"]
    assert kept.headers["content-encoding"] == "gzip"
    unmarked = client.get("/static/shop.css")
    assert unmarked.headers["cache-control"] == "no-cache"
    assert (
        client.get("/static/shop.css", headers={"if-none-match": unmarked.headers["etag"]}).status_code == 304
    )


@pytest.mark.parametrize(
    "path",
    ["/static/../app.py", "/static/%2e%2e/app.py", "/static/..%5capp.py", "/static/", "/static/vendor"],
)
def test_standing_files_lead_nowhere_else(client: TestClient, path: str) -> None:
    """Nothing outside the folder of standing files is given away."""
    assert client.get(path).status_code == 404


def test_the_shop_can_be_installed(client: TestClient) -> None:
    """The manifest names the shop, its start and icons that exist in the sizes they claim."""
    answer = client.get("/static/shop.webmanifest")
    assert answer.headers["content-type"] == "application/manifest+json"
    manifest = json.loads(answer.text)
    assert manifest["start_url"] == "/"
    assert {"192x192", "512x512"} <= {
        icon["sizes"] for icon in manifest["icons"] if icon["purpose"] == "maskable"
    }
    for icon in manifest["icons"]:
        found = client.get(icon["src"])
        assert found.headers["content-type"] == icon["type"]


def test_the_service_worker_knows_when_the_shell_changed(client: TestClient) -> None:
    """The worker is served for the whole shop and carries a mark of the shell's files."""
    answer = client.get("/service-worker.js")
    assert answer.headers["content-type"].startswith("text/javascript")
    assert answer.text.startswith('const MARK = "')
    assert answer.headers["cache-control"] == "private, no-cache"
