"""Asked before everything else: whether the device that asks may come in.

Nothing of a request is believed here but the two ends of its connection and the device's token. Whatever a page is
called, also one that is added later, it is behind the door; only what the pairing page itself needs is in front of it.
"""

from __future__ import annotations

import asyncio
from contextlib import suppress
from ipaddress import IPv4Address, IPv6Address, ip_address, ip_network

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import Headers
from starlette.requests import cookie_parser
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from axlewright.errors import Fault
from axlewright.web.door.devices import Device
from axlewright.web.door.open_door import OpenDoor
from axlewright.web.errors_told import refusal
from axlewright.web.guard import THIS_MACHINE, without_port
from axlewright.web.rendering import STATIC

PAIRING = "/pair"
ONLY_HERE = "/devices"
"""Where devices are paired and ended: only this machine gets there, no device."""

IN_FRONT = frozenset(
    {
        PAIRING,
        # Browsers fetch these two without the token. They are the same for everybody.
        "/offline",
        "/static/shop.webmanifest",
        "/static/shop.css",
        "/static/pair.js",
        *(f"/static/icons/{icon.name}" for icon in (STATIC / "icons").iterdir()),
    }
)
"""What unpaired devices get: the pairing page and what it needs. Exact addresses: nothing slips in beside them."""

LOOKED_AT_EVERY = 1.0
"""How soon a stream ends after its device was ended [s]."""

Address = IPv4Address | IPv6Address


def token_cookie(secure: bool) -> str:
    """Name of the cookie with the token; by HTTPS one that browsers take only from this very host, over HTTPS."""
    return "__Host-device" if secure else "device"


class Door:
    """Lets a request in if this machine itself asks, or a paired device.

    Args:
        app: what is asked then.
        door: who was paired.
    """

    def __init__(self, app: ASGIApp, door: OpenDoor) -> None:
        self.app, self.door = app, door

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request in, or answer it here."""
        if scope["type"] != "http":
            if scope["type"] == "websocket":
                await send({"type": "websocket.close", "code": 1008})
            return
        if from_this_machine(scope):
            await self.app(scope, receive, send)
            return
        device = self._device(scope) if _of_this_network(scope) else None
        answer = _refused(scope, device)
        if answer is not None:
            await answer(scope, receive, send)
        elif device is None:
            await self.app(scope, receive, send)
        else:
            await run_in_threadpool(self.door.devices.note_seen, device)
            await self._while_paired(device, scope, receive, send)

    def _device(self, scope: Scope) -> Device | None:
        secure = scope.get("scheme") == "https"
        cookies = cookie_parser(Headers(scope=scope).get("cookie", ""))
        token = cookies.get(token_cookie(secure))
        return self.door.devices.of_token(token) if token else None

    async def _while_paired(self, device: Device, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on; its answer stops in the middle where the device is ended meanwhile."""
        begun = False

        async def sending(message: Message) -> None:
            nonlocal begun
            begun = begun or message["type"] == "http.response.start"
            await send(message)

        asking = asyncio.ensure_future(self.app(scope, receive, sending))
        try:
            while not asking.done():
                await asyncio.wait({asking}, timeout=LOOKED_AT_EVERY)
                if not asking.done() and begun and not self.door.devices.knows(device):
                    asking.cancel()
                    with suppress(asyncio.CancelledError):
                        await asking
                    # Where a length was promised, the server closes the connection instead.
                    with suppress(Exception):
                        await send({"type": "http.response.body", "body": b"", "more_body": False})
                    return
        finally:
            if not asking.done():
                asking.cancel()
        await asking


def from_this_machine(scope: Scope) -> bool:
    """Whether a program on this machine asks, by the connection, for one of the names of this machine.

    The name counts besides: a page from elsewhere could be given a name of the local network that leads to this
    machine's own address, and would then come in as this machine.
    """
    address = _address(scope.get("client"))
    host = without_port(Headers(scope=scope).get("host", ""))
    return address is not None and address.is_loopback and host in THIS_MACHINE


def _of_this_network(scope: Scope) -> bool:
    """Whether a device is of the local network: by a private address, or by the first 64 bits of ours."""
    client, ours = _address(scope.get("client")), _address(scope.get("server"))
    if client is None:
        return False
    if client.is_private or client.is_link_local:
        return True
    if isinstance(client, IPv6Address) and isinstance(ours, IPv6Address):
        return client in ip_network((int(ours), 64), strict=False)
    return False


def _address(end: tuple[str, int | None] | None) -> Address | None:
    """Address of an end of a connection; an IPv4 address in IPv6 clothes as the IPv4 address it is."""
    try:
        address = ip_address(end[0] if end else "")
    except ValueError:
        return None
    mapped = address.ipv4_mapped if isinstance(address, IPv6Address) else None
    return mapped or address


def _refused(scope: Scope, device: Device | None) -> Response | None:
    """The answer of the door itself, or nothing where the request goes on."""
    path = scope["path"]
    if not _of_this_network(scope):
        elsewhere = Fault("device", "", "is not of the local network", "Join the shop's own network.")
        return refusal(scope, 403, elsewhere)
    if path == ONLY_HERE or path.startswith(f"{ONLY_HERE}/"):
        here = Fault(
            "devices", "", "are paired and ended on the shop's computer only", "Open the page there."
        )
        return refusal(scope, 403, here)
    return _unpaired(scope) if device is None and path not in IN_FRONT else None


def _unpaired(scope: Scope) -> Response:
    headers = Headers(scope=scope)
    part = "hx-request" in headers
    shows_pages = "text/html" in headers.get("accept", "") and not scope["path"].startswith("/api")
    if scope["method"] in ("GET", "HEAD") and shows_pages and not part:
        return RedirectResponse(PAIRING, 303)
    remedy = "Pair it: open the shop's address with /pair at its end, and type the code that the shop's computer shows."
    answer = refusal(scope, 401, Fault("device", "", "is not paired with this shop", remedy))
    answer.headers["www-authenticate"] = "Device"
    if part:
        # The page that asked was shown while the device was still paired.
        answer.headers["hx-redirect"] = PAIRING
    return answer
