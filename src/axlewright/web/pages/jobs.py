"""The list of jobs: which one needs me?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse

from axlewright.record.events import JobLine
from axlewright.record.stages import stages
from axlewright.record.state import State
from axlewright.record.store import Store
from axlewright.tasks.standing import stands_in_line
from axlewright.web.open_shop import shop_of
from axlewright.web.rendering import page as shown

router = APIRouter(include_in_schema=False)

ON_A_PAGE = 24
MANY = 6
"""From how many jobs on they can be searched."""


@dataclass(frozen=True)
class Listed:
    """A job as the list shows it.

    Args:
        line: the job and its last event.
        state: where it stands.
    """

    line: JobLine
    state: State

    @property
    def place(self) -> int:
        """Place of its stage in the line, from 1."""
        return 1 + [stage.plan.name for stage in self.state.stages].index(self.state.stage.plan.name)


@router.get("/")
def job_list(
    request: Request,
    find: Annotated[str, Query(max_length=200)] = "",
    stage: Annotated[str, Query(max_length=40)] = "",
    page: Annotated[int, Query(ge=1, le=100_000)] = 1,
) -> HTMLResponse:
    """All jobs, or those that are searched for."""
    store = shop_of(request).store
    lines = store.jobs()
    found = [line for line in lines if _suits(line, find)]
    listed = [Listed(line, stands_in_line(store, line)) for line in found] if stage else None
    if listed is not None:
        listed = [each for each in listed if _in_stage(each.state, stage)]
    count = len(found) if listed is None else len(listed)
    pages = max(1, -(-count // ON_A_PAGE))
    page = min(page, pages)
    told: dict[str, Any] = {
        "jobs": _page_of(store, found, listed, page),
        "all": len(lines),
        "found": count,
        "many": len(lines) >= MANY,
        "find": find,
        "stage": stage,
        "stages": [each.name for each in stages()],
        "at": page,
        "pages": pages,
    }
    return shown(request, "jobs.html", **told)


def _page_of(store: Store, found: list[JobLine], listed: list[Listed] | None, page: int) -> list[Listed]:
    """The jobs of one page; only these are looked into, unless all had to be."""
    part = slice((page - 1) * ON_A_PAGE, page * ON_A_PAGE)
    if listed is not None:
        return listed[part]
    return [Listed(line, stands_in_line(store, line)) for line in found[part]]


def _suits(line: JobLine, find: str) -> bool:
    told = f"{line.name} {line.reference}".casefold()
    return all(word in told for word in find.casefold().split())


def _in_stage(state: State, stage: str) -> bool:
    return state.finished if stage == "finished" else not state.finished and state.stage.plan.name == stage
