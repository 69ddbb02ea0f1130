"""Parameters in the address that several routes share."""

from __future__ import annotations

from typing import Annotated

from fastapi import Depends, Path, Request

from axlewright.record.state import State
from axlewright.tasks.standing import stands
from axlewright.web.api.bodies import LARGEST_NUMBER
from axlewright.web.open_shop import OpenShop, shop_of

Shop = Annotated[OpenShop, Depends(shop_of)]
JobId = Annotated[
    str, Path(pattern="^[0-9A-Za-z_-]{1,32}$", description="The job, as the list of jobs names it.")
]
EventNumber = Annotated[int, Path(ge=1, le=LARGEST_NUMBER, description="Number of an event of the job.")]


def job_stands(request: Request, job: JobId) -> State:
    """Where the job in the address stands.

    Raises:
        RecordError: there is no such job.
    """
    return stands(shop_of(request).store, job)


Stands = Annotated[State, Depends(job_stands)]
