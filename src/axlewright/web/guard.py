"""What every request must show and every answer carries, before any page is asked."""

from __future__ import annotations

from collections.abc import Iterable
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from axlewright.errors import Fault
from axlewright.web.errors_told import Refused, refusal

CONTENT_SECURITY = (
    "default-src 'self'; img-src 'self' data: blob:; object-src 'none'; frame-ancestors 'none'; "
    "base-uri 'none'; form-action 'self'"
)
CARRIED = {
    "content-security-policy": CONTENT_SECURITY,
    "x-content-type-options": "nosniff",
    # Not "no-referrer": with that, browsers send "Origin: null" with our own forms.
    "referrer-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cache-control": "private, no-cache",
}
THIS_MACHINE = frozenset({"localhost", "127.0.0.1", "[::1]"})
"""Names by which a browser on this machine asks for the shop."""

READS = frozenset({"GET", "HEAD", "OPTIONS"})
LARGEST = 25_000_000
"""Longest body of a request [bytes]: a photograph of 20 MB and the form around it."""

LARGEST_ARCHIVE = 510_000_000
"""Longest body where a job's archive, with its pictures, is taken in [bytes]."""

LARGEST_PAIRING = 4_000
"""Longest body where a device is paired [bytes]: anybody on the network may send one."""

TAKES_ARCHIVES = frozenset({"/jobs/take-in", "/api/archives"})


class Guard:
    """Lets a request through if it is meant for this shop and sent by its own pages.

    Args:
        app: what is asked then.
        hosts: names the shop may be asked by. Any other means that a page from elsewhere was given a name that leads
            here (DNS rebinding).
        own_address: whether it may also be asked by the address that the connection came to. No name is looked up for
            an address, so none can have been given; and a computer's addresses change while the shop is open.
    """

    def __init__(self, app: ASGIApp, hosts: Iterable[str] = THIS_MACHINE, own_address: bool = False) -> None:
        self.app, self.own_address = app, own_address
        self.hosts = frozenset(hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Check a request, and send what it gets with the headers that every answer carries."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        carrying = _carrying(send)
        fault = self._fault(scope)
        if fault is not None:
            await refusal(scope, *fault)(scope, receive, carrying)
            return
        await self.app(scope, _counted(receive, _largest(scope)), carrying)

    def _fault(self, scope: Scope) -> tuple[int, Fault] | None:
        headers = Headers(scope=scope)
        host = headers.get("host", "")
        if without_port(host) not in self.hosts and not (self.own_address and _at_address(scope, host)):
            allowed = f"must be {', '.join(sorted(self.hosts))}"
            return 403, Fault(
                "address", repr(host[:100]), allowed, "Use the address the shop printed at its start."
            )
        if scope["method"] not in READS and not _from_our_pages(headers, host):
            return 403, Fault(
                "request", "", "came from a page of another site", "Open the shop's own page and do it there."
            )
        length = headers.get("content-length", "0")
        if length.isdecimal() and int(length) > _largest(scope):
            return 413, _too_long(_largest(scope))
        return None


def without_port(host: str) -> str:
    """The name in a `host` header, in small letters."""
    name, colon, port = host.rpartition(":")
    return (name if colon and port.isdecimal() else host).lower()


def _at_address(scope: Scope, host: str) -> bool:
    """Whether the host is given as the very address that the connection came to."""
    ours = scope.get("server")
    return ours is not None and without_port(host) in (ours[0], f"[{ours[0]}]")


def _from_our_pages(headers: Headers, host: str) -> bool:
    """Whether a browser says that one of our own pages asks; without a browser, no page can have been tricked."""
    if headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
        return False
    for name in ("origin", "referer"):
        value = headers.get(name)
        if value is not None:
            return urlsplit(value).netloc.lower() == host.lower()
    return True


def _largest(scope: Scope) -> int:
    if scope["path"] == "/pair":
        return LARGEST_PAIRING
    return LARGEST_ARCHIVE if scope["path"] in TAKES_ARCHIVES else LARGEST


def _too_long(largest: int) -> Fault:
    most = f"{largest // 1_000_000} MB" if largest >= 1_000_000 else f"{largest} bytes"
    allowed = f"must have at most {most}"
    return Fault("what was sent", "", allowed, "Send a smaller file.")


def _counted(receive: Receive, largest: int) -> Receive:
    """Receiving that stops where more comes than was announced or is allowed."""
    seen = 0

    async def receiving() -> Message:
        nonlocal seen
        message = await receive()
        seen += len(message.get("body", b""))
        if seen > largest:
            raise Refused(413, _too_long(largest))
        return message

    return receiving


def _carrying(send: Send) -> Send:
    """Sending with the headers every answer carries; a page's own are left as they are."""

    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in CARRIED.items():
                headers.setdefault(name, value)
        await send(message)

    return sending
