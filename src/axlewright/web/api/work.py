"""Long work: to ask for, to follow, to stop. Its result is an event of the job."""

from __future__ import annotations

from typing import Annotated, Any, cast

from fastapi import APIRouter, Path

from axlewright.errors import Fault, NotInRecordError
from axlewright.web.api import bodies
from axlewright.web.api.answers import WorkTold, work_told
from axlewright.web.api.bodies import read_as, takes
from axlewright.web.api.errors import refusals
from axlewright.web.api.kinds import WORK, Work
from axlewright.web.api.parameters import JobId, Shop, Stands
from axlewright.web.open_shop import OpenShop
from axlewright.web.work.asking import Progress, WorkKind

router = APIRouter(tags=["work"])

WorkId = Annotated[str, Path(pattern="^[0-9A-Za-z_-]{1,64}$", description="The piece of work.")]


@router.get("/jobs/{job}/long-work", responses=refusals(404))
def of_job(shop: Shop, job: JobId, now: Stands) -> list[WorkTold]:
    """The work of a job that runs, or ended since the shop was opened, the latest first."""
    return [work_told(one) for one in shop.work.of_job(job)]


@router.post(
    "/jobs/{job}/long-work",
    status_code=202,
    responses=refusals(404, 409, 413, 415),
    openapi_extra=takes("Work"),
)
def ask(shop: Shop, job: JobId, told: Annotated[Work, read_as(WORK)]) -> WorkTold:
    """Begin a piece of work; where the same is under way for the job, that one is answered."""
    options: dict[str, Any] = told.options.model_dump(exclude_unset=True)
    return work_told(shop.work.ask(job, cast(WorkKind, told.kind), options, told.telling()))


@router.get("/long-work/{work}", responses=refusals(404))
def progress(shop: Shop, work: WorkId) -> WorkTold:
    """How far a piece of work is."""
    return work_told(_known(shop, work))


@router.post("/long-work/{work}/stop", responses=refusals(404, 413, 415), openapi_extra=takes("Stop"))
def stop(shop: Shop, work: WorkId, told: Annotated[bodies.Stop, read_as(bodies.STOP)]) -> WorkTold:
    """Stop a piece of work; what has ended is left as it is."""
    _known(shop, work)
    shop.work.stop(work, told.keep)
    return work_told(_known(shop, work))


def _known(shop: OpenShop, work: str) -> Progress:
    found = shop.work.progress(work)
    if found is None:
        raise NotInRecordError(
            Fault("work", repr(work), "is not in the record", "Ask for the work of the job.")
        )
    return found
