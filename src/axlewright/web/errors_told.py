"""What goes wrong, in plain words: as a page, as a part for the page that asked, or as JSON under /api."""

from __future__ import annotations

import logging
import tempfile
import traceback
from dataclasses import asdict
from pathlib import Path
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, Response
from starlette.exceptions import HTTPException
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from axlewright.errors import (
    AxlewrightError,
    DamagedRecordError,
    Fault,
    NotInRecordError,
    OutputError,
    SignedOffError,
)
from axlewright.web.rendering import page

HEADINGS = {
    401: "This device is not paired",
    403: "This is not let through",
    404: "There is no such page",
    405: "This cannot be done here",
    409: "This was signed",
    413: "This is too large",
    422: "This does not work yet",
    500: "Something broke inside axlewright",
    503: "The record cannot be used now",
}
SAYS = {
    404: Fault("address", "", "leads to nothing in this shop", "Go back, or choose a job from the list."),
    405: Fault("address", "", "is not one that takes this", "Go back and use the buttons of the page."),
}
"""How the record says that a job, an event or a document is unknown."""

log = logging.getLogger(__name__)


class Refused(HTTPException):
    """A request that is not let through, from deep within receiving it."""

    def __init__(self, status: int, fault: Fault) -> None:
        super().__init__(status, str(fault))
        self.fault = fault


def tell_errors(app: FastAPI) -> None:
    """Have an application tell its errors in plain words."""
    app.exception_handler(SignedOffError)(_signed_off)
    app.exception_handler(AxlewrightError)(_known)
    app.exception_handler(HTTPException)(_of_http)
    app.exception_handler(RequestValidationError)(_not_understood)


def refusal(scope: Scope, status: int, fault: Fault) -> Response:
    """The answer to a request that is not let through."""
    return told(Request(scope), status, (fault,))


def told(request: Request, status: int, faults: tuple[Fault, ...], **more: Any) -> Response:
    """Faults, in the form that who asked can show."""
    if request.url.path.startswith("/api/"):
        return JSONResponse({"faults": [asdict(fault) for fault in faults]}, status)
    template = "_faults.html" if request.headers.get("hx-request") else "error.html"
    heading = HEADINGS.get(status, "Not as it should be")
    return page(request, template, status, heading=heading, faults=faults, **more)


def status_of(error: AxlewrightError) -> int:
    """The HTTP status that suits an error."""
    if isinstance(error, SignedOffError):
        return 409
    if isinstance(error, DamagedRecordError | OutputError):
        return 503
    return 404 if isinstance(error, NotInRecordError) else 422


async def _known(request: Request, error: Exception) -> Response:
    assert isinstance(error, AxlewrightError)
    return told(request, status_of(error), error.faults)


async def _signed_off(request: Request, error: Exception) -> Response:
    """Ask for the reason: what the form held comes back with it, to be sent to the same address once more."""
    assert isinstance(error, AxlewrightError)
    if request.url.path.startswith("/api/"):
        return told(request, 409, error.faults)
    form = await request.form()
    texts = [
        (name, value) for name, value in form.multi_items() if isinstance(value, str) and name != "reason"
    ]
    files = [name for name, value in form.multi_items() if not isinstance(value, str)]
    again = "_signed_off.html" if request.headers.get("hx-request") else "signed_off.html"
    told_so = {"heading": HEADINGS[409], "faults": error.faults, "texts": texts, "files": files}
    return page(request, again, 409, **told_so)


async def _of_http(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    plain = Fault("request", "", str(error.detail), "Go back and try again.")
    fault = error.fault if isinstance(error, Refused) else SAYS.get(error.status_code, plain)
    answer = told(request, error.status_code, (fault,))
    answer.headers.update(error.headers or {})
    return answer


async def _not_understood(request: Request, error: Exception) -> Response:
    assert isinstance(error, RequestValidationError)
    faults = (
        Fault(str(one["loc"][-1]), "", str(one["msg"]), "Put it right and send it again.")
        for one in error.errors()[:20]
    )
    return told(request, 422, tuple(faults))


class Breakdowns:
    """Outermost: whatever broke is written to a file in the data folder, and the page names it.

    Args:
        app: what is asked.
        data: folder of the shop's data.
    """

    def __init__(self, app: ASGIApp, data: Path) -> None:
        self.app, self.data = app, data

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, and answer where nothing else did."""
        begun = False

        async def sending(message: Message) -> None:
            nonlocal begun
            begun = begun or message["type"] == "http.response.start"
            await send(message)

        try:
            await self.app(scope, receive, sending)
        except Exception as error:
            kept = keep_trace(self.data, error)
            log.error("Something broke; what happened is written in %s", kept)
            if scope["type"] != "http" or begun:
                raise
            remedy = f"What happened is written in {kept}; please send that file with what you were doing."
            fault = Fault(
                "axlewright", "", "met something it was not made for; the record is as it was", remedy
            )
            await refusal(scope, 500, fault)(scope, receive, sending)


def keep_trace(data: Path, error: Exception) -> Path:
    """The file that says what broke: in the data folder, or where that cannot be written to, with temporary files."""
    text = "".join(traceback.format_exception(error))
    for folder in (data / "broke", Path(tempfile.gettempdir())):
        try:
            folder.mkdir(parents=True, exist_ok=True)
            with tempfile.NamedTemporaryFile(
                "w", prefix="broke-", suffix=".txt", dir=folder, delete=False, encoding="utf-8"
            ) as file:
                file.write(text)
        except OSError:
            continue
        return Path(file.name)
    return data
