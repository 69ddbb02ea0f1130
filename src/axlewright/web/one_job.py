"""The job a page is about."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from fastapi import Request
from fastapi.responses import HTMLResponse

from axlewright.record.events import Event
from axlewright.record.state import State
from axlewright.tasks.standing import stands
from axlewright.web.open_shop import shop_of
from axlewright.web.rendering import page


@dataclass(frozen=True)
class OneJob:
    """A job and where it stands.

    Args:
        job: as the record names it.
        state: where it stands.
    """

    job: str
    state: State

    @property
    def file(self) -> Event | None:
        """The event of its latest job file; None where every one was taken back."""
        return self.state.latest.get("job file")

    @property
    def name(self) -> str:
        """What its job file calls it."""
        return self.file.body["name"] if self.file else "Job without a file"

    @property
    def reference(self) -> str:
        """The shop's own number or word for it, or ""."""
        return self.file.body["reference"] if self.file else ""

    @property
    def last(self) -> Event:
        """The last event of its record."""
        return self.state.events[-1]

    @property
    def title_block(self) -> list[tuple[str, str]]:
        """What stands at the foot of its pages, by `title_block` of the controls."""
        from_end = self.last.digest
        mark = " ".join(from_end[at : at + 4] for at in range(0, 16, 4))
        return [
            ("Job", self.name),
            ("Reference", self.reference or "none"),
            ("Fingerprint of the record", mark),
        ]


def one_job(request: Request, job: str) -> OneJob:
    """The job of that name.

    Raises:
        RecordError: there is none.
    """
    return OneJob(job, stands(shop_of(request).store, job))


def job_page(request: Request, template: str, one: OneJob, status: int = 200, **more: Any) -> HTMLResponse:
    """A page about a job: the template gets one, job, name and state."""
    told = {"one": one, "job": one.job, "name": one.name, "state": one.state, **more}
    return page(request, template, status, **told)
