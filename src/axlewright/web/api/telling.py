"""What is told most often, without the ceremony of an event: readings, signatures, stages, taking something back."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter

from axlewright.tasks.keeping import say_stage, sign, withdraw
from axlewright.web.api import bodies
from axlewright.web.api.answers import EventTold, ReadingsTold, new_event_told
from axlewright.web.api.appending import write_readings
from axlewright.web.api.bodies import read_as, takes
from axlewright.web.api.errors import refusals
from axlewright.web.api.parameters import EventNumber, JobId, Shop

router = APIRouter(tags=["telling"])
REFUSALS = refusals(404, 409, 413, 415)


@router.post("/jobs/{job}/readings", status_code=201, responses=REFUSALS, openapi_extra=takes("Readings"))
def tell_readings(
    shop: Shop, job: JobId, told: Annotated[bodies.Readings, read_as(bodies.READINGS)]
) -> ReadingsTold:
    """Write straightness readings down; lines that cannot be used are told and left out of every figure."""
    event, faults = write_readings(shop.store, job, told.set, told.text, told.telling(told.amends))
    return ReadingsTold(event=new_event_told(event), faults=[str(fault) for fault in faults])


@router.post("/jobs/{job}/sign-offs", status_code=201, responses=REFUSALS, openapi_extra=takes("Signature"))
def sign_hold_point(
    shop: Shop, job: JobId, told: Annotated[bodies.Signature, read_as(bodies.SIGNATURE)]
) -> EventTold:
    """Sign a hold point on what the record has now."""
    return new_event_told(
        sign(shop.store, job, told.hold_point, tuple(told.found), told.telling(), told.note)
    )


@router.post("/jobs/{job}/stages", status_code=201, responses=REFUSALS, openapi_extra=takes("StageSaid"))
def tell_stage(
    shop: Shop, job: JobId, told: Annotated[bodies.StageSaid, read_as(bodies.STAGE_SAID)]
) -> EventTold:
    """Say that a stage is done, or taken up again."""
    return new_event_told(say_stage(shop.store, job, told.stage, told.done, told.telling(), told.note))


@router.post(
    "/jobs/{job}/events/{number}/withdrawal",
    status_code=201,
    responses=REFUSALS,
    openapi_extra=takes("Withdrawn"),
)
def take_back(
    shop: Shop, job: JobId, number: EventNumber, told: Annotated[bodies.Withdrawn, read_as(bodies.WITHDRAWN)]
) -> EventTold:
    """Take an event back; taking a withdrawal back lets its event count again."""
    return new_event_told(withdraw(shop.store, job, number, told.words, told.telling()))
