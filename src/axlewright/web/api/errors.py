"""What goes wrong, in one shape for every answer: a list of faults."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse
from pydantic import BaseModel
from starlette.exceptions import HTTPException
from starlette.routing import Match

from axlewright.errors import AxlewrightError, Fault
from axlewright.web.errors_told import Refused, status_of

MOST_TOLD = 20
"""So many faults are told of one request."""

REMEDY = "Put it right and send it again; /api/openapi.json describes what is allowed."
_SAYS = {
    404: Fault("address", "", "leads to nothing here", "See /api/openapi.json."),
    405: Fault("address", "", "is not one that takes this method", "See /api/openapi.json."),
}


class FaultTold(BaseModel):
    """One thing that is wrong: where, what was found there, what is allowed, and what to do."""

    where: str
    value: str
    allowed: str
    remedy: str


class Faults(BaseModel):
    """Why a request was refused."""

    faults: list[FaultTold]


_MEANS = {
    403: "Not asked by the shop's own address, or sent by a page of another site",
    404: "Not in the record",
    409: "Signed off and no reason given, or the key was used for something else; nothing was written",
    413: "Larger than is taken",
    415: "Not of a type that is taken here",
    422: "Not as described here, or it does not fit what the record has; nothing was written",
    503: "The record cannot be read or written now",
}
ALWAYS = (403, 422, 503)


def refusals(*statuses: int) -> dict[int | str, dict[str, Any]]:
    """How an operation may refuse, for its description; what any may is added."""
    return {
        status: {"model": Faults, "description": _MEANS[status]} for status in sorted({*statuses, *ALWAYS})
    }


class NotAsDescribed(HTTPException):
    """A request that is not as its description says.

    Args:
        status: of the answer.
        faults: what is wrong.
    """

    def __init__(self, status: int, *faults: Fault) -> None:
        super().__init__(status, "\n".join(str(fault) for fault in faults))
        self.faults = faults


def tell_errors(app: FastAPI) -> None:
    """Have an application tell every error as faults."""
    app.exception_handler(AxlewrightError)(_known)
    app.exception_handler(HTTPException)(_of_http)
    app.exception_handler(RequestValidationError)(_not_understood)


def fault_of(detail: Any) -> Fault:
    """A fault from what pydantic found; the value is left out, it may be long."""
    where = ".".join(str(part) for part in detail["loc"]) or "body"
    message = str(detail["msg"]).removeprefix("Input ").removeprefix("Value ")
    return Fault(where, "", message[:1].lower() + message[1:], REMEDY)


def answer(status: int, faults: Iterable[Fault], headers: Any = None) -> JSONResponse:
    """Faults as an answer."""
    return JSONResponse({"faults": [asdict(fault) for fault in faults]}, status, headers)


async def _known(request: Request, error: Exception) -> JSONResponse:
    assert isinstance(error, AxlewrightError)
    used = any(fault.where == "key" and fault.allowed.startswith("was used") for fault in error.faults)
    return answer(409 if used else status_of(error), error.faults)


async def _of_http(request: Request, error: Exception) -> JSONResponse:
    assert isinstance(error, HTTPException)
    if isinstance(error, NotAsDescribed):
        return answer(error.status_code, error.faults, error.headers)
    plain = Fault("request", "", str(error.detail), REMEDY)
    fault = error.fault if isinstance(error, Refused) else _SAYS.get(error.status_code, plain)
    headers = _allowed(request) if error.status_code == 405 else error.headers
    return answer(error.status_code, (fault,), headers)


def _allowed(request: Request) -> dict[str, str]:
    """All methods that the address takes; each route by itself knows only its own (RFC 9110, 10.2.1)."""
    taken: set[str] = set()
    for route in request.app.state.described:
        if route.matches(request.scope)[0] is not Match.NONE:
            taken |= set(route.methods or ())
    return {"allow": ", ".join(sorted(taken))}


async def _not_understood(request: Request, error: Exception) -> JSONResponse:
    assert isinstance(error, RequestValidationError)
    return answer(422, (fault_of(detail) for detail in error.errors()[:MOST_TOLD]))
