"""The description of the API holds, whatever is sent: nothing breaks, and nothing is answered that is not described."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from typing import Any

import schemathesis
from api_shop import opened_shop
from hypothesis import strategies as st
from schemathesis.config import SchemathesisConfig
from schemathesis.engine import events, from_schema
from starlette.types import ASGIApp

from axlewright.job.demo_jobs import demo_readings, demo_text
from axlewright.record.archive_writing import export_job
from axlewright.tasks.keeping import start_job
from axlewright.tasks.telling import Telling
from axlewright.web.open_shop import OpenShop

ZIP = "application/zip"
EXAMPLES = 6
"""Made-up requests for each operation, beside those that go through its description field by field."""

REFUSED = ["2xx", "404", "409", "422"]
"""What is as described may still not fit the record: a job file in a text, a number of an event, a stage not ready."""


@schemathesis.serializer(ZIP)
def _as_it_is(context: Any, value: Any) -> dict[str, Any]:
    """Archives are sent as they are."""
    return {"data": getattr(value, "data", value)}


def _config(words: dict[str, list[str | int]]) -> SchemathesisConfig:
    """How requests are made up: the same ones each time, and mostly about what is in the record."""
    return SchemathesisConfig.from_dict(
        {
            "seed": 1,
            "dictionaries": {name.replace(".", "_"): {"values": values} for name, values in words.items()},
            "parameters": {
                name: {"dictionary": name.replace(".", "_"), "probability": 0.7} for name in words
            },
            "generation": {"max-examples": EXAMPLES, "deterministic": True, "database": "none"},
            "checks": {"positive_data_acceptance": {"expected-statuses": REFUSED}},
        }
    )


def _schema(shop: OpenShop, app: ASGIApp) -> Any:
    job = start_job(shop.store, demo_text("truss-only"), "demo", Telling("Ann", "first")).job
    work = shop.work.ask(job, "plan", {}, Telling("Ann")).id
    document = shop.store.events(job)[0].documents[0]
    archive = export_job(shop.store, job)
    cut = st.integers(0, len(archive)).map(lambda end: archive[:end])
    schemathesis.openapi.media_type(ZIP, st.one_of(st.binary(), st.just(archive), cut))
    texts = [demo_text("truss-only"), demo_text("rescue-truck"), demo_readings("rescue-truck", "before")]
    words: dict[str, list[str | int]] = {
        "path.job": [job],
        "path.work": [work],
        "path.digest": [document.digest],
        "path.number": [1, 2, 3],
        "body.text": [*texts],
        "body.hold_point": ["baseline", "ready for the arc"],
    }
    return schemathesis.openapi.from_asgi("/api/openapi.json", app, config=_config(words))


def test_the_description_holds(tmp_path: Path) -> None:
    """No request breaks the API, and every answer is of a status, type and form that its description names."""
    wrong: list[str] = []
    answered: Counter[int] = Counter()
    with opened_shop(tmp_path) as (shop, app):
        for event in from_schema(_schema(shop, app)).execute():
            if isinstance(event, events.NonFatalError):
                wrong.append(f"{event.label}: {event.value}")
            elif isinstance(event, events.FatalError):
                raise event.exception
            elif isinstance(event, events.ScenarioFinished):
                told = event.recorder
                answered.update(i.response.status_code for i in told.interactions.values() if i.response)
                failed = (check for checks in told.checks.values() for check in checks if check.failure_info)
                wrong += [f"{told.label}: {check.name}: {check.failure_info.failure}" for check in failed]
        assert not list(tmp_path.glob("broke/*"))
        assert shop.store.verify() == ()
    assert not wrong, "\n\n".join(sorted(set(wrong))[:5])
    # What must have been tried for this to mean anything.
    assert answered[200] > 60 and answered[201] > 50 and answered[202] > 5 and answered[422] > 500
    assert {404, 405, 409, 415} <= set(answered)
