"""Jobs: the list, a new one, where one stands, and its job file."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Response

from axlewright.tasks.keeping import change_job_file, start_job
from axlewright.tasks.standing import stands, stands_in_line
from axlewright.tasks.texts import JOB_FILE, job_text
from axlewright.web.api import bodies
from axlewright.web.api.answers import EventTold, JobTold, StateTold, job_told, new_event_told, state_told
from axlewright.web.api.bodies import read_as, takes
from axlewright.web.api.errors import refusals
from axlewright.web.api.parameters import JobId, Shop, Stands

router = APIRouter(tags=["jobs"])

ToldFile = Annotated[bodies.JobFile, read_as(bodies.JOB_FILE)]
TEXT = {"content": {"application/toml": {"schema": {"type": "string"}}}}


@router.get("/jobs", responses=refusals())
def all_jobs(shop: Shop) -> list[JobTold]:
    """All jobs, the one last told of first."""
    return [job_told(line.job, stands_in_line(shop.store, line)) for line in shop.store.jobs()]


@router.post("/jobs", status_code=201, responses=refusals(409, 413, 415), openapi_extra=takes("JobFile"))
def new_job(shop: Shop, told: ToldFile) -> StateTold:
    """Begin a job from its job file."""
    made = start_job(shop.store, told.text, JOB_FILE, told.telling())
    return state_told(made.job, stands(shop.store, made.job))


@router.get("/jobs/{job}", responses=refusals(404))
def one_job(job: JobId, now: Stands) -> StateTold:
    """Where a job stands: its stages, what they wait for, and the latest figures."""
    return state_told(job, now)


@router.get("/jobs/{job}/job-file", response_class=Response, responses={200: TEXT, **refusals(404)})
def job_file(shop: Shop, now: Stands) -> Response:
    """The text of the latest job file."""
    return Response(job_text(shop.store, now).encode(), media_type="application/toml")


@router.post(
    "/jobs/{job}/job-file",
    status_code=201,
    responses=refusals(404, 409, 413, 415),
    openapi_extra=takes("JobFile"),
)
def another_job_file(shop: Shop, job: JobId, told: ToldFile) -> EventTold:
    """Another job file for a job; the earlier ones stay in the record."""
    return new_event_told(change_job_file(shop.store, job, told.text, JOB_FILE, told.telling()))
