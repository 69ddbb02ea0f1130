"""Pairing devices with the shop, and ending them."""

from __future__ import annotations

from math import ceil
from typing import Annotated, Any, cast

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from markupsafe import Markup
from starlette.exceptions import HTTPException

from axlewright.errors import Fault, OutputError
from axlewright.web.door.door import token_cookie
from axlewright.web.door.open_door import OpenDoor
from axlewright.web.door.opening import damaged_words
from axlewright.web.door.qr import qr_svg
from axlewright.web.door.telling import connection_words
from axlewright.web.pages.people import A_YEAR
from axlewright.web.rendering import page

router = APIRouter(include_in_schema=False)

KEPT = 5 * A_YEAR
"""How long a device stays paired [s]; browsers shorten it as they like."""


def door_of(request: Request) -> OpenDoor | None:
    """The door of the shop a request belongs to; none where only this machine is listened to."""
    return cast("OpenDoor | None", request.app.state.door)


@router.get("/devices")
def devices(request: Request) -> HTMLResponse:
    """The paired devices and a code for the next; one is made where none is alive."""
    door = door_of(request)
    if door is not None and door.codes.alive() is None:
        door.codes.fresh()
    return page(request, "devices.html", **_told(door))


@router.get("/devices/now")
def devices_now(request: Request) -> HTMLResponse:
    """What changes on the page by itself; makes no code, so that an open page does not keep the door ajar."""
    return page(request, "devices_now.html", **_told(_needed(request)))


@router.post("/devices/code")
def another_code(request: Request) -> Response:
    """A new code instead of the one before."""
    _needed(request).codes.fresh()
    return RedirectResponse("/devices", 303)


@router.post("/devices/{device}/end")
def end(request: Request, device: str) -> Response:
    """End a device."""
    door = _needed(request)
    try:
        door.devices.end(device)
    except OSError as error:
        raise OutputError(_not_written(door, error, "the device is still paired")) from error
    return RedirectResponse("/devices", 303)


@router.get("/pair")
def pairing(request: Request) -> HTMLResponse:
    """Where a device is paired, seen on that device."""
    return page(request, "pair.html", fault="", name="", secure=_needed(request).secure)


@router.post("/pair")
def pair(request: Request, code: Annotated[str, Form()] = "", name: Annotated[str, Form()] = "") -> Response:
    """Pair the device that asks, if the code is the one that this machine shows."""
    door = _needed(request)
    address = request.client.host if request.client else ""
    if not door.codes.try_code(code, address):
        return _not_paired(request, door, name)
    cookie = token_cookie(request.url.scheme == "https")
    before = door.devices.of_token(request.cookies.get(cookie, ""))
    try:
        token = door.devices.pair(name)
        if before is not None:
            door.devices.end(before.id)
    except OSError as error:
        raise OutputError(_not_written(door, error, "the device is not paired")) from error
    answer = RedirectResponse("/", 303)
    secure = request.url.scheme == "https"
    answer.set_cookie(cookie, token, max_age=KEPT, httponly=True, samesite="strict", secure=secure)
    return answer


def _not_paired(request: Request, door: OpenDoor, name: str) -> Response:
    """The form again. A wrong code, one used before and one too old are told apart to nobody."""
    wait = ceil(door.codes.wait().total_seconds())
    if not wait:
        fault = "This code pairs nothing: mistyped, used already, or older than 10 minutes."
        return page(request, "pair.html", 422, fault=fault, name=name[:60], secure=door.secure)
    minutes = ceil(wait / 60)
    fault = f"Too many wrong codes. Nobody can pair for {minutes} minute{'' if minutes == 1 else 's'}."
    answer = page(request, "pair.html", 429, fault=fault, name=name[:60], secure=door.secure)
    answer.headers["retry-after"] = str(wait)
    return answer


def _told(door: OpenDoor | None) -> dict[str, Any]:
    """What the page of the devices shows."""
    if door is None:
        return {"door": None}
    code = door.codes.alive()
    best = door.addresses[0] if door.addresses else ""
    return {
        "door": door,
        "code": code,
        "qr": Markup(qr_svg(f"{best}/pair#{code.text}")) if code and best else "",
        "paired": door.devices.all(),
        "damaged": damaged_words(door) if door.devices.damaged else "",
        "wait": ceil(door.codes.wait().total_seconds() / 60),
        "connection": connection_words(door.secure),
    }


def _needed(request: Request) -> OpenDoor:
    door = door_of(request)
    if door is None:
        raise HTTPException(404)
    return door


def _not_written(door: OpenDoor, error: OSError, so: str) -> Fault:
    allowed = f"cannot be written ({error.strerror}); {so}"
    return Fault("devices", str(door.devices.file), allowed, "Make room on the disk, or see to its rights.")
