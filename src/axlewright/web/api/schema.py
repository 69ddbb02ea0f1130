"""The description of the API: what FastAPI finds, and the bodies that are read strictly."""

from __future__ import annotations

from typing import Any

from fastapi import FastAPI
from fastapi.openapi.utils import get_openapi
from pydantic import TypeAdapter

from axlewright.web.api import bodies
from axlewright.web.api.kinds import NEW_EVENT, WORK

TAKEN: dict[str, TypeAdapter[Any]] = {
    "JobFile": bodies.JOB_FILE,
    "NewEvent": NEW_EVENT,
    "Readings": bodies.READINGS,
    "Signature": bodies.SIGNATURE,
    "StageSaid": bodies.STAGE_SAID,
    "Stop": bodies.STOP,
    "Withdrawn": bodies.WITHDRAWN,
    "Work": WORK,
}
"""What requests may tell, by its name in the description."""

_REFERENCE = "#/components/schemas/{model}"


def describe(app: FastAPI) -> None:
    """Have an application describe itself with these bodies."""

    def openapi() -> dict[str, Any]:
        if not app.openapi_schema:
            app.openapi_schema = _described(app)
        return app.openapi_schema

    app.openapi = openapi  # type: ignore[method-assign]


def _described(app: FastAPI) -> dict[str, Any]:
    found = get_openapi(
        title=app.title,
        version=app.version,
        description=app.description,
        routes=app.routes,
        # The address as it is seen from outside.
        servers=[{"url": "/api"}],
    )
    schemas = found["components"]["schemas"]
    for name, adapter in TAKEN.items():
        described = adapter.json_schema(ref_template=_REFERENCE)
        for part, schema in described.pop("$defs", {}).items():
            schemas.setdefault(part, schema)
        schemas[name] = described
    return found
