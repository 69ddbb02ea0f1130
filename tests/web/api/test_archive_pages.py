"""On the pages a job is fetched as one file, and taken in again."""

from __future__ import annotations

from pathlib import Path

from api_shop import opened_shop
from starlette.testclient import TestClient

from axlewright.job.demo_jobs import demo_text
from axlewright.tasks.archives import export_job
from axlewright.tasks.keeping import start_job
from axlewright.tasks.telling import Telling


def test_fetched_and_taken_in(tmp_path: Path) -> None:
    """The archive of a job is a file named after it; another shop takes it in and shows the job."""
    with opened_shop(tmp_path / "here") as (shop, app), TestClient(app) as here:
        job = start_job(shop.store, demo_text("truss-only"), "demo", Telling("Ann")).job
        answer = here.get(f"/jobs/{job}/archive.zip")
        assert answer.content == export_job(shop.store, job)
        assert int(answer.headers["content-length"]) == len(answer.content)
        assert job[:8] in answer.headers["content-disposition"]
    with opened_shop(tmp_path / "there") as (shop, app), TestClient(app) as there:
        taken = there.post(
            "/jobs/take-in", files={"archive": ("x.zip", answer.content)}, follow_redirects=False
        )
        assert taken.status_code == 303 and taken.headers["location"] == f"/jobs/{job}"
        assert export_job(shop.store, job) == answer.content


def test_what_is_no_archive(tmp_path: Path) -> None:
    """What is no archive is told in plain words, and so is a missing file."""
    with opened_shop(tmp_path) as (shop, app), TestClient(app) as client:
        said = client.post("/jobs/take-in", files={"archive": ("x.zip", b"no archive")})
        assert said.status_code == 422 and "zip file" in said.text and "Traceback" not in said.text
        assert client.post("/jobs/take-in", data={"archive": ""}).status_code == 422
        assert client.get("/jobs/0000/archive.zip").status_code == 404
        assert shop.store.jobs() == ()
